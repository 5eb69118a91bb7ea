// Of every run that is shown for a refuted case: no switch, no fault and no load that nothing feeds does something that
// could be left out or done a scan earlier. Played here with the run's own choices and nothing else changed; what is
// not legal then needs it.
#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <iostream>

#include "../models.hpp"
#include "base/file.hpp"
#include "prove/driver.hpp"
#include "prove/settle.hpp"
#include "sim/interpreter.hpp"
#include "sim/world.hpp"
#include "trap.hpp"

using namespace lanyard::prove;
using namespace lanyard::test;

namespace {

using Scans = std::vector<Choices>;

Scans scans_of(const Run& run) {
    Scans out;
    each_scan(run, [&](const Choices& c) {
        out.push_back(c);
        return true;
    });
    return out;
}

bool breaks(const Model& m, ClaimId claim, const Scans& scans) {
    Interpreter now(m, m.claims[claim].condition, claim);
    for (const auto& c : scans) {
        const Scan s = now.step(c);
        if (!s.broken_rule.empty()) return false;
        if (s.violated) return true;
    }
    return false;
}

// No hair's breadth: the violation goes on for half a second.
bool breaks_clearly(const Model& m, ClaimId claim, const Scans& scans) {
    Question q;
    q.model = &m;
    q.claim = claim;
    q.condition = m.claims[claim].condition;
    Run run;
    for (const auto& c : scans) append(run, c);
    const auto ends = up_to_answer(q, run);
    return ends && stays_broken(q, *ends, scans_up(Rational(1, 2), m.scan));
}

// Calls `see` with each run in which one change is left out, or comes one scan earlier.
template <class Get, class Set, class See>
void each_plainer(const Scans& run, const Get& get, const Set& set, const See& see) {
    for (std::size_t n = 1; n < run.size(); ++n) {
        const bool now = get(run[n]), before = get(run[n - 1]);
        if (now == before) continue;
        Scans without = run;
        for (std::size_t k = n; k < run.size() && get(run[k]) == now; ++k) set(without[k], before);
        see(without, "left out", n);
        Scans earlier = run;
        set(earlier[n - 1], now);
        see(earlier, "a scan earlier", n);
    }
}

int check_settled(const Model& m, ClaimId claim, const Run& run) {
    const Scans scans = scans_of(run);
    REQUIRE(breaks(m, claim, scans));
    const bool clear = breaks_clearly(m, claim, scans);
    int looked = 0;
    const auto see = [&](const Scans& plainer, const std::string& how, std::size_t n) {
        ++looked;
        INFO(how << ", scan " << n);
        // What breaks the claim by less may come earlier.
        const bool counts = how == "left out" || !clear || breaks_clearly(m, claim, plainer);
        CHECK_FALSE((counts && breaks(m, claim, plainer)));
    };
    for (const SwitchId i : m.switches.ids()) {
        INFO(m.name_of(m.switches[i].position));
        each_plainer(
            scans, [i](const Choices& c) { return bool(c.positions[i]); },
            [i](Choices& c, bool on) { c.positions[i] = on; }, see);
    }
    for (const FaultId i : m.faults.ids()) {
        if (scans[0].faults.empty()) break;
        INFO(m.faults[i].name);
        each_plainer(
            scans, [i](const Choices& c) { return bool(c.faults[i]); }, [i](Choices& c, bool on) { c.faults[i] = on; },
            see);
    }
    for (const LoadId i : m.loads.ids()) {
        if (!m.loads[i].is_free()) continue;
        INFO(m.name_of(m.loads[i].signal));
        each_plainer(
            scans, [i](const Choices& c) { return bool(c.free_loads[i]); },
            [i](Choices& c, bool on) { c.free_loads[i] = on; }, see);
    }
    return looked;
}

DriverReport judge_all(const Model& m) {
    DriverOptions options;
    options.jobs = 2;
    options.work_limit = 4'000'000;
    for (const ClaimId k : m.claims.ids()) options.claims.push_back(k);
    return check_claims(m, options);
}

}  // namespace

TEST_CASE("the runs of the refuted cases are settled", "[cases]") {
    std::vector<std::filesystem::path> files;
    for (const auto& f : std::filesystem::directory_iterator(REFUTED_CASES))
        if (f.path().extension() == ".json" && f.path().string().find(".expect.") == std::string::npos)
            files.push_back(f.path());
    std::sort(files.begin(), files.end());
    REQUIRE(files.size() > 50);
    int runs = 0, traps = 0, changes = 0;
    for (const auto& file : files) {
        INFO(file.string());
        const ReadResult read = read_model(file.filename().string(), read_file(file, 1U << 24U).value_or(""));
        REQUIRE(read.model);
        for (const auto& r : judge_all(*read.model).results) {
            const auto* refuted = std::get_if<Refuted>(&r.verdict);
            if (refuted == nullptr || !refuted->run) continue;
            INFO(read.model->claims[r.claim].id);
            if (refuted->certificate) {
                ++traps;
                check_trapped(*read.model, r.claim, *refuted->run, *refuted->certificate);
                continue;
            }
            ++runs;
            changes += check_settled(*read.model, r.claim, *refuted->run);
        }
    }
    std::cout << runs << " runs, " << changes << " plainer ones; " << traps << " traps\n";
    CHECK(runs > 50);
    CHECK(changes > 50);
    CHECK(traps > 3);
}

