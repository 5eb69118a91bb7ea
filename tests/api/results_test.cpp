// Verdicts as values: each alternative with its evidence, what is told of a run, what writers make of it.
#include <algorithm>
#include <catch2/catch.hpp>
#include <map>

#include <lanyard/lanyard.hpp>

#include "small_model.hpp"

namespace api = lanyard::api;
namespace test = lanyard::test;

namespace {

const api::Results& results() {
    static const api::Results all = test::checked(test::small_model());
    return all;
}

template <class V>
const V& verdict(const api::Results& r, const std::string& id) {
    for (const auto& c : r.claims)
        if (c.id == id) return std::get<V>(c.verdict);
    throw std::out_of_range(id);
}

bool truth(const api::Run& run, long scan, const std::string& signal) {
    return std::get<bool>(std::get<std::vector<api::Value>>(run.values(scan, {signal})).at(0));
}

}  // namespace

TEST_CASE("a verdict is a type with its evidence") {
    const api::Results& r = results();
    REQUIRE(r.claims.size() == 4);
    CHECK(r.outcome == api::Outcome::failed);
    CHECK_FALSE(r.interrupted);

    const auto& proved = verdict<api::Proved>(r, "follows");
    REQUIRE(proved.certificate);
    CHECK(proved.certificate->rests_on.elements == std::vector<std::string>{"held", "pump"});
    CHECK(proved.certificate->rests_on.unused_elements == std::vector<std::string>{"low"});
    REQUIRE(proved.example);
    CHECK(truth(*proved.example, proved.example->scans() - 1, "pump"));

    const auto& refuted = verdict<api::Refuted>(r, "dark");
    REQUIRE(refuted.run);
    CHECK_FALSE(refuted.certificate);
    CHECK(truth(*refuted.run, refuted.run->scans() - 1, "pump"));
    CHECK(api::run_against(r.claims.at(1).verdict) == &*refuted.run);

    const auto& vacuous = verdict<api::Vacuous>(r, "waits in vain");
    CHECK_FALSE(vacuous.reason.empty());
    CHECK(api::certificate_of(r.claims.at(2).verdict) == &*vacuous.certificate);
    CHECK(r.claims.at(2).line == 9);
}

TEST_CASE("what a limit ends is undecided, with its reason") {
    api::CheckOptions options;
    options.claims = {"low in time"};
    options.limits.work = 1;
    const api::Results r = test::checked(test::small_model(), options);
    REQUIRE(r.claims.size() == 1);
    CHECK(r.outcome == api::Outcome::undecided);
    CHECK_FALSE(std::get<api::Undecided>(r.claims[0].verdict).reason.empty());
}

TEST_CASE("a run is asked scan by scan, and tells its changes") {
    const api::Results& r = results();
    const api::Run& run = *verdict<api::Refuted>(r, "dark").run;
    const auto names = run.signals();
    std::map<std::string, api::Value> now;
    long scan = 0;
    const auto compare = [&] {
        for (const auto& [name, value] : now) {
            const auto asked = run.values(scan, {name});
            const api::Value& there = std::get<std::vector<api::Value>>(asked).at(0);
            REQUIRE(there.index() == value.index());
            if (const auto* number = std::get_if<api::Number>(&value))
                CHECK(std::get<api::Number>(there).exact == number->exact);
            else
                CHECK(std::get<bool>(there) == std::get<bool>(value));
        }
    };
    for (const api::Change& change : run.changes()) {
        CHECK(std::find(names.begin(), names.end(), change.signal) != names.end());
        for (; scan < change.scan; ++scan) compare();
        now.insert_or_assign(change.signal, change.value);
    }
    for (; scan < run.scans(); ++scan) compare();
    CHECK(now.size() == names.size());
    const auto oil = std::get<api::Number>(now.at("oil"));
    CHECK(oil.unit == "psi");
    CHECK(oil.rounded == Approx(std::stod(oil.exact)));
    CHECK(run.time_s(7) == "0.07");
}

TEST_CASE("an unknown signal or scan is refused with a hint") {
    const api::Results& r = results();
    const api::Run& run = *verdict<api::Refuted>(r, "dark").run;
    const auto mistyped = run.values(0, {"pumb"});
    const auto& wrong = std::get<api::Rejected>(mistyped);
    CHECK(wrong.because == api::Rejected::Because::request);
    CHECK(wrong.diagnostics.at(0).what == "the model has no signal \"pumb\"");
    CHECK(wrong.diagnostics.at(0).hint == "did you mean \"pump\"?");
    CHECK(std::holds_alternative<api::Rejected>(run.values(run.scans(), {"pump"})));
    CHECK(std::holds_alternative<api::Rejected>(run.values(-1, {"pump"})));
}

TEST_CASE("each cause makes the difference: the run without it breaks nothing") {
    const api::Results& r = results();
    const auto& refuted = verdict<api::Refuted>(r, "dark");
    REQUIRE_FALSE(refuted.causes.list.empty());
    CHECK(refuted.causes.complete);
    for (const api::Cause& cause : refuted.causes.list) {
        REQUIRE(cause.parts.size() == 1);
        const api::CausePart& part = cause.parts[0];
        CHECK(part.kind == api::CausePart::Kind::position);
        CHECK((part.signal == "key" || part.signal == "start"));
        CHECK(part.what == (part.signal == "key" ? "key on" : "start pressed"));
        CHECK(truth(*refuted.run, part.scan, part.signal));
        for (long n = 0; n < cause.otherwise.scans(); ++n) CHECK_FALSE(truth(cause.otherwise, n, "pump"));
    }
}

TEST_CASE("obligations state their status in their text too, and are files of the evidence") {
    const api::Results& r = results();
    const auto all = api::obligations(r, 0);
    std::map<std::string, bool> found;
    for (const auto& o : all) {
        const std::string status = o.status == api::Obligation::Status::sat ? "sat" : "unsat";
        CHECK(o.text.find("(set-info :status " + status + ")") != std::string::npos);
        found[o.name] = o.status == api::Obligation::Status::sat;
    }
    CHECK(found.count("start") + found.count("step") + found.count("safe") == 3);
    CHECK(found.at("alive"));
    CHECK_FALSE(found.at("step"));
    CHECK(api::obligations(r, 1).empty());
    CHECK_THROWS_AS(api::obligations(r, 4), std::out_of_range);
    std::size_t smt2 = 0;
    for (const auto& file : api::evidence(r))
        if (file.name.starts_with(r.claims[0].folder + "/") && file.name.ends_with(".smt2")) ++smt2;
    CHECK(smt2 == all.size());
}

TEST_CASE("writers take results, as often as wanted") {
    const api::Results &r = results(), copy = r;
    for (const auto format :
         {api::Format::text, api::Format::json, api::Format::junit, api::Format::sarif, api::Format::csv,
          api::Format::safety_case, api::Format::safety_case_dot, api::Format::record, api::Format::page}) {
        CAPTURE(static_cast<int>(format));
        const std::string text = api::write(r, format);
        CHECK(text.ends_with('\n'));
        CHECK(text == api::write(copy, format));
        CHECK(text.find("dark") != std::string::npos);
        CHECK_THROWS_AS(api::write(api::Results{}, format), std::invalid_argument);
    }
    CHECK(api::waves(r).size() == 1);  // of the one refutation with a run
}
