#include <catch2/catch.hpp>

#include "report/terminal.hpp"
#include "support.hpp"

using namespace lanyard::report;
using namespace lanyard::test;

TEST_CASE("the heading names file, versions and scan period") {
    Model m = model_from(kestrel());
    m.sha256 = std::string(64, 'a');
    CHECK(heading(m, versions()) ==
          "Kestrel, hill-climb single-seater, SHA-256 " + m.sha256 + ", lanyard 0.1.0, Z3 4.8.12, scan 10 ms");
    CHECK(heading_lines(m, versions(), "; ") == "; model: Kestrel, hill-climb single-seater\n; SHA-256: " + m.sha256 +
                                                    "\n; lanyard 0.1.0, Z3 4.8.12\n; scan: 0.01 s\n");
}

TEST_CASE("a name cannot break out of its line") {
    Model m = model_from(kestrel());
    m.name = "a\n(exit)\x1b[31m";
    const std::string text = heading_lines(m, versions(), "; ");
    CHECK(text.find("; model: a (exit)?[31m\n") == 0);
    CHECK(heading(m, versions()).find('\n') == std::string::npos);
}

TEST_CASE("one line a claim, columns under each other") {
    const Model m = model_from(kestrel());
    const auto line = [&m](const std::string& claim, Verdict v) {
        return terminal_line(FilmedResult(m, result(m, claim, std::move(v))), false);
    };
    CHECK(terminal_line(FilmedResult(m, proved(m, "trip holds", {})), false) ==
          "  proved     trip holds  under any      rests on: enable, hot, oil_low, tripped and 2 more");
    CHECK(line("it starts", Vacuous{"the assumptions contradict each other", std::nullopt, std::nullopt}) ==
          "  VACUOUS    it starts   under healthy  the assumptions contradict each other");
    CHECK(line("oil cut", Undecided{"the work limit of 20000 was hit", 12}) ==
          "  undecided  oil cut     under any      the work limit of 20000 was hit; no counterexample within 12 leaps");
    CHECK(line("runs", Undecided{"interrupted", 1}) ==
          "  undecided  runs        under warm     interrupted; not reached within 1 leap");
    CHECK(line("oil cut", Undecided{"no violation is possible, but no run was found", 12, true}) ==
          "  undecided  oil cut     under any      no violation is possible, but no run was found; not exercised "
          "within 12 leaps");
    CHECK(line("runs", Refuted{std::nullopt, Certificate{}, ""}) ==
          "  REFUTED    runs        under warm     the engine can never be running");
    CHECK(line("oil cut", Refuted{Run{}, std::nullopt, "no controller of this scan period can meet the bound"}) ==
          "  REFUTED    oil cut     under any      no controller of this scan period can meet the bound");
    CHECK(
        line("trip holds", Proved{Certificate{}, {}}) ==
        "  proved     trip holds  under any      true whatever the logic does: the claim says nothing about this car");
}

TEST_CASE("a long condition is cut in its column") {
    const Model m = model_from(
        R"json({"lanyard": 1, "name": "m", "inputs": {"key": "maintained", "breaker": "maintained"},
        "outputs": {"fan": "key"}, "claims": {
        "short": {"always": "key -> fan"},
        "long": {"always": "fan", "under": "key AND breaker AND coolant_temperature >= 95 degC"}}})json");
    CHECK(terminal_line(FilmedResult(m, result(m, "long", Undecided{"interrupted", 0})), false) ==
          "  undecided  long   under key AND breaker AND...  interrupted");
    CHECK(terminal_line(FilmedResult(m, result(m, "short", Undecided{"interrupted", 0})), false) ==
          "  undecided  short  under any                     interrupted");
}

TEST_CASE("colour adds nothing but colour") {
    const Model m = model_from(kestrel());
    const ClaimResult r = result(m, "runs", Refuted{std::nullopt, Certificate{}, ""});
    std::string painted = terminal_line(FilmedResult(m, r), true);
    for (const std::string code : {"\x1b[31m", "\x1b[0m"}) {
        const auto at = painted.find(code);
        REQUIRE(at != std::string::npos);
        painted.erase(at, code.size());
    }
    CHECK(painted == terminal_line(FilmedResult(m, r), false));
}

TEST_CASE("summaries of broken claims") {
    const Model m = model_from(kestrel());
    Playing starts(m, "it starts");
    CHECK(summary(FilmedResult(m, starts.until_broken(2000).refuted())) == "some healthy engine never fires");
    Playing fan(m, "fan on");
    fan.set("coolant_temperature", "90.5 degC").until_broken(1);
    CHECK(summary(FilmedResult(m, fan.refuted())) == "fan 55 % is not above 60 % at 0.00 s");
    Playing runs(m, "runs");
    runs.set("key", true).set("start", true).engine(Mode::running).until_broken(300);
    CHECK(summary(FilmedResult(m, result(m, "runs", Proved{std::nullopt, runs.run()}))) == "reached at 0.52 s");
}
