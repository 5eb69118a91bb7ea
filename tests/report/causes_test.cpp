// The chain of causes, element by element.
#include <catch2/catch.hpp>

#include "report/story.hpp"
#include "support.hpp"

using namespace lanyard;
using namespace lanyard::test;

namespace {

std::string model_text(const std::vector<std::pair<std::string, std::string>>& logic, const std::string& claim,
                       const std::string& rest = "") {
    std::string lines;
    for (const auto& [name, is] : logic) lines += (lines.empty() ? "\"" : ", \"") + name + "\": \"" + is + "\"";
    return R"({"lanyard": 1, "name": "m", "inputs": {"a": "momentary", "b": "maintained", "c": "maintained"},
        "quantities": {"t": "0 .. 100 degC"}, "logic": {)" +
           lines + R"(}, "outputs": {"out": "x"}, )" + rest + R"("claims": {"claim": {"always": ")" + claim + R"("}}})";
}

}  // namespace

TEST_CASE("AND that is on: all of it; OR: what is true") {
    const Model m = model_from(model_text({{"x", "a AND (b OR c)"}}, "NOT out"));
    Playing p(m, "claim");
    p.scans(2).set("a", true).set("c", true).until_broken(3);
    CHECK(why_of(m, p) == "out on because x on\n   because a pressed since 0.02 s\n   because c on since 0.02 s\n");
}

TEST_CASE("AND that is off: what is false") {
    const Model m = model_from(model_text({{"x", "a AND b AND (c OR t > 50 degC)"}}, "a -> out"));
    Playing p(m, "claim");
    p.set("t", "20 degC").scans(1).set("a", true).set("b", true).until_broken(3);
    CHECK(
        why_of(m, p) ==
        "a pressed since 0.01 s\nout off because x off\n   because c off\n   because t 20 degC is not above 50 degC\n");
}

TEST_CASE("vote, exclusive or and equality") {
    const Model m = model_from(model_text({{"v", "2 of (a, b, c)"}, {"x", "v XOR (a = b)"}}, "NOT out"));
    Playing p(m, "claim");
    p.set("c", true).set("a", false).set("b", true).until_broken(3);
    CHECK(why_of(m, p) ==
          "out on because x on\n   because v on\n      because b on\n      because c on\n   because a not pressed\n   "
          "because b on\n");
}

TEST_CASE("timers") {
    const Model m = model_from(model_text({{"d", "TON(b, 0.1 s)"}, {"x", "d AND NOT TON(d, 0.1 s)"}}, "NOT out"));
    Playing p(m, "claim");
    p.set("b", true).until_broken(30);
    CHECK(why_of(m, p) ==
          "out on because x on\n   because d on because its TON has run out at 0.10 s because b on\n   because TON(d, "
          "0.1 s) has run 0 s of 0.1 s because d on\n");
    const Model off = model_from(model_text({{"x", "TOF(b, 0.1 s)"}}, "b OR NOT out"));
    Playing q(off, "claim");
    q.set("b", true).scans(5).set("b", false).until_broken(30);
    CHECK(why_of(off, q) ==
          "b off since 0.05 s\nout on because x on because its TOF has run 0 s of 0.1 s\n   because b off since 0.05 "
          "s\n");
    const Model pulse = model_from(model_text({{"x", "TP(b, 0.1 s)"}}, "b -> out"));
    Playing r(pulse, "claim");
    r.set("b", true).until_broken(30);
    CHECK(why_of(pulse, r) == "b on\nout off because x off because its TP of 0.1 s ended at 0.10 s because b on\n");
}

TEST_CASE("latches are explained by when they were set") {
    const Model m = model_from(model_text({{"x", "SR(a AND b, c)"}}, "out -> a"));
    Playing p(m, "claim");
    p.set("b", true).scans(4).set("a", true).scans(3).set("a", false).until_broken(9);
    CHECK(why_of(m, p) ==
          "out on because x on because its SR set at 0.04 s\n   because a pressed at 0.04 s\n   because b on\na not "
          "pressed since 0.07 s\n");
    const Model held = model_from(model_text({{"x", "RS(a, b)"}}, "a -> out"));
    Playing q(held, "claim");
    q.set("b", true).scans(2).set("a", true).until_broken(2);
    CHECK(why_of(held, q) ==
          "a pressed since 0.02 s\nout off because x off because its RS is held off by its reset because b on\n");
    const Model band = model_from(model_text({{"x", "band(t, on > 80 degC, off < 60 degC)"}}, "t > 75 degC -> out"));
    Playing r(band, "claim");
    r.set("t", "85 degC").scans(2).set("t", "50 degC").scans(2).set("t", "76 degC").until_broken(2);
    CHECK(why_of(band, r) ==
          "t 76 degC is above 75 degC\nout off because x off because its band off since 0.02 s\n   because t 50 degC "
          "is below 60 degC at 0.02 s\n");
}

