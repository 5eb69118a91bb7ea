// Faults in stories: as events, in the head, as reasons.
#include <catch2/catch.hpp>
#include <sstream>

#include "report/cause_words.hpp"
#include "report/faults.hpp"
#include "report/json.hpp"
#include "report/run_files.hpp"
#include "report/story.hpp"
#include "support.hpp"

using namespace lanyard::report;
using namespace lanyard::test;

namespace {

// A relay that the master switch lets go of.
const std::string& welding() {
    static const std::string text = R"json({ "lanyard": 1, "name": "relay",
  "inputs": { "key": "maintained", "live": { "reads": "plus" }, "oil": { "senses": "oil_pressure" } },
  "outputs": { "inj": { "on": "key AND (oil > 1 bar OR live)", "drives": "low side" } },
  "circuit": {
    "parts": { "battery": "battery", "injectors": "load", "K1": { "is": "relay", "pulls_in": "10 ms", "drops_out": "10 ms" },
      "master": { "is": "switch", "switch": "maintained" } },
    "wires": { "W1": "battery - master - K1.coil - ground", "W2": "battery - K1.make - ign",
      "W3": "ign - injectors - inj", "W4": "battery - controller.plus", "W5": "ign - live" } },
  "faults": { "oil.open": { "reads": "8 bar" }, "gremlin": {} },
  "claims": {
    "cut": { "whenever": "NOT master", "then": "NOT injectors", "within": "200 ms", "under": "any, up to 2 faults of K1, oil.open" },
    "node": { "always": "NOT ign", "under": "any, one fault of everything" },
    "oil is seen": { "always": "oil_pressure < 0.5 bar -> oil < 1 bar", "under": "any, one fault of oil.open, gremlin" },
    "powered": { "always": "TON(master AND key, 50 ms) -> injectors", "under": "any, up to 4 faults of everything" },
    "whole": { "always": "key -> injectors", "under": "any, one fault of K1" } } })json";
    return text;
}

// Lines of a chain joined, whatever its width.
std::string unwrapped(const std::string& text) {
    std::istringstream in(text);
    std::string out;
    for (std::string word; in >> word;) out += word + ' ';
    return out;
}

}  // namespace

TEST_CASE("a contact welds while the engine is on") {
    const Model m = model_from(welding());
    Playing p(m, "cut");
    p.fault("oil.open").set("key", true).set("master", true).scans(5).fault("K1.welded").scans(5);
    p.set("master", false).until_broken(40);
    check_golden("welded.txt", story_of(m, p.refuted()));
    check_golden("welded.json", run_json(m, p.run(), claim_named(m, "cut"), versions()));
    const std::string vcd = run_vcd(m, p.run(), claim_named(m, "cut"), versions());
    CHECK(vcd.find("$scope module faults $end\n$scope module K1 $end\n") != std::string::npos);
    CHECK(vcd.find(" welded $end") != std::string::npos);
    CHECK(vcd.find(" live $end") != std::string::npos);
    CHECK(vcd.find(" ign $end") != std::string::npos);
    CHECK(vcd.find(" slow $end") == std::string::npos);
}

TEST_CASE("a contact that is to weld pulls in first") {
    const Model m = model_from(welding());
    Playing p(m, "cut");
    p.fault("K1.welded").set("oil_pressure", "3 bar").set("key", true).set("master", true).scans(5);
    p.set("master", false).until_broken(40);
    check_golden("welds-later.txt", story_of(m, p.refuted()));
}

TEST_CASE("a run that needs no fault says so") {
    const Model m = model_from(welding());
    Playing p(m, "whole");
    const std::string text = story_of(m, p.set("key", true).until_broken(2).refuted());
    CHECK(text.find("faults        none: the run needs no fault\n") != std::string::npos);
    Playing q(m, "oil is seen");
    const std::string broken = story_of(m, q.scans(3).fault("oil.open").until_broken(2).refuted());
    CHECK(broken.find("faults        oil.open (the signal wire of oil breaks)\n") != std::string::npos);
    CHECK(why_of(m, q) ==
          "oil_pressure 0 bar is below 0.5 bar\n"
          "oil 8 bar is not below 1 bar\n"
          "   because the signal wire of oil breaks at 0.03 s\n");
}

