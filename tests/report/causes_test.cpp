// The chain of causes, element by element.
#include <catch2/catch.hpp>
#include <sstream>

#include "report/story.hpp"
#include "support.hpp"

using namespace lanyard::report;
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
          "out on because x on\n"
          "   because d on because its TON has run out at 0.10 s\n"
          "      because b on\n"
          "   because TON(d, 0.1 s) has run 0 s of 0.1 s because d on\n");
    const Model off = model_from(model_text({{"x", "TOF(b, 0.1 s)"}}, "b OR NOT out"));
    Playing q(off, "claim");
    q.set("b", true).scans(5).set("b", false).until_broken(30);
    CHECK(why_of(off, q) ==
          "b off since 0.05 s\nout on because x on because its TOF has run 0 s of 0.1 s\n   because b off since 0.05 "
          "s\n");
    const Model pulse = model_from(model_text({{"x", "TP(b, 0.1 s)"}}, "b -> out"));
    Playing r(pulse, "claim");
    r.set("b", true).until_broken(30);
    CHECK(why_of(pulse, r) ==
          "b on\n"
          "out off because x off\n"
          "   because its TP of 0.1 s ended at 0.10 s; only its input\n"
          "   coming on anew starts it again because b on\n");
}

TEST_CASE("latches are explained by when they were set") {
    const Model m = model_from(model_text({{"x", "SR(a AND b, c)"}}, "out -> a"));
    Playing p(m, "claim");
    p.set("b", true).scans(4).set("a", true).scans(3).set("a", false).until_broken(9);
    CHECK(
        why_of(m, p) ==
        "out on because x on\n   because its SR set at 0.04 s\n      because a pressed at 0.04 s\n      because b on\n"
        "   because its SR has not been reset since because c off\na not pressed since 0.07 s\n");
    const Model held = model_from(model_text({{"x", "RS(a, b)"}}, "a -> out"));
    Playing q(held, "claim");
    q.set("b", true).scans(2).set("a", true).until_broken(2);
    CHECK(why_of(held, q) ==
          "a pressed since 0.02 s\n"
          "out off because x off because its RS is held off by its reset\n"
          "   because b on\n");
    const Model band = model_from(model_text({{"x", "band(t, on > 80 degC, off < 60 degC)"}}, "t > 75 degC -> out"));
    Playing r(band, "claim");
    r.set("t", "85 degC").scans(2).set("t", "50 degC").scans(2).set("t", "76 degC").until_broken(2);
    CHECK(why_of(band, r) ==
          "t 76 degC is above 75 degC\n"
          "out off because x off\n"
          "   because its band off since 0.02 s\n"
          "      because t 50 degC is below 60 degC at 0.02 s\n"
          "   because its band has not been switched on since\n"
          "      because t 76 degC is not above 80 degC\n");
}

TEST_CASE("a reset that was pressed in vain: what it lacked then, not that nobody presses it now") {
    const auto told = [](const std::string& reset) {
        const Model m = model_from(model_text({{"x", "RS(c, " + reset + ")"}}, "b -> NOT out"));
        Playing p(m, "claim");
        p.set("t", "10 degC").set("c", true).scans(2).set("c", false).scans(1).set("a", true).scans(3);
        return why_of(m, p.set("a", false).scans(2).set("b", true).until_broken(2));
    };
    CHECK(told("a AND t > 50 degC") ==
          "b on since 0.08 s\n"
          "out on because x on\n"
          "   because its RS set at 0.00 s because c on at 0.00 s\n"
          "   because its RS has not been reset since, nor with a\n"
          "      pressed at 0.05 s because t 10 degC is not above 50 degC\n");
    // With as much lacking then as now there is nothing to choose.
    CHECK(told("a AND t > 50 degC AND NOT a") ==
          "b on since 0.08 s\n"
          "out on because x on\n"
          "   because its RS set at 0.00 s because c on at 0.00 s\n"
          "   because its RS has not been reset since\n"
          "      because a not pressed since 0.06 s\n"
          "      because t 10 degC is not above 50 degC\n");
}