namespace {

Run refuting(const Model& m) {
    const DriverReport report = judge_all(m);
    const auto* refuted = std::get_if<Refuted>(&report.results.at(0).verdict);
    REQUIRE(refuted != nullptr);
    REQUIRE(refuted->run);
    return *refuted->run;
}

const std::string engine =
    "'quantities': {'speed': '0 .. 9000 rpm', 'oil': '0 .. 6 bar'}, 'inputs': {'key': 'maintained', 'kill': "
    "'maintained'}, 'engine': {'speed': 'speed', 'oil_pressure': 'oil', 'fires_with': ['coil']}, ";

}  // namespace

TEST_CASE("an engine runs where a run without one would do", "[settled]") {
    const Model m = model_of(engine +
                             "'outputs': {'coil': 'key'}, 'claims': {'c': {'whenever': 'speed > 500 rpm AND "
                             "oil < 1 bar', 'then': 'NOT coil', 'within': '1 s'}}");
    const Run run = refuting(m);
    const Choices end = choices_at(run, run.scans() - 1);
    CHECK(end.next_mode == Mode::running);
    for (const auto& s : run.segments) CHECK(s.first.positions[SwitchId(0)]);
    for (const auto& s : run.segments) CHECK_FALSE(s.first.positions[SwitchId(1)]);
    for (const auto& s : run.segments) CHECK(s.first.quantities[QuantityId(1)] == end.quantities[QuantityId(1)]);
}

TEST_CASE("a violation that lasts is told before one that is over in the next scan", "[settled]") {
    // Above 3 V the pump comes on too late, between 2 V and 3 V never.
    const Model m = model_of(
        "'quantities': {'u': {'range': '0 .. 5 V'}}, 'outputs': {'pump': 'TON(u > 3 V, 1 s)'}, 'claims': {'c': "
        "{'whenever': 'u > 2 V', 'then': 'pump', 'within': '0.5 s'}}");
    const Run run = refuting(m);
    for (const auto& s : run.segments) {
        CHECK(s.first.quantities[QuantityId(0)] > 2);
        CHECK(s.first.quantities[QuantityId(0)] <= 3);
    }
}

TEST_CASE("a load that nothing feeds keeps its power where a switch can do the same", "[settled]") {
    const Model m = model_of(
        "'quantities': {'speed': '0 .. 9000 rpm'}, 'inputs': {'key': {'switch': 'maintained', 'rests': 'on'}}, "
        "'outputs': {'coil': 'key'}, 'engine': {'speed': 'speed', 'fires_with': ['coil'], 'cranks_with': 'starter', "
        "'free': ['starter']}, "
        "'claims': {'c': {'always': 'NOT (RS(coil AND starter, FALSE) AND NOT (coil AND starter))'}}");
    const Run run = refuting(m);
    int free = 0;
    for (const LoadId i : m.loads.ids())
        if (m.loads[i].is_free()) {
            ++free;
            for (const auto& s : run.segments) CHECK(s.first.free_loads[i]);
        }
    CHECK(free == 1);
    CHECK_FALSE(run.segments.back().first.positions[SwitchId(0)]);
}

TEST_CASE("a miss by a hair's breadth is not told where there is a clear one", "[settled]") {
    // 0.03 s late, and 3 s with the switch on.
    const Model m = model_of(
        "'inputs': {'begin': 'maintained', 'slow': 'maintained'}, 'outputs': {'pump': 'TON(begin, 0.51 s) AND NOT slow "
        "OR TON(begin, 3.5 s)'}, 'claims': {'c': {'whenever': 'begin', 'then': 'pump', 'within': '0.5 s'}}");
    const Run run = refuting(m);
    for (const auto& s : run.segments) CHECK(s.first.positions[SwitchId(1)]);
}

TEST_CASE("nothing waits for nothing, and the engine cranks as soon as its starter has power", "[settled]") {
    const Model m = model_of(
        "'quantities': {'speed': '0 .. 9000 rpm'}, 'inputs': {'key': 'maintained', 'start': 'momentary', 'kill': "
        "'maintained'}, 'outputs': {'coil': 'key', 'starter': 'start'}, 'engine': {'speed': 'speed', 'fires_with': "
        "['coil'], 'cranks_with': 'starter'}, 'claims': {'c': {'whenever': 'kill AND engine = running', 'then': "
        "'NOT coil', 'within': '1 s'}}");
    Run late = refuting(m);
    CHECK(late.scans() == 51 + 99);
    CHECK(late.segments[0].first.next_mode == Mode::cranking);
    // More scans than settling plays, then the starter has power for two in vain.
    Segment wait = late.segments[0];
    wait.first.next_mode = Mode::stopped;
    wait.scans = 2;
    late.segments.insert(late.segments.begin(), wait);
    wait.first.positions[SwitchId(1)] = false;
    wait.scans = 30'000;
    late.segments.insert(late.segments.begin(), wait);
    Question q;
    q.model = &m;
    q.claim = ClaimId(0);
    q.condition = m.claims[q.claim].condition;
    const Run run = settled(q, late, {});
    CHECK(run.scans() == 51 + 99);
    CHECK(run.segments[0].first.next_mode == Mode::cranking);
}