TEST_CASE("what is broken is told in place of what is open") {
    const Model m = model_from(welding());
    const auto why = [&](const std::string& fault, bool from_the_start) {
        Playing p(m, "powered");
        p.set("oil_pressure", "5 bar").set("key", true);
        if (from_the_start) p.fault(fault);
        p.scans(5).set("master", true);
        if (!from_the_start) p.fault(fault);
        return unwrapped(why_of(m, p.until_broken(10)));
    };
    const auto tells = [](const std::string& text, const std::string& part) {
        INFO(text);
        CHECK(text.find(part) != std::string::npos);
    };
    tells(why("W2.1.open", false),
          "injectors unpowered because the wire W2.1 from battery.plus to K1.30 breaks at 0.05 s ");
    tells(why("injectors.open", true),
          "injectors unpowered because the load injectors is broken inside (from the start) ");
    tells(why("K1.never_pulls", true),
          "injectors unpowered because K1 dropped out because the relay K1 never pulls in (from the start) ");
    tells(why("inj.stuck_off", false), "injectors unpowered because the output inj stays off at 0.05 s ");
    tells(why("controller.dead", false),
          "injectors unpowered because inj off because controller has no power because the controller dies at 0.05 s ");
}

TEST_CASE("a short feeds a node") {
    const Model m = model_from(welding());
    Playing p(m, "node");
    CHECK(unwrapped(why_of(m, p.scans(2).fault("W5.to_battery").until_broken(2))) ==
          "ign live because battery - W5.to_battery - ign because the wire W5 from ign to live is shorted to battery "
          "plus "
          "at 0.02 s ");
}

TEST_CASE("a fault that is a cause says from where to where") {
    const Model m = model_from(welding());
    Playing p(m, "node");
    p.scans(2).fault("W5.to_battery").until_broken(2);
    Causes causes;
    RunCause& cause = causes.list.emplace_back();
    for (const FaultId f : m.faults.ids())
        if (m.faults[f].name == "W5.to_battery")
            cause.parts.push_back({{InputEvent::Kind::fault, f, 2, 3}, Value(false)});
    CHECK(cause_sentences(m, p.run(), causes) ==
          std::vector<std::string>{"the wire W5 from ign to live is shorted to battery plus at 0.02 s: if it had not "
                                   "happened, the claim would not be violated"});
}

TEST_CASE("a fault of a wire says from where to where") {
    const Model m = model_from(welding());
    const auto named = [&](const std::string& name) {
        for (const FaultId f : m.faults.ids())
            if (m.faults[f].name == name) return f;
        return FaultId{};
    };
    CHECK(fault_words(m, named("W2.1.open")) == "the wire W2.1 from battery.plus to K1.30 breaks");
    CHECK(fault_words(m, named("W3.1.to_battery")) == "the wire W3.1 from ign to injectors is shorted to battery plus");
    CHECK(fault_words(m, named("W5.to_ground")) == "the wire W5 from ign to live is shorted to ground");
    CHECK(fault_words(m, named("K1.welded")) == "the contact of the relay K1 welds");
    CHECK(fault_words(m, named("gremlin")) == "gremlin happens");
    CHECK(fault_name_with_ends(m, named("W5.open")) == "W5.open, from ign to live");
    CHECK(fault_name_with_ends(m, named("K1.welded")) == "K1.welded");
}

TEST_CASE("a fault matters that breaks a claim or powers something; the others are only counted") {
    const Model m = model_from(welding());
    FaultTables t;
    CutSet alone, pair;
    alone.faults = {FaultId(1)};
    pair.faults = {FaultId(2), FaultId(3)};
    ClaimFaults cut;
    cut.claim = ClaimId(0);
    cut.sets = {alone, pair};
    t.claims = {cut};
    const SignalId load = m.loads[LoadId(0)].signal;
    t.effects = {{FaultId(0), {load}, {}, Shows::in_use},
                 {FaultId(1), {load}, {}, Shows::not_seen},
                 {FaultId(2), {}, {}, Shows::in_use},
                 {FaultId(4), {}, {load}, Shows::in_use},
                 {FaultId(5), {}, {}, Shows::not_seen}};
    std::vector<bool> matters;
    for (const auto& mode : failure_modes(m, t)) matters.push_back(mode.matters);
    CHECK(matters == std::vector<bool>{false, true, true, true, false});
    const FaultCounts n = fault_counts(m, t);
    CHECK(n.alone == 1);
    CHECK(n.hidden == 1);
}

TEST_CASE("an event of one's own begins and is there") {
    const Model m = model_from(
        R"json({"lanyard": 1, "name": "m", "inputs": {"key": "maintained"}, "outputs": {"out": "key"},
        "faults": {"gremlin": {"comes_and_goes": true}},
        "claims": {"claim": {"always": "NOT (out AND gremlin)", "under": "any, one fault of gremlin"}}})json");
    Playing p(m, "claim");
    p.fault("gremlin").scans(2).fault("gremlin", false).scans(2).fault("gremlin").set("key", true).until_broken(2);
    check_golden("event.txt", story_of(m, p.refuted()));
}