TEST_CASE("edges, counters and what was before") {
    const Model m = model_from(model_text({{"x", "R_TRIG(a) OR F_TRIG(b)"}}, "NOT out"));
    Playing p(m, "claim");
    p.set("b", true).scans(2).set("a", true).until_broken(2);
    CHECK(why_of(m, p) ==
          "out on because x on because R_TRIG(a) sees an edge\n"
          "   because a pressed since 0.02 s\n");
    const Model count = model_from(model_text({{"x", "CTU(a, c, 3)"}}, "b -> out"));
    Playing q(count, "claim");
    q.set("a", true).scans(2).set("a", false).scans(1).set("b", true).until_broken(2);
    CHECK(why_of(count, q) ==
          "b on since 0.03 s\n"
          "out off because x off\n"
          "   because its CTU has counted 1 of 3, the last at 0.00 s\n"
          "   because a pressed at 0.00 s\n");
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
          "SR(out, c) set at 0.00 s because out on at 0.00 s\n"
          "   because x on at 0.00 s because its SR set at 0.00 s\n"
          "   because a pressed at 0.00 s\n"
          "SR(out, c) has not been reset since because c off\n"
          "out off because controller has no power\n"
          "   because b off since 0.04 s\n");
    Playing q(m, "claim");
    const std::string back = R"("claims": {"claim": {"always": "powered AND SR(out, c) AND NOT c -> out"}}})";
    std::string text = model_text({{"x", "SR(a, c)"}}, "TRUE", R"("supply": "b", )");
    text.replace(text.find("\"claims\""), std::string::npos, back);
    const Model again = model_from(text);
    Playing r(again, "claim");
    r.set("a", true).set("b", true).scans(1).set("a", false).scans(3).set("b", false).scans(2).set("b", true);
    r.until_broken(2);
    std::istringstream lines(why_of(again, r));
    std::string told, word;
    while (lines >> word) told += (told.empty() ? "" : " ") + word;
    for (const char* words : {"its SR lost its state with the controller's power at 0.04 s", "because b off at 0.04 s",
                              "its SR has not been set since because a not pressed"})
        CHECK(told.find(words) != std::string::npos);
}

TEST_CASE("relays in transit, normally closed switches and stalls") {
    const Model m = model_from(R"({"lanyard": 1, "name": "m",
        "inputs": {"stop": {"switch": "momentary", "contact": "normally closed"}}, "outputs": {"run": {"on": "stop",
        "relay": "k"}}, "relays": {"k": {"drops_out": "30 ms", "feeds": "pump"}},
        "claims": {"claim": {"always": "stop -> NOT pump"}}})");
    Playing p(m, "claim");
    p.scans(3).set("stop", true).until_broken(2);
    CHECK(why_of(m, p) ==
          "stop pressed since 0.03 s\n"
          "pump powered because k pulled in\n"
          "   because it may take 30 ms to drop out because run off\n"
          "   because stop seen off because stop pressed since 0.03 s\n");
    const Model engine = model_from(R"({"lanyard": 1, "name": "m", "inputs": {"start": "momentary"},
        "outputs": {"starter": "start", "coil": "TRUE"}, "engine": {"cranks_with": "starter", "fires_with": ["coil"]},
        "claims": {"claim": {"always": "engine <> coasting"}}})");
    Playing q(engine, "claim");
    q.set("start", true).engine(Mode::running).scans(60).engine(Mode::coasting).until_broken(3);
    CHECK(why_of(engine, q) == "engine coasting since 0.61 s because it stalls\n");
    CHECK(story_of(engine, q.refuted()).find("engine stalls") != std::string::npos);
}

