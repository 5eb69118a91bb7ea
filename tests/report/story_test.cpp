#include <catch2/catch.hpp>
#include <sstream>

#include "report/story.hpp"
#include "support.hpp"

using namespace lanyard::report;
using namespace lanyard::test;

namespace {

std::string whole(const Model& m, const ClaimResult& r) { return story_heading(m, r) + '\n' + story_of(m, r); }

// Running at 600 rpm with oil on the gauge, prime over.
Playing& warmed_up(Playing& p) {
    p.set("key", true).set("coolant_temperature", "80 degC").scans(1);
    p.set("start", true).engine(Mode::running).set("engine_speed", "300 rpm").set("oil_pressure", "2 bar").scans(70);
    return p.set("start", false).set("engine_speed", "600 rpm");
}

}  // namespace

TEST_CASE("a procedure that is not reached") {
    const Model m = model_from(kestrel(), "models/car.json");
    Playing p(m, "it starts");
    check_golden("it-starts.txt", whole(m, p.until_broken(2000).refuted()));
}

TEST_CASE("a response that comes too late") {
    const Model m = model_from(kestrel());
    Playing p(m, "oil cut");
    warmed_up(p).set("oil_pressure", "0.5 bar").until_broken(2000);
    check_golden("oil-cut.txt", whole(m, p.refuted()));
}

TEST_CASE("an invariant that breaks, with a quantity that moves and a reading that is off") {
    const Model m = model_from(kestrel());
    Playing p(m, "trip holds");
    warmed_up(p).set("oil_pressure", "30 psi").scans(10);
    p.moving("coolant_temperature", "100 degC", 300);
    p.set("coolant_temperature", "103.5 degC").scans(1);
    p.set("coolant", "104.3 degC").until_broken(10);
    check_golden("trip-holds.txt", whole(m, p.refuted()));
}

TEST_CASE("a table's number") {
    const Model m = model_from(kestrel());
    Playing p(m, "fan on");
    p.set("coolant_temperature", "20 degC").scans(5).set("coolant_temperature", "90.5 degC").until_broken(3);
    check_golden("fan-on.txt", whole(m, p.refuted()));
}

TEST_CASE("a possibility that is reached") {
    const Model m = model_from(kestrel());
    Playing p(m, "runs");
    p.set("key", true).scans(3).set("start", true).engine(Mode::running).until_broken(300);
    check_golden("runs.txt", whole(m, result(m, "runs", Proved{std::nullopt, p.run()})));
}

TEST_CASE("proofs, vacuity and open ends") {
    const Model m = model_from(kestrel());
    Playing p(m, "oil cut");
    p.set("key", true).set("coolant_temperature", "80 degC").set("oil_pressure", "0 psi").scans(3);
    std::string text = whole(m, proved(m, "oil cut", p.run()));
    Certificate c;
    c.assumptions = {"world: the engine fires only with all that it fires with"};
    c.elements = {"enable"};
    c.induction = 3;
    text += '\n' + whole(m, result(m, "runs", Refuted{std::nullopt, c, ""}));
    text +=
        '\n' + whole(m, result(m, "trip holds", Vacuous{"what the claim waits for cannot happen", c, std::nullopt}));
    text += '\n' + whole(m, result(m, "it starts", Vacuous{"the assumptions stop time", std::nullopt, p.run()}));
    ClaimResult open = result(m, "oil cut", Undecided{"the work limit was hit", 7});
    open.leaps = false;
    text += '\n' + whole(m, open);
    check_golden("other-verdicts.txt", text);
    CHECK(story(FilmedResult(m, proved(m, "oil cut", p.run())), {.certificates = false}).find("assumes") ==
          std::string::npos);
}

TEST_CASE("a whole report begins with the heading and ends with the cautions") {
    Model m = model_from(kestrel());
    m.sha256 = std::string(64, '0');
    Playing p(m, "fan on");
    p.set("coolant_temperature", "90.5 degC").until_broken(3);
    check_golden("report.txt", whole_report(m, filmed(m, {proved(m, "trip holds", {}), p.refuted()}), versions()));
}

TEST_CASE("how the time of a response counts is told once a report") {
    const Model m = model_from(kestrel());
    Playing p(m, "oil cut");
    warmed_up(p).set("oil_pressure", "0.5 bar").until_broken(2000);
    const std::string text = whole_report(m, filmed(m, {p.refuted(), p.refuted()}), versions());
    const auto count = [&](const std::string& words) {
        int n = 0;
        for (std::size_t at = text.find(words); at != std::string::npos; at = text.find(words, at + 1)) ++n;
        return n;
    };
    CHECK(count("The time of a response counts from when its condition really begins") == 1);
    CHECK(count("less up to a scan") == 2);
}

TEST_CASE("nothing is wider than a page, and everything is the same twice") {
    const Model m = model_from(kestrel());
    Playing p(m, "oil cut");
    warmed_up(p).set("oil_pressure", "0.5 bar").until_broken(2000);
    const std::string text = whole(m, p.refuted());
    CHECK(text == whole(m, p.refuted()));
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
        CHECK(line.size() <= 98);
        CHECK((line.empty() || line.back() != ' '));
    }
}

TEST_CASE("a long run of chatter is cut short") {
    const Model m = model_from(R"json({"lanyard": 1, "name": "chatter", "inputs": {"key": "maintained"},
        "logic": {"blink": "key AND NOT previous(blink)"}, "outputs": {"lamp": "blink"},
        "claims": {"c": {"always": "NOT CTU(lamp, FALSE, 200)"}}})json");
    Playing p(m, "c");
    const std::string text = whole(m, p.set("key", true).until_broken(1000).refuted());
    CHECK(text.find("351 moments are left out here") != std::string::npos);
}

TEST_CASE("a run that cannot be played is no story") {
    const Model m = model_from(kestrel());
    Playing p(m, "fan on");
    p.set("coolant_temperature", "90.5 degC").until_broken(3);
    ClaimResult r = p.refuted();
    std::get<Refuted>(r.verdict).run->segments[0].first.quantities.front() = 10000;
    CHECK(story_of(m, r).find("the run cannot be played") != std::string::npos);
}

TEST_CASE("what differs by little does not look equal") {
    const Model m = model_from(R"({"lanyard": 1, "name": "m", "quantities": {"t": "0 .. 150 degC"},
        "claims": {"c": {"always": "t > 110 degC"}}})");
    Playing p(m, "c");
    p.set("t", "109.99999 degC").until_broken(1);
    CHECK(story_of(m, p.refuted()).find("t 109.99999 degC is not above 110 degC") != std::string::npos);
}

TEST_CASE("any run can be told") {
    const Model m = model_from(kestrel());
    for (const ClaimId claim : m.claims.ids()) {
        for (unsigned seed = 0; seed < 4; ++seed) {
            const Run run = random_run(m, m.claims[claim].condition, claim, seed, 200);
            const ClaimResult r = result(m, m.claims[claim].id, Refuted{run, std::nullopt, ""});
            CHECK(story_of(m, r).find("violated") != std::string::npos);
        }
    }
}
