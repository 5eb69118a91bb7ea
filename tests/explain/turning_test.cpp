// Where something turns, on numbers whose turning point is known; and on runs, against an independent sweep: the same
// run as a script, played by the interpreter with one value after the other.
#include "explain/turning.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "explain/causes.hpp"
#include "report/cause_words.hpp"
#include "support.hpp"

using namespace lanyard::explain;
using namespace lanyard::report;
using namespace lanyard::test;

namespace {

Rational number(const char* text) { return *parse_fraction(text); }

Turning turning(const char* bad, const char* good, const char* at, bool itself, const std::vector<Rational>& written,
                const char* width) {
    const Rational turns = number(at);
    const bool up = number(good) > number(bad);
    int asked = 0;
    const Turning out =
        turning_between(number(bad), number(good), written, ruler_for(number(width), 1, 0), [&](const Rational& x) {
            ++asked;
            return x == turns ? itself : (x > turns) == up;
        });
    CHECK(asked <= 40);
    return out;
}

}  // namespace

TEST_CASE("a written number at which it turns is found, from either side, with itself or without") {
    const std::vector<Rational> written{1, number("4.8"), 5};
    for (const bool up : {true, false}) {
        const char* bad = up ? "0" : "6";
        const char* good = up ? "6" : "0";
        const Turning with = turning(bad, good, "4.8", true, written, "6");
        CHECK(with.holds == number("4.8"));
        CHECK_FALSE(with.just_past);
        const Turning without = turning(bad, good, "4.8", false, written, "6");
        CHECK(without.just_past == number("4.8"));
        CHECK(without.holds == number(up ? "4.801" : "4.799"));
    }
}

TEST_CASE("a short number that nobody has written is found too") {
    CHECK(turning("0", "100", "7.5", true, {}, "100").holds == number("7.5"));
    CHECK(turning("100", "0", "7.5", false, {}, "100").just_past == number("7.5"));
}

TEST_CASE("any other number is rounded to where it holds") {
    CHECK(turning("0", "100", "200/3", true, {}, "100").holds == number("66.7"));
    CHECK(turning("100", "0", "200/3", true, {}, "100").holds == number("66.6"));
    CHECK(turning("0", "9000", "1234.567", true, {}, "9000").holds == 1235);
    CHECK(turning("9000", "0", "1234.567", true, {}, "9000").holds == 1234);
    // Where rounding leads to where `good` was not: as near as was found.
    CHECK(turning("0", "66.68", "200/3", true, {}, "100").holds == number("66.7"));
}

namespace {

// What the run of the script is told, and whether it breaks the claim with each of the values instead of "VALUE".
struct Swept {
    std::vector<std::string> words;
    std::vector<bool> broken;
};
Swept swept(const std::string& text, const std::string& claim, const std::string& script, const std::string& bad,
            const std::vector<std::string>& values) {
    const Model m = model_from(text);
    const ClaimId which = claim_named(m, claim);
    const auto with = [&](const std::string& value) {
        std::string out = script;
        out.replace(out.find("VALUE"), 5, value);
        return scripted(m, out, claim).run;
    };
    Run run = with(bad);
    const Replay all = replay(m, run, m.claims[which].condition, which);
    long scans = 0;
    while (!all.scans[static_cast<std::size_t>(scans++)].violated) continue;
    run = first_scans(run, scans);
    const Causes causes = causes_of(m, run, which);
    check_causes(m, run, which, causes);
    Swept out{cause_sentences(m, run, causes), {}};
    for (const auto& value : values) out.broken.push_back(breaks(m, with(value), which));
    return out;
}

const char* const sensor = R"json({"lanyard": 1, "name": "m", "inputs": {"key": "maintained"},
  "quantities": {"tank": "0 .. 5 V", "other": "0 .. 5 V"},
  "outputs": {"low": "tank < 4.8 V", "at_most": "tank <= 4.8 V", "sum": "tank + other < 5.3 V",
              "third": "3 * tank < 10 V"},
  "claims": {"below": {"always": "NOT (key AND low)"}, "up to": {"always": "NOT (key AND at_most)"},
             "both": {"always": "NOT (key AND sum)"}, "a third": {"always": "NOT (key AND third)"}}})json";