TEST_CASE("what keeps a state is told with what began it") {
    const Model m = model_from(model_text({{"x", "band(t, on > 80 degC, off < 60 degC)"}}, "t < 75 degC -> NOT out"));
    Playing p(m, "claim");
    p.set("t", "85 degC").scans(2).set("t", "70 degC").until_broken(2);
    CHECK(why_of(m, p) ==
          "t 70 degC is below 75 degC\n"
          "out on because x on\n"
          "   because its band on since 0.00 s\n"
          "      because t 85 degC is above 80 degC at 0.00 s\n"
          "   because its band has not been switched off since\n"
          "      because t 70 degC is not below 60 degC\n");
    const Model lost = model_from(model_text({{"x", "RS(R_TRIG(a), b)"}}, "c -> out"));
    Playing q(lost, "claim");
    q.set("b", true).scans(2).set("a", true).scans(2).set("b", false).scans(2).set("c", true).until_broken(2);
    CHECK(why_of(lost, q) ==
          "c on since 0.06 s\n"
          "out off because x off because its RS has not been set\n"
          "   because R_TRIG(a) sees no new edge\n"
          "      because a pressed since 0.02 s\n"
          "   because its set input was on at 0.02 s, when its reset\n"
          "      held it off because b on at 0.02 s\n");
    const Model never = model_from(model_text({{"x", "SR(a, FALSE)"}}, "out -> a"));
    Playing r(never, "claim");
    r.set("a", true).scans(2).set("a", false).until_broken(2);
    CHECK(why_of(never, r) ==
          "out on because x on\n"
          "   because its SR set at 0.00 s because a pressed at 0.00 s\n"
          "   because nothing ever resets its SR\n"
          "a not pressed since 0.02 s\n");
}

TEST_CASE("a delay that was interrupted long ago") {
    const Model m = model_from(model_text({{"x", "TON(b, 1 s)"}}, "c -> out"));
    Playing p(m, "claim");
    p.set("b", true).scans(90).set("b", false).scans(1).set("b", true).scans(50).set("c", true).until_broken(2);
    CHECK(why_of(m, p) ==
          "c on since 1.41 s\n"
          "out off because x off because its TON has run 0.5 s of 1 s\n"
          "   because b on since 0.91 s\n"
          "   because it began anew at 0.91 s because b off at 0.90 s\n");
    Playing q(m, "claim");
    q.set("b", true).scans(150).set("b", false).scans(3).set("c", true).until_broken(2);
    CHECK(why_of(m, q) ==
          "c on since 1.53 s\n"
          "out off because x off\n"
          "   because its TON is not timing; it had been on until 1.50 s\n"
          "   because b off since 1.50 s\n");
    const Model pulse = model_from(model_text({{"x", "TP(b, 1 s)"}}, "c -> out"));
    Playing r(pulse, "claim");
    r.set("b", true).scans(50).set("b", false).scans(1).set("b", true).scans(70).set("c", true).until_broken(2);
    CHECK(why_of(pulse, r) ==
          "c on since 1.21 s\n"
          "out off because x off\n"
          "   because its TP of 1 s ended at 1.00 s; only its input coming\n"
          "   on anew starts it again because b on since 0.51 s\n");
}

TEST_CASE("what holds itself is told by how it came to be so") {
    const Model m = model_from(R"json({"lanyard": 1, "name": "m",
        "inputs": {"a": "momentary", "b": "maintained", "back": {"reads_back": "out"}},
        "outputs": {"out": "b AND (a OR back)"}, "claims": {"claim": {"always": "out -> a"}}})json");
    Playing p(m, "claim");
    p.set("b", true).scans(2).set("a", true).scans(2).set("a", false).scans(1).until_broken(5);
    CHECK(why_of(m, p) ==
          "out on\n"
          "   because b on\n"
          "   because back on\n"
          "      because out on, which has held itself so since 0.02 s\n"
          "      because b on\n"
          "      because a pressed at 0.02 s\n"
          "a not pressed since 0.04 s\n");
}