TEST_CASE("edges, counters and what was before") {
    const Model m = model_from(model_text({{"x", "R_TRIG(a) OR F_TRIG(b)"}}, "NOT out"));
    Playing p(m, "claim");
    p.set("b", true).scans(2).set("a", true).until_broken(2);
    CHECK(why_of(m, p) == "out on because x on because R_TRIG(a) sees an edge because a pressed since 0.02 s\n");
    const Model count = model_from(model_text({{"x", "CTU(a, c, 3)"}}, "b -> out"));
    Playing q(count, "claim");
    q.set("a", true).scans(2).set("a", false).scans(1).set("b", true).until_broken(2);
    CHECK(why_of(count, q) == "b on since 0.03 s\nout off because x off because its CTU has counted 1 of 3\n");
    const Model before = model_from(model_text({{"x", "previous(a)"}}, "out -> a"));
    Playing r(before, "claim");
    r.set("a", true).scans(2).set("a", false).until_broken(2);
    CHECK(why_of(before, r) == "out on because x on because a pressed at 0.01 s\na not pressed since 0.02 s\n");
}

TEST_CASE("memory that is lost with the supply") {
    const Model m = model_from(model_text({{"x", "SR(a, c)"}}, "SR(out, c) AND NOT c -> out", R"("supply": "b", )"));
    Playing p(m, "claim");
    p.set("a", true).set("b", true).scans(1).set("a", false).scans(3).set("b", false).until_broken(2);
    CHECK(why_of(m, p) ==
          "SR(out, c) set at 0.00 s because out on at 0.00 s because x on at 0.00 s\n   because its SR set at 0.00 s "
          "because a pressed at 0.00 s\nc off\nout off because controller has no power because b off since 0.04 s\n");
    Playing q(m, "claim");
    const std::string back = R"("claims": {"claim": {"always": "powered AND SR(out, c) AND NOT c -> out"}}})";
    std::string text = model_text({{"x", "SR(a, c)"}}, "TRUE", R"("supply": "b", )");
    text.replace(text.find("\"claims\""), std::string::npos, back);
    const Model again = model_from(text);
    Playing r(again, "claim");
    r.set("a", true).set("b", true).scans(1).set("a", false).scans(3).set("b", false).scans(2).set("b", true);
    r.until_broken(2);
    CHECK(why_of(again, r).find(
              "its SR lost its state with the controller's power at 0.04 s\n   because b off at 0.04 s\n") !=
          std::string::npos);
}

TEST_CASE("relays in transit, normally closed switches and stalls") {
    const Model m = model_from(R"({"lanyard": 1, "name": "m",
        "inputs": {"stop": {"switch": "momentary", "contact": "normally closed"}}, "outputs": {"run": {"on": "stop",
        "relay": "k"}}, "relays": {"k": {"drops_out": "30 ms", "feeds": "pump"}},
        "claims": {"claim": {"always": "stop -> NOT pump"}}})");
    Playing p(m, "claim");
    p.scans(3).set("stop", true).until_broken(2);
    CHECK(why_of(m, p) ==
          "stop pressed since 0.03 s\npump powered because k pulled in because it may take 30 ms to drop out\n   "
          "because run off because stop seen off because stop pressed since 0.03 s\n");
    const Model engine = model_from(R"({"lanyard": 1, "name": "m", "inputs": {"start": "momentary"},
        "outputs": {"starter": "start", "coil": "TRUE"}, "engine": {"cranks_with": "starter", "fires_with": ["coil"]},
        "claims": {"claim": {"always": "engine <> coasting"}}})");
    Playing q(engine, "claim");
    q.set("start", true).engine(Mode::running).scans(60).engine(Mode::coasting).until_broken(3);
    CHECK(why_of(engine, q) == "engine coasting since 0.61 s because it stalls\n");
    CHECK(story_of(engine, q.refuted()).find("engine stalls") != std::string::npos);
}
