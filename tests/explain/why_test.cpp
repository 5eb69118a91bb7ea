// Why is it off, and what went first? Check values by hand. First-out is the term of ISA-18.1 (from memory) for the
// alarm of a group that came first.
#include "report/why.hpp"

#include <catch2/catch.hpp>
#include <sstream>

#include "base/file.hpp"
#include "report/run_files.hpp"
#include "sim/run_file.hpp"
#include "sim/trace.hpp"
#include "support.hpp"

using namespace lanyard::report;
using namespace lanyard::test;

namespace {

const char* const two_trips = R"json({
  "lanyard": 1, "name": "two trips",
  "inputs": {
    "key": "maintained", "spare": "maintained",
    "oil": { "senses": "oil_pressure" }, "coolant": { "senses": "coolant_temperature" }
  },
  "logic": {
    "oil_low": "TON(key AND oil < 1 bar, 1 s)",
    "hot": "coolant > 104 degC",
    "tripped": "RS(oil_low OR hot, R_TRIG(key))"
  },
  "outputs": { "run": { "on": "key AND NOT tripped", "relay": "K1" }, "lamp": "key AND (spare OR NOT hot)" },
  "relays": { "K1": { "pulls_in": "10 ms", "drops_out": "20 ms", "feeds": ["injectors", "coils"] } },
  "claims": { "c": { "always": "TRUE" } }
})json";

// Oil goes at 2 s, trips at 3 s; what goes later changes nothing.
const char* const oil_first = R"({"changes": [
  {"at": "0 s", "set": {"oil_pressure": "3 bar", "coolant_temperature": "80 degC"}},
  {"at": "0.5 s", "set": {"key": "on"}},
  {"at": "2 s", "set": {"oil_pressure": "0.5 bar"}},
  {"at": "4 s", "set": {"coolant_temperature": "110 degC"}},
  {"at": "5 s", "set": {"key": "off"}}], "until": "7 s"})";

SignalId named(const Model& m, const std::string& name) {
    for (const auto& c : all_columns(m))
        if (c.name == name) return c.signal;
    FAIL("no signal " << name);
    return {};
}

Why asked(const ScriptedRun& played, const std::string& name, long scan) {
    const Run run = first_scans(played.run, scan + 1);
    const Film film(*played.model, run, any_condition, {});
    REQUIRE(film.broken_rule().empty());
    return why(film, named(*played.model, name), name);
}

}  // namespace

TEST_CASE("the first to go is told apart from what goes after it") {
    const ScriptedRun played = scripted(model_from(two_trips), oil_first);
    const Why w = asked(played, "run", 600);
    CHECK(w.state == "run off");
    CHECK(w.since == 300);
    CHECK(w.first == std::vector<FirstOut>{{200, "oil 0.5 bar is below 1 bar at 2.00 s"}});
    // What holds it off by now is more than that.
    const std::string text = why_text(*played.model, w);
    CHECK(text.find("key off since 5.00 s") != std::string::npos);
    CHECK(text.find("run off at 6.00 s (scan 600), since 3.00 s\n") == 0);
    CHECK(text.find("first out     2.00 s  oil 0.5 bar is below 1 bar at 2.00 s\n") != std::string::npos);
}

TEST_CASE("a relay and its loads follow later, and lead to the same") {
    const ScriptedRun played = scripted(model_from(two_trips), oil_first);
    const Why w = asked(played, "injectors", 600);
    CHECK(w.since == 302);  // 20 ms behind its coil
    REQUIRE(w.first.size() == 1);
    CHECK(w.first[0].scan == 200);
}

TEST_CASE("of an OR that goes off, the last to go is what did it") {
    const ScriptedRun played = scripted(model_from(two_trips), R"({"changes": [
      {"at": "0 s", "set": {"key": "on", "spare": "on", "oil_pressure": "3 bar", "coolant_temperature": "80 degC"}},
      {"at": "1 s", "set": {"coolant_temperature": "110 degC"}}, {"at": "2 s", "set": {"spare": "off"}}],
      "until": "3 s"})");
    const Why w = asked(played, "lamp", 290);
    CHECK(w.first == std::vector<FirstOut>{{200, "spare off at 2.00 s"}});
    CHECK(asked(played, "lamp", 150).state == "lamp on");
}

TEST_CASE("what came on was brought on by no alarm") {
    const ScriptedRun played = scripted(model_from(two_trips), R"({"changes": [
      {"at": "0 s", "set": {"spare": "on", "oil_pressure": "3 bar", "coolant_temperature": "80 degC"}},
      {"at": "1 s", "set": {"key": "on"}}], "until": "2 s"})");
    CHECK(why_text(*played.model, asked(played, "lamp", 150)) ==
          "lamp on at 1.50 s (scan 150), since 1.00 s\n"
          "held on by    key on since 1.00 s\n"
          "              spare on\n"
          "              hot off because coolant 80 degC is not above 104 degC\n"
          "came about    lamp on at 1.00 s because key on at 1.00 s\n"
          "began with    1.00 s  key on at 1.00 s\n");
}

