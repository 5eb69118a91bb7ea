// Causes, by hand on small models, and on every run of the refuted cases: with what is marked changed, and nothing
// else, the interpreter plays a legal run that breaks nothing.
#include "explain/causes.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <iostream>
#include <set>

#include "base/file.hpp"
#include "explain/other_runs.hpp"
#include "explain/trap_causes.hpp"
#include "model/read.hpp"
#include "prove/driver.hpp"
#include "report/cause_marks.hpp"
#include "report/cause_words.hpp"
#include "sim/interpreter.hpp"
#include "support.hpp"

using namespace lanyard::explain;
using namespace lanyard::report;
using namespace lanyard::test;

namespace {

std::vector<std::string> causes_in(const std::string& text, const std::string& claim, const std::string& script) {
    const Model m = model_from(text);
    const ScriptedRun played = scripted(m, script, claim);
    const ClaimId which = claim_named(m, claim);
    REQUIRE(breaks(m, played.run, which));
    // Up to the scan that breaks it.
    long scans = 0;
    const Replay all = replay(m, played.run, m.claims[which].condition, which);
    while (!all.scans[scans++].violated) continue;
    const Run run = first_scans(played.run, scans);
    const Causes causes = causes_of(m, run, which);
    check_causes(m, run, which, causes);
    return cause_sentences(m, run, causes);
}

using Words = std::vector<std::string>;

const std::string guarded_lamp = R"({"lanyard": 1, "name": "m", "inputs": {"a": "maintained", "b": "maintained",
  "c": "maintained"}, "outputs": {"lamp": "a AND NOT b"}, "claims": {"never": {"always": "NOT lamp"}}})";

}  // namespace

TEST_CASE("what has no say is not marked, what was undone by then neither") {
    const Words found = causes_in(guarded_lamp, "never", R"({"changes": [{"at": "0 s", "set": {"b": "on"}},
      {"at": "0.1 s", "set": {"c": "on"}}, {"at": "0.2 s", "set": {"a": "on"}},
      {"at": "0.3 s", "set": {"c": "off"}}, {"at": "0.4 s", "set": {"b": "off"}}], "until": "1 s"})");
    CHECK(found == Words{"a on at 0.20 s: if it had stayed off, the claim would not be violated",
                         "b off at 0.40 s: if it had stayed on, the claim would not be violated"});
}

// The voting machine of Halpern & Pearl's examples: two that are each enough.
TEST_CASE("two that are each enough are marked together") {
    const std::string either = R"json({"lanyard": 1, "name": "m", "inputs": {"a": "maintained", "b": "maintained",
      "c": "maintained"}, "outputs": {"lamp": "a OR b"}, "claims": {"never": {"always": "NOT TON(lamp, 0.5 s)"}}})json";
    const Words found = causes_in(either, "never", R"({"changes": [{"at": "0.1 s", "set": {"a": "on"}},
      {"at": "0.1 s", "set": {"b": "on"}}, {"at": "0.2 s", "set": {"c": "on"}}], "until": "1 s"})");
    CHECK(found == Words{"a on at 0.10 s and b on at 0.10 s: neither alone, but if the first had stayed off and the "
                         "second had stayed off, the claim would not be violated"});
}

TEST_CASE("a quantity: held where it was, or another value of those at which something turns") {
    const std::string oil = R"json({"lanyard": 1, "name": "m", "inputs": {"key": "maintained",
      "oil": {"senses": "oil_pressure"}, "coolant": {"senses": "coolant_temperature"}},
      "outputs": {"run": "key AND (oil > 15 psi OR coolant > 200 degC)"},
      "claims": {"on": {"always": "key -> run"}}})json";
    const Words found = causes_in(oil, "on", R"({"changes": [{"at": "0 s",
      "set": {"oil_pressure": "40 psi", "key": "on", "coolant_temperature": "20 degC"}},
      {"at": "1 s", "set": {"oil_pressure": "7 psi"}}], "until": "2 s"})");
    REQUIRE(found.size() == 2);
    CHECK(found[1] == "the claim itself presupposes: key on at 0.00 s");
    CHECK(found[0] ==
          "oil_pressure falls to 7 psi at 1.00 s: if it had stayed at 40 psi, the claim would not be violated");
}