std::string level_script(const std::string& other) {
    return R"json({"changes": [{"at": "0 s", "set": {"tank": "VALUE", "other": ")json" + other +
           R"json(", "key": "on"}}], "until": "1 s"})json";
}

}  // namespace

TEST_CASE("the limit that is told is where the interpreter turns when it sweeps the value") {
    const std::string tank = "tank 1 V at 0.00 s: if it had been ";
    const std::string saved = ", the claim would not be violated";
    const auto told = [&](const Swept& s, const std::string& limit) {
        INFO(s.words.front());
        return std::find(s.words.begin(), s.words.end(), tank + limit + saved) != s.words.end();
    };
    const Swept below = swept(sensor, "below", level_script("0 V"), "1 V", {"4.79 V", "4.799 V", "4.8 V", "4.9 V"});
    CHECK(told(below, "4.8 V"));
    CHECK(below.broken == std::vector<bool>{true, true, false, false});
    const Swept up_to = swept(sensor, "up to", level_script("0 V"), "1 V", {"4.799 V", "4.8 V", "4.801 V"});
    CHECK(told(up_to, "just above 4.8 V"));
    CHECK(up_to.broken == std::vector<bool>{true, true, false});
    const Swept both = swept(sensor, "both", level_script("0.7 V"), "1 V", {"4.599 V", "4.6 V", "4.601 V"});
    CHECK(told(both, "4.6 V"));
    CHECK(both.broken == std::vector<bool>{true, false, false});
    const Swept third = swept(sensor, "a third", level_script("0 V"), "1 V", {"3.333 V", "3.334 V"});
    CHECK(told(third, "3.334 V"));
    CHECK(third.broken == std::vector<bool>{true, false});
}

TEST_CASE("what the claim presupposes is one line, and the reason is looked for beyond it") {
    const std::string cut = R"json({"lanyard": 1, "name": "m", "inputs": {"key": "maintained", "kill": "maintained",
      "a": "maintained", "b": "maintained"}, "outputs": {"inj": "key AND (NOT kill OR a OR b)"},
      "claims": {"cut": {"whenever": "kill AND key", "then": "NOT inj", "within": "50 ms"},
                 "only": {"always": "inj -> a"}}})json";
    const Model m = model_from(cut);
    const auto told = [&](const std::string& claim, const std::string& script) {
        const ClaimId which = claim_named(m, claim);
        const Run run = scripted(m, script, claim).run;
        const Replay all = replay(m, run, m.claims[which].condition, which);
        long scans = 0;
        while (!all.scans[static_cast<std::size_t>(scans++)].violated) continue;
        const Causes causes = causes_of(m, first_scans(run, scans), which);
        check_causes(m, first_scans(run, scans), which, causes);
        return cause_sentences(m, first_scans(run, scans), causes);
    };
    using Words = std::vector<std::string>;
    CHECK(told("cut", R"({"changes": [{"at": "0.1 s", "set": {"key": "on", "a": "on"}},
      {"at": "0.2 s", "set": {"kill": "on"}}], "until": "1 s"})") ==
          Words{"a on at 0.10 s: if it had stayed off, the claim would not be violated",
                "the claim itself presupposes: key on at 0.10 s; kill on at 0.20 s"});
    // Each of two is enough: only the pair explains it.
    CHECK(told("cut", R"({"changes": [{"at": "0.1 s", "set": {"key": "on", "a": "on"}},
      {"at": "0.2 s", "set": {"kill": "on", "b": "on"}}], "until": "1 s"})") ==
          Words{"a on at 0.10 s and b on at 0.20 s: neither alone, but if the first had stayed off and the second had "
                "stayed off, the claim would not be violated",
                "the claim itself presupposes: key on at 0.10 s; kill on at 0.20 s"});
    // The premise is what goes wrong: it does not name the key, which is a cause.
    CHECK(told("only", R"({"changes": [{"at": "0.1 s", "set": {"key": "on"}}], "until": "1 s"})") ==
          Words{"key on at 0.10 s: if it had stayed off, the claim would not be violated"});
}