TEST_CASE("an engine that should be at rest and is cranked: what powers its starter, not why it does not fire") {
    const auto model = [](const std::string& claim) {
        return model_from(R"json({"lanyard": 1, "name": "m", "inputs": {"key": "maintained", "start": "momentary"},
            "outputs": {"inj": "key", "starter": "start"}, "engine": {"cranks_with": "starter", "fires_with": ["inj"],
            "firing_time": "0.5 s"}, "claims": {"claim": )json" +
                          claim + "}}");
    };
    const Model rest = model(R"({"whenever": "NOT key", "then": "engine = stopped", "within": "0.3 s"})");
    Playing p(rest, "claim");
    p.set("start", true).engine(Mode::cranking).until_broken(60);
    CHECK(why_of(rest, p) ==
          "engine cranking since 0.01 s because starter on\n"
          "   because start pressed\n");
    // The starter goes off in the scan in question: a scan before it had power, which is why the engine still turns.
    const Model released = model(R"({"always": "start OR engine <> cranking"})");
    Playing q(released, "claim");
    q.set("start", true).engine(Mode::cranking).scans(5).set("start", false).until_broken(3);
    CHECK(why_of(released, q) ==
          "start not pressed since 0.05 s\n"
          "engine cranking since 0.01 s because starter on at 0.04 s\n"
          "   because start pressed at 0.04 s\n");
    const Model running = model(R"({"whenever": "NOT start", "then": "engine = stopped", "within": "0.3 s"})");
    Playing r(running, "claim");
    r.set("key", true).set("start", true).engine(Mode::running).scans(60).set("start", false).until_broken(60);
    CHECK(why_of(running, r) == "engine running since 0.02 s because inj on because key on\n");
    const Model wanted = model(R"({"whenever": "start", "then": "engine = running", "within": "0.3 s"})");
    Playing s(wanted, "claim");
    s.set("start", true).engine(Mode::cranking).until_broken(60);
    CHECK(why_of(wanted, s) ==
          "engine cranking since 0.01 s because inj off\n"
          "   because key off since the run began\n");
}

TEST_CASE("what was before the driver began is not why it did not fire") {
    const Model m = model_from(R"json({"lanyard": 1, "name": "m", "quantities": {"speed": "0 .. 9000 rpm"},
        "inputs": {"key": "maintained", "start": "momentary"}, "logic": {"ran": "SR(speed > 500 rpm, FALSE)"},
        "outputs": {"inj": "key", "starter": "key AND start AND NOT ran"},
        "engine": {"cranks_with": "starter", "fires_with": ["inj"], "firing_time": "0.5 s", "coast_down": "0.1 s"},
        "claims": {"claim": {"from": "engine = stopped AND key",
          "procedure": ["set key", "hold start until engine = running, at most 0.3 s"], "ends_with": "engine = running"}}})json");
    Playing p(m, "claim");
    p.set("key", true).set("start", true).engine(Mode::cranking).scans(2).set("speed", "600 rpm").scans(2);
    p.set("speed", "0 rpm").set("start", false).engine(Mode::stopped).scans(3).moves_on().until_broken(100);
    CHECK(why_of(m, p) ==
          "engine stopped since 0.03 s because starter off\n"
          "   because ran on\n"
          "   because its SR set at 0.02 s\n"
          "      because speed 600 rpm is above 500 rpm at 0.02 s\n"
          "   because nothing ever resets its SR\n");
}

TEST_CASE("a number that is equal is told once") {
    const Model n = model_from(model_text({{"x", "b"}}, "t = 20 degC -> out"));
    Playing q(n, "claim");
    q.set("t", "20 degC").until_broken(2);
    CHECK(why_of(n, q) == "t is 20 degC\nout off because x off because b off\n");
}

TEST_CASE("a ring of several is told once as a ring, by the one that closes it") {
    const Model m = model_from(R"json({"lanyard": 1, "name": "m",
        "inputs": {"a": "momentary", "b": "maintained", "back": {"reads_back": "out"}},
        "logic": {"x": "b AND (a OR back)", "y": "x"},
        "outputs": {"out": "y"}, "claims": {"claim": {"always": "out -> a"}}})json");
    Playing p(m, "claim");
    p.set("b", true).scans(2).set("a", true).scans(2).set("a", false).scans(1).until_broken(5);
    CHECK(why_of(m, p) ==
          "out on because y on because x on\n"
          "   because b on\n"
          "   because back on\n"
          "      because out on, which has held itself so since 0.02 s\n"
          "      because y on because x on\n"
          "      because b on\n"
          "      because a pressed at 0.02 s\n"
          "a not pressed since 0.04 s\n");
}

TEST_CASE("a reading that differs is told with what the sensor may be off") {
    const Model m = model_from(R"json({"lanyard": 1, "name": "m", "quantities": {"t": "0 .. 100 degC"},
        "inputs": {"t_r": {"senses": "t", "accuracy": "2 K", "delay": "0.1 s"}}, "outputs": {"out": "t_r > 50 degC"},
        "claims": {"claim": {"always": "out -> t > 50 degC"}}})json");
    Playing p(m, "claim");
    p.set("t", "49 degC").set("t_r", "49 degC").scans(2).set("t_r", "51 degC").until_broken(2);
    CHECK(why_of(m, p) ==
          "out on because t_r 51 degC is above 50 degC\n"
          "   because t 49 degC; t_r may be 2 K off and 0.1 s late\n"
          "t 49 degC is not above 50 degC\n");
}

