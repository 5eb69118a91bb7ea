// What is to be done, as the front of the report says it.
#include "page/summary.hpp"

#include "../models.hpp"

using namespace lanyard::page;
using namespace lanyard::test;

namespace {

// The items, without markup.
std::string items(const Model& m, const std::vector<Verdict>& verdicts) {
    FilmedResults results;
    for (const Verdict& verdict : verdicts) {
        ClaimResult r;
        r.claim = ClaimId(results.size());
        r.verdict = verdict;
        results.emplace_back(m, std::move(r));
    }
    const std::vector<EvidenceMark> evidence;
    const Versions versions;
    std::string out;
    bool markup = false;
    for (const char c : to_do({m, results, evidence, versions})) {
        if (c == '<') markup = true;
        if (!markup) out += c;
        if (c == '>') markup = false;
    }
    return out.substr(out.find_first_not_of('\n'));
}

}  // namespace

TEST_CASE("what may fail and what may only be vacuous are told apart") {
    const Model m = model_of(
        "'inputs': {'key': 'maintained'}, 'outputs': {'lamp': 'key'}, 'claims': {"
        "'one': {'always': 'lamp -> key'}, 'two': {'always': 'lamp -> key'}}");
    const Undecided open{"the work limit was reached", 3};
    const Undecided unbroken{"no violation is possible, but no run was found that exercises it: the time was up", 3,
                             true};
    const std::string two =
        "two: no violation is possible, but no run was found that exercises the claim. Judge again with more time "
        "(--time, --work): until then it may be vacuous. What is known\n";
    CHECK(items(m, {open, open})
              .starts_with("Do not rely on the undecided claims. Judge again with more time (--time, --work): until "
                           "then they may fail. "
                           "What is known\n"));
    CHECK(items(m, {open, unbroken})
              .starts_with(two + "Do not rely on the other undecided claims. Judge again with more time (--time, "
                                 "--work): until then they may "
                                 "fail. What is known\n"));
    CHECK(items(m, {Proved{}, unbroken}).starts_with(two));
    CHECK(items(m, {Proved{}, unbroken}).find("may fail") == std::string::npos);
}