TEST_CASE("a choice that the condition does not leave is no cause") {
    const std::string held = R"({"lanyard": 1, "name": "m", "inputs": {"a": "maintained", "b": "maintained"},
      "outputs": {"lamp": "a AND b"}, "claims": {"never": {"always": "NOT lamp", "under": "a"}}})";
    const Words found = causes_in(held, "never", R"({"changes": [{"at": "0 s", "set": {"a": "on"}},
      {"at": "0.1 s", "set": {"b": "on"}}], "until": "1 s"})");
    CHECK(found == Words{"b on at 0.10 s: if it had stayed off, the claim would not be violated"});
}

TEST_CASE("where nothing could have helped, that is said") {
    const std::string never = R"({"lanyard": 1, "name": "m", "inputs": {"a": "maintained"},
      "outputs": {"lamp": "a OR NOT a"}, "claims": {"never": {"always": "NOT lamp"}}})";
    const Words found =
        causes_in(never, "never", R"({"changes": [{"at": "0 s", "set": {"a": "on"}}], "until": "1 s"})");
    REQUIRE(found.size() == 1);
    CHECK(found[0].find("no single choice") == 0);
}

TEST_CASE("of quantities not every value is tried") {
    const std::string never = R"({"lanyard": 1, "name": "m", "quantities": {"t": "0 .. 100 degC"},
      "outputs": {"lamp": "t >= 0 degC"}, "claims": {"never": {"always": "NOT lamp"}}})";
    const Words found =
        causes_in(never, "never", R"({"changes": [{"at": "0 s", "set": {"t": "20 degC"}}], "until": "1 s"})");
    CHECK(found ==
          Words{"no single choice or pair was found that explains it; of quantities only the values were tried "
                "at which something turns"});
}

// What the world let pass: it is not there as a change of the run.
TEST_CASE("an engine that fires late and an oil pressure that does not come") {
    const Model m = model_from(R"json({"lanyard": 1, "name": "m", "quantities": {"oil": "0 .. 100 psi"},
      "inputs": {"key": "maintained", "start": "momentary"}, "logic": {"trip": "TON(key AND oil < 15 psi, 3 s)"},
      "outputs": {"inj": "key AND NOT trip", "starter": "key AND start"},
      "engine": {"oil_pressure": "oil", "fires_with": ["inj"], "cranks_with": "starter", "firing_time": "0.5 .. 2 s"},
      "claims": {"it starts": {"procedure": ["set key", "hold start until engine = running, at most 4 s, reacts in 0 s",
        "wait 4 s"], "ends_with": "TON(engine = running, 2 s)", "under": "healthy"}}})json");
    const ClaimId claim = claim_named(m, "it starts");
    const ScriptedRun late = scripted(m, R"({"changes": [{"at": "0 s", "set": {"key": "on", "start": "on"}},
      {"at": "0.01 s", "set": {"engine": "cranking"}}, {"at": "1.2 s", "set": {"engine": "running"}},
      {"at": "1.22 s", "set": {"start": "off"}}], "until": "9 s"})",
                                      "it starts");
    long scans = 0;
    for (const auto& s : replay(m, late.run, m.claims[claim].condition, claim).scans)
        if (++scans, s.violated) break;
    const Run run = first_scans(late.run, scans);
    const Causes causes = causes_of(m, run, claim);
    check_causes(m, run, claim, causes);
    CHECK(cause_sentences(m, run, causes) ==
          Words{"engine still cranking at 0.51 s: if it had been running, the claim would not be violated",
                "oil stays at 0 psi at 1.21 s: if it had been 15 psi, the claim would not be violated"});
}