TEST_CASE("on a way of power the last contact to move is what did it") {
    const auto text = read_file(std::string(REFUTED_CASES) + "/alternator-backfeed.json", 1U << 20U);
    REQUIRE(text);
    const ScriptedRun played = scripted(model_from(*text), R"({"changes": [{"at": "0 s", "set": {"master": "on"}},
      {"at": "1 s", "set": {"key": "on"}}, {"at": "2 s", "set": {"master": "off"}}], "until": "3 s"})");
    const Why on = asked(played, "injectors", 150);
    CHECK(on.state == "injectors powered");
    REQUIRE(on.first.size() == 1);
    CHECK(on.first[0].text.find("key on") == 0);
    const Why off = asked(played, "injectors", 290);
    CHECK(off.state == "injectors unpowered");
    REQUIRE(off.first.size() == 1);
    CHECK(off.first[0] == FirstOut{200, "master off at 2.00 s"});
}

TEST_CASE("two in one scan: both stand at the front") {
    const ScriptedRun played = scripted(model_from(two_trips), R"({"changes": [
      {"at": "0 s", "set": {"key": "on", "spare": "off", "oil_pressure": "3 bar", "coolant_temperature": "80 degC"}},
      {"at": "1 s", "set": {"coolant_temperature": "110 degC", "key": "off"}}], "until": "2 s"})");
    const Why w = asked(played, "lamp", 150);
    REQUIRE(w.first.size() == 2);
    CHECK(w.first[0].scan == 100);
    CHECK(w.first[1].scan == 100);
    std::istringstream text(why_text(*played.model, w));
    std::string words;
    for (std::string word; text >> word;) words += word + ' ';
    CHECK(words.find(", in the same scan ") != std::string::npos);
}

TEST_CASE("what has never been otherwise has no first out; what nobody decides says who does") {
    const ScriptedRun played = scripted(model_from(two_trips), oil_first);
    const Why w = asked(played, "run", 10);
    CHECK(w.since == 0);
    CHECK(w.first.empty());
    CHECK(w.change.empty());
    CHECK(why_text(*played.model, w) == "run off at 0.10 s (scan 10), since the run began\nheld off by   key off\n");
    CHECK(why_text(*played.model, asked(played, "key", 10)).find("moved by      whoever") != std::string::npos);
}

TEST_CASE("at any scan the chain ends at or before the scan at which the signal changed") {
    const ScriptedRun played = scripted(model_from(two_trips), oil_first);
    for (const char* name : {"run", "K1", "injectors", "lamp", "tripped", "oil_low", "hot"})
        for (long scan = 0; scan < 700; scan += 23) {
            const Why w = asked(played, name, scan);
            INFO(name << " at " << scan);
            CHECK((w.since == 0) == w.first.empty());
            for (const auto& f : w.first) CHECK(f.scan <= w.since);
        }
}

TEST_CASE("a run that was written is read back as it was") {
    const Model m = model_from(two_trips);
    const ScriptedRun played = scripted(m, oil_first);
    const std::string text = run_json(m, played.run, ClaimId(0), {"0.1.0", "Z3"});
    REQUIRE(is_run_file(text));
    const RunFile back = read_run(m, "run.json", text, "");
    INFO(render(back.diagnostics, back.source));
    REQUIRE(back.run);
    CHECK(back.claim == ClaimId(0));
    REQUIRE(back.run->segments.size() == played.run.segments.size());
    for (std::size_t k = 0; k < played.run.segments.size(); ++k) {
        CHECK(back.run->segments[k].scans == played.run.segments[k].scans);
        CHECK(back.run->segments[k].first.quantities == played.run.segments[k].first.quantities);
        CHECK(back.run->segments[k].first.readings == played.run.segments[k].first.readings);
        CHECK(back.run->segments[k].first.positions == played.run.segments[k].first.positions);
        CHECK(back.run->segments[k].first.contacts == played.run.segments[k].first.contacts);
    }
    CHECK(replay(m, *back.run, any_condition, {}).legal);
}

TEST_CASE("a file that is no run is refused with its place, all of it at once") {
    const Model m = model_from(two_trips);
    const auto refused = [&m](const std::string& text, const std::string& what) {
        const RunFile file = read_run(m, "run.json", text, "");
        const std::string all = render(file.diagnostics, file.source);
        CAPTURE(text, all);
        CHECK_FALSE(file.run);
        CHECK(all.find(what) != std::string::npos);
    };
    refused("{", "run.json:1:");
    refused(R"({"lanyard_run": 1})", "there is no \"claim\" here [run-form]");
    refused(R"({"lanyard_run": 1, "claim": "d", "segments": []})", "the model has no claim \"d\" [run-form]");
    refused(R"({"lanyard_run": 1, "claim": "c", "segments": []})", "the run has no segments [run-form]");
    refused(R"({"lanyard_run": 1, "claim": "c", "segments": [{"scans": 0}]})", "at least one [run-value]");
    refused(R"({"lanyard_run": 1, "claim": "c", "segments": [{"scans": 1, "positions": {"kee": true}}]})",
            "did you mean `key`?");
    refused(R"({"lanyard_run": 1, "claim": "c", "segments": [{"scans": 1, "quantities": {"oil_pressure": "x"}}]})",
            "this is not an exact number [run-value]");
    refused(R"({"lanyard_run": 1, "claim": "c", "segments": [{"scans": 1, "quantities": {}}]})",
            "\"quantities\" does not mention `oil_pressure` [run-form]");
    refused(R"({"lanyard_result": 1, "claims": []})", "there is no run here [run-form]");
    refused(R"({"lanyard_result": 1, "claims": 7})", "\"claims\" should be a list, this is a bare number [run-form]");
}