TEST_CASE("a table is told by the cells that count") {
    const Model m = model_from(R"json({"lanyard": 1, "name": "m", "quantities": {"t": "0 .. 100 degC"},
        "tables": {"map": {"rows": {"of": "t", "unit": "degC", "at": [20, 40, 60]}, "unit": "%", "cells": [0, 50, 10]}},
        "outputs": {"fan": {"duty": "table(map, t)"}}, "claims": {"claim": {"always": "t > 40 degC -> fan >= 40 %"}}})json");
    Playing p(m, "claim");
    p.set("t", "50 degC").until_broken(2);
    CHECK(why_of(m, p) ==
          "t 50 degC is above 40 degC\n"
          "fan 30 % is below 40 %\n"
          "   because map says: 40 degC is 50 %; 60 degC is 10 %\n");
}

TEST_CASE("a procedure is explained where it waited in vain") {
    const auto model = [](const std::string& inj, const std::string& steps) {
        return model_from(R"json({"lanyard": 1, "name": "m", "inputs": {"key": "maintained", "start": "momentary"},
            "logic": {"late": "TON(key, 1 s)"}, "outputs": {"inj": ")json" +
                          inj + R"json(", "starter": "key AND start"},
            "engine": {"cranks_with": "starter", "fires_with": ["inj"], "firing_time": "0.5 s", "coast_down": "0.1 s"},
            "claims": {"claim": {"procedure": [)json" +
                          steps + R"json(], "ends_with": "engine = running"}}})json");
    };
    const Model vain =
        model("key AND NOT key", R"("set key", "hold start until engine = running, at most 0.3 s", "wait 0.5 s")");
    Playing p(vain, "claim");
    p.engine(Mode::cranking).until_broken(100);
    CHECK(why_of(vain, p) ==
          "the engine was cranked from 0.01 s to 0.31 s and did not fire\n"
          "   because inj off since the run began because key on\n");
    const Model left =
        model("key AND NOT late",
              R"("set key", "hold start until engine = running, at most 0.8 s", "wait 0.5 s", "wait 0.5 s")");
    Playing q(left, "claim");
    q.engine(Mode::running).until_broken(300);
    CHECK(why_of(left, q) ==
          "the engine ran from 0.02 s to 1.01 s because inj off\n"
          "   because late on because its TON has run out at 1.00 s\n"
          "   because key on\n");
    // What has been off since the run began: the last link of which that is so.
    const Model dry = model_from(R"json({"lanyard": 1, "name": "m", "quantities": {"oil": "0 .. 100 psi"},
        "inputs": {"key": "maintained", "start": "momentary"}, "logic": {"oil_ok": "oil > 15 psi"},
        "outputs": {"inj": "key AND oil_ok", "starter": "key AND start"},
        "engine": {"cranks_with": "starter", "fires_with": ["inj"], "firing_time": "0.5 s", "coast_down": "0.1 s"},
        "claims": {"claim": {"procedure": ["set key", "hold start until engine = running, at most 0.3 s", "wait 0.5 s"],
          "ends_with": "engine = running"}}})json");
    Playing r(dry, "claim");
    r.set("oil", "3 psi").engine(Mode::cranking).until_broken(100);
    CHECK(why_of(dry, r) ==
          "the engine was cranked from 0.01 s to 0.31 s and did not fire\n"
          "   because inj off because oil_ok off\n"
          "   because oil 3 psi, not above 15 psi since the run began\n");
    Playing s(dry, "claim");
    s.set("oil", "20 psi").scans(1).moving("oil", "3 psi", 2).engine(Mode::cranking).until_broken(100);
    CHECK(why_of(dry, s) ==
          "the engine was cranked from 0.01 s to 0.31 s and did not fire\n"
          "   because inj off because oil_ok off\n"
          "   because oil 3 psi is not above 15 psi\n");
}