TEST_CASE("a sensor that is off and a relay that is slow") {
    const std::string slow = R"({"lanyard": 1, "name": "m", "inputs": {"kill": "maintained",
      "oil": {"senses": "oil_pressure", "accuracy": "2 psi"}},
      "outputs": {"run": {"on": "NOT kill", "relay": "K1"}, "warn": "oil < 15 psi"},
      "relays": {"K1": {"pulls_in": "0 .. 10 ms", "drops_out": "0 .. 50 ms", "feeds": ["pump"]}},
      "claims": {"off": {"whenever": "kill", "then": "NOT pump", "within": "40 ms"},
                 "warned": {"always": "oil_pressure < 14 psi -> warn"}}})";
    const Words late =
        causes_in(slow, "off", R"({"changes": [{"at": "0.2 s", "set": {"kill": "on"}}], "until": "1 s"})");
    REQUIRE(late.size() == 2);
    CHECK(late[1] == "the claim itself presupposes: kill on at 0.20 s");
    CHECK(late[0] == "K1 is slow: still pulled in at 0.20 s: if it had moved at once, the claim would not be violated");
    const Words off = causes_in(slow, "warned", R"({"changes": [{"at": "0 s", "set": {"oil_pressure": "40 psi"}},
      {"at": "0.2 s", "set": {"oil_pressure": "13.5 psi", "oil": "15.2 psi"}}], "until": "1 s"})");
    REQUIRE(off.size() == 2);
    CHECK(off[1] == "oil reads 15.2 psi at 0.20 s: if it had read the true value, the claim would not be violated");
}

TEST_CASE("further runs are there for other reasons, and no more than there are") {
    const Model m = model_from(R"({"lanyard": 1, "name": "m", "inputs": {"a": "maintained", "b": "maintained",
      "c": "maintained", "oil": {"senses": "oil_pressure"}},
      "outputs": {"lamp": "a AND c OR b AND c OR oil > 60 psi"},
      "claims": {"never": {"always": "NOT lamp"}}})");
    DriverOptions options;
    options.claims = {ClaimId(0)};
    const auto results = check_claims(m, options).results;
    const Run run = *std::get<Refuted>(results[0].verdict).run;
    const OtherRun first{run, causes_of(m, run, ClaimId(0))};
    const auto [others, no_more] = other_runs(m, first, ClaimId(0), 9, {});
    // c and a, c and b, oil.
    std::set<std::set<SignalId>> reasons;
    for (const auto& other : others) check_causes(m, other.run, ClaimId(0), other.causes);
    for (const auto* causes : {&first.causes, others.empty() ? nullptr : &others[0].causes,
                               others.size() < 2 ? nullptr : &others[1].causes}) {
        REQUIRE(causes != nullptr);
        std::set<SignalId> signals;
        for (const auto& cause : causes->list)
            for (const auto& p : cause.parts) signals.insert(signal_of(m, p.event));
        reasons.insert(signals);
    }
    CHECK(reasons.size() == 3);
    CHECK(others.size() >= 2);
    CHECK(no_more == NoMore::none);
    CHECK(other_runs(m, first, ClaimId(0), 1, {}).list.size() == 1);
    CHECK(other_runs(m, first, ClaimId(0), 1, {}).no_more == NoMore::enough);
}

TEST_CASE("each other fault that does the same is found, with no work left for a search") {
    const Model m = model_from(R"json({"lanyard": 1, "name": "m", "circuit": {"parts": {"battery": "battery",
      "key": {"is": "switch", "switch": "maintained"}, "lamp": "load", "horn": "load"},
      "wires": {"W1": "battery - key - lamp - ground", "W2": "battery - horn - ground"}},
      "claims": {"lights": {"always": "key -> lamp", "under": "any, one fault of any wire.open"}}})json");
    DriverOptions options;
    options.claims = {ClaimId(0)};
    const auto results = check_claims(m, options).results;
    const Run run = *std::get<Refuted>(results[0].verdict).run;
    const OtherRun first{run, causes_of(m, run, ClaimId(0))};
    JudgeOptions no_work;
    no_work.work_limit = 1;
    const auto [others, no_more] = other_runs(m, first, ClaimId(0), 9, no_work);
    std::multiset<std::string> faults;
    const auto add = [&](const OtherRun& other) {
        check_causes(m, other.run, ClaimId(0), other.causes);
        for (const auto& cause : other.causes.list)
            for (const auto& p : cause.parts)
                if (p.event.kind == InputEvent::Kind::fault) faults.insert(m.faults[p.event.index].name);
    };
    add(first);
    for (const auto& other : others) add(other);
    CHECK(faults == std::multiset<std::string>{"W1.1.open", "W1.2.open", "W1.3.open"});
    CHECK(no_more == NoMore::cut_short);
}

