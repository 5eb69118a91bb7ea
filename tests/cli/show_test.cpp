#include "cli/show.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "cli/progress.hpp"

namespace api = lanyard::api;
using namespace lanyard::cli;

namespace {

api::ClaimReport refuted() {
    api::ClaimReport claim;
    claim.id = "it starts";
    claim.kind = "procedure";
    claim.condition = "healthy";
    claim.verdict = api::Refuted{};
    claim.line = 41;
    claim.column = 17;
    claim.summary = "some healthy engine never fires";
    claim.story = "0.00 s  key on\n9.00 s  start released\n";
    claim.timing.finding = 0.03;
    claim.timing.replaying = 0.01;
    return claim;
}

api::ClaimReport proved() {
    api::ClaimReport claim;
    claim.id = "oil cut";
    claim.kind = "response";
    claim.condition = "any";
    claim.verdict = api::Proved{};
    claim.folder = "02-oil-cut";
    claim.line = 42;
    claim.column = 5;
    claim.summary = "rests on: oil_low";
    claim.story = "assumes  scan 10 ms\nuses     enable, oil_low\n";
    return claim;
}

const std::vector<api::ClaimInfo> infos{{"it starts", "procedure", "healthy", 41, 17},
                                        {"oil cut", "response", "any", 42, 5}};

}  // namespace

TEST_CASE("a line a claim, in columns") {
    const CheckText text("car.json", infos, Painter(false), false);
    CHECK(text.line(refuted()) == "  REFUTED    it starts  under healthy  some healthy engine never fires\n");
    CHECK(text.line(proved()) == "  proved     oil cut    under any      rests on: oil_low\n");
}

TEST_CASE("times are shown only where they are wanted") {
    const CheckText timed("car.json", infos, Painter(false), true);
    CHECK(timed.line(refuted()) == "  REFUTED    it starts  under healthy  some healthy engine never fires  0.04 s\n");
    std::string details = timed.details(refuted());
    std::replace(details.begin(), details.end(), '\n', ' ');
    CHECK(details.find(" replaying") != std::string::npos);
    const CheckText text("car.json", infos, Painter(false), false);
    CHECK(text.details(refuted()).find("replaying") == std::string::npos);
}

TEST_CASE("colour adds nothing but colour") {
    const std::string plain = CheckText("car.json", infos, Painter(false), false).line(refuted());
    std::string painted = CheckText("car.json", infos, Painter(true), false).line(refuted());
    CHECK(painted != plain);
    for (std::size_t at = 0; (at = painted.find('\x1b')) != std::string::npos;)
        painted.erase(at, painted.find('m', at) - at + 1);
    CHECK(painted == plain);
}

TEST_CASE("what needs attention is told first, then what proofs rest on") {
    api::Results results;
    results.claims = {proved(), refuted()};
    results.outcome = api::Outcome::failed;
    CHECK(CheckText("car.json", infos, Painter(false), false).after_lines(results, "") ==
          "\n"
          "it starts: REFUTED, car.json:41:17\n"
          "  0.00 s  key on\n"
          "  9.00 s  start released\n"
          "\n"
          "oil cut: proved, car.json:42:5\n"
          "  assumes  scan 10 ms\n"
          "  uses     enable, oil_low\n"
          "\n"
          "2 claims: 1 proved, 1 refuted\n" +
              api::closing() + "\n");
}

TEST_CASE("what was seen in the wiring stands behind the stories, and is not there without a circuit") {
    api::Results results;
    results.claims = {refuted()};
    const CheckText text("car.json", infos, Painter(false), false);
    CHECK(CheckText::findings("").empty());
    const std::string seen =
        CheckText::findings("4:2  warning: `F1` is large [fuse-above-wire]\n     what helps: less\n");
    CHECK(text.after_lines(results, seen) ==
          "\n"
          "it starts: REFUTED, car.json:41:17\n"
          "  0.00 s  key on\n"
          "  9.00 s  start released\n"
          "\n"
          "Found in the wiring\n"
          "  4:2  warning: `F1` is large [fuse-above-wire]\n"
          "       what helps: less\n"
          "\n"
          "1 claim: 1 refuted\n" +
              api::closing() + "\n");
}

TEST_CASE("only what is bad is written in capitals") {
    CHECK(shown_verdict(api::Proved{}) == "proved");
    CHECK(shown_verdict(api::Refuted{}) == "REFUTED");
    CHECK(shown_verdict(api::Vacuous{}) == "VACUOUS");
    CHECK(shown_verdict(api::Undecided{}) == "undecided");
}

TEST_CASE("evidence is named, and nothing is said where nothing is to say") {
    api::ClaimReport claim = proved();
    const CheckText named("car.json", infos, Painter(false), false, "out");
    CHECK(named.details(claim).find("  evidence    out/02-oil-cut\n") != std::string::npos);
    claim.story = "";
    CHECK(CheckText("car.json", infos, Painter(false), false).details(claim).empty());
}

TEST_CASE("names cannot play with the terminal") {
    api::ClaimReport claim = proved();
    claim.id = "oil\x1b[2J";
    CHECK(CheckText("car.json", infos, Painter(false), false).line(claim).find('\x1b') == std::string::npos);
}

TEST_CASE("an interrupted check says so") {
    api::Results report;
    report.claims = {proved()};
    report.interrupted = true;
    CHECK(CheckText("car.json", infos, Painter(false), false).summary(report).find("interrupted") != std::string::npos);
}

TEST_CASE("the progress line") {
    CHECK(progress_text({2, 14, "oil cut", "searching, round 3"}, 12) ==
          "2 of 14 decided, 12 s: oil cut, searching, round 3");
    CHECK(progress_text({0, 2, "", ""}, 1) == "0 of 2 decided, 1 s");
    // A guess, once there is something to guess from.
    CHECK(progress_text({4, 14, "oil cut", ""}, 12) ==
          "4 of 14 decided, 12 s, about 30 s left if the others take as long: oil cut");
    CHECK(progress_text({3, 30, "", ""}, 60) == "3 of 30 decided, 60 s, about 9 min left if the others take as long");
    CHECK(progress_text({2, 30, "", ""}, 60) == "2 of 30 decided, 60 s");
    CHECK(progress_text({14, 14, "", "making the bench card"}, 60) == "14 of 14 decided, 60 s, making the bench card");
}