TEST_CASE("a switch that nobody touches is why, where its other position would have done") {
    const Words found = causes_in(R"json({"lanyard": 1, "name": "m", "inputs": {"float": "maintained",
      "master": "maintained", "light": "maintained"}, "outputs": {"pump": "master AND float", "lamp": "light"},
      "claims": {"bilge": {"always": "float -> pump"}}})json",
                                  "bilge", R"({"changes": [{"at": "0.1 s", "set": {"float": "on"}}], "until": "1 s"})");
    CHECK(found == Words{"master off at 0.00 s: if it had been on, the claim would not be violated",
                         "the claim itself presupposes: float on at 0.10 s"});
}

TEST_CASE("what takes power from less goes in front of what takes it from more") {
    const Words found = causes_in(R"json({"lanyard": 1, "name": "m", "circuit": {"parts": {"battery": "battery",
      "main": {"is": "switch", "switch": "maintained"}, "key": {"is": "switch", "switch": "maintained"},
      "cord": {"is": "switch", "switch": "maintained", "rests": "on"}, "pump": "load", "lamp": "load"},
      "wires": {"W1": "battery - main - bus", "W2": "bus - key - pump - ground", "W3": "bus - cord - lamp - ground"}},
      "claims": {"stops": {"whenever": "NOT cord", "then": "NOT pump", "within": "0.1 s"}}})json",
                                  "stops", R"({"changes": [{"at": "0 s", "set": {"main": "on", "key": "on"}},
                                             {"at": "0.1 s", "set": {"cord": "off"}}], "until": "1 s"})");
    CHECK(found == Words{"key on at 0.00 s: if it had been off, the claim would not be violated",
                         "main on at 0.00 s: if it had been off, the claim would not be violated",
                         "the claim itself presupposes: cord off at 0.10 s"});
}

TEST_CASE("what only keeps away what the claim is about goes behind") {
    const Words found = causes_in(R"json({"lanyard": 1, "name": "m", "inputs": {"key": "maintained",
      "override": "maintained"}, "outputs": {"run": "key", "pump": "override"},
      "claims": {"stops": {"whenever": "run", "then": "NOT pump", "within": "0.1 s"}}})json",
                                  "stops", R"({"changes": [{"at": "0 s", "set": {"key": "on", "override": "on"}}],
                                             "until": "1 s"})");
    CHECK(found == Words{"override on at 0.00 s: if it had been off, the claim would not be violated",
                         "key on at 0.00 s: if it had been off, the claim would not be violated"});
}

TEST_CASE("the causes of every refuted case, if changed, remove the violation", "[cases]") {
    std::vector<std::filesystem::path> files;
    for (const auto& f : std::filesystem::directory_iterator(REFUTED_CASES))
        if (f.path().extension() == ".json" && f.path().string().find(".expect.") == std::string::npos)
            files.push_back(f.path());
    std::sort(files.begin(), files.end());
    REQUIRE(files.size() > 50);
    int runs = 0, with_causes = 0, traps = 0, traps_with_causes = 0;
    for (const auto& file : files) {
        INFO(file.string());
        const ReadResult read = read_model(file.filename().string(), read_file(file, 1U << 24U).value_or(""));
        REQUIRE(read.model);
        DriverOptions options;
        options.jobs = 2;
        options.work_limit = 4'000'000;
        for (const ClaimId k : read.model->claims.ids()) options.claims.push_back(k);
        for (const auto& r : check_claims(*read.model, options).results) {
            const auto* refuted = std::get_if<Refuted>(&r.verdict);
            if (refuted == nullptr || !refuted->run) continue;
            INFO(read.model->claims[r.claim].id);
            if (refuted->certificate) {
                const Causes out =
                    trap_causes_of(*read.model, *refuted->run, *refuted->certificate, r.claim, JudgeOptions{});
                check_trap_causes(*read.model, *refuted->run, r.claim, out);
                ++traps;
                traps_with_causes += out.list.empty() ? 0 : 1;
                continue;
            }
            const Causes causes = causes_of(*read.model, *refuted->run, r.claim);
            check_causes(*read.model, *refuted->run, r.claim, causes);
            ++runs;
            with_causes += causes.list.empty() ? 0 : 1;
        }
    }
    std::cout << runs << " runs, " << with_causes << " with causes; " << traps << " traps, " << traps_with_causes
              << " with causes\n";
    CHECK(traps > 5);
    CHECK(traps_with_causes * 2 > traps);
    CHECK(runs > 50);
    CHECK(with_causes * 2 > runs);
}
