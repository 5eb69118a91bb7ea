// What it decides: nothing; it looks. Each run of the sound car is played once more with the fault there from the first
// scan on: the same switches, quantities and engine, as nearly as the world lets them. Where a load differs at some
// scan, the fault has an effect that somebody can see in that situation. Of faults that no probe can tell apart one is
// played for all.
//
// When it gives up: a fault that differs in none of the runs may still differ in others, so that is called "not seen"
// and never "harmless".
// Tested by: tests/fault/analysis_test.cpp
#include "fault/effects.hpp"

#include <algorithm>
#include <set>

#include "fault/play_again.hpp"
#include "model/faults.hpp"

namespace lanyard::fault {

namespace {

constexpr unsigned random_runs = 2;
constexpr long random_scans = 300;

struct Difference {
    std::set<SignalId> lost, gained;
    bool any() const { return !lost.empty() || !gained.empty(); }
};

ConditionId under_any_with(Model& m, FaultId fault) {
    use_fault(m, fault);
    Condition c = m.conditions[any_condition];
    c.present = {fault};
    return m.conditions.add(std::move(c));
}

// A run of the sound car, with what each scan of it shows of the loads.
struct Played {
    Run run;
    std::vector<Indexed<Load, bool>> loads;
};

Indexed<Load, bool> loads_of(const Model& m, const Scan& s) {
    Indexed<Load, bool> on;
    for (const auto& load : m.loads) on.push_back(std::get<bool>(s.signals[load.signal]));
    return on;
}

Played played(const Model& m, const Run& run) {
    Played out{run, {}};
    Interpreter interpreter(m, any_condition, {});
    play(interpreter, run, [&](const Choices&, const Scan& s) {
        if (s.broken_rule.empty()) out.loads.push_back(loads_of(m, s));
        return true;
    });
    return out;
}

class Comparison {
 public:
    Comparison(const Model& sound, FaultId fault)
        : with_(sound), condition_(under_any_with(with_, fault)), world_(with_, condition_, {}) {}

    void play(const Played& sound, Difference& out) const {
        std::size_t n = 0;
        play_again(with_, world_, condition_, {}, sound.run, [&](const Scan& s) {
            if (n == sound.loads.size()) return false;
            compare(sound.loads[n++], loads_of(with_, s), out);
            return true;
        });
    }

 private:
    void compare(const Indexed<Load, bool>& plain, const Indexed<Load, bool>& faulty, Difference& out) const {
        for (const LoadId k : plain.ids())
            if (plain[k] != faulty[k]) (plain[k] ? out.lost : out.gained).insert(with_.loads[k].signal);
    }

    Model with_;
    ConditionId condition_;
    World world_;
};

}  // namespace

std::vector<Effect> effects_of(const Model& model, const FaultGroups& groups, const std::vector<ClaimFaults>& claims) {
    std::vector<Played> use, bench;
    for (const auto& c : claims)
        if (c.example) (shows_use(model, c) ? use : bench).push_back(played(model, *c.example));
    for (unsigned seed = 1; seed <= random_runs; ++seed)
        bench.push_back(played(model, random_run(model, any_condition, {}, seed, random_scans)));
    std::vector<Effect> out;
    for (const auto& group : groups) {
        const Comparison comparison(model, group.front());
        Difference seen;
        for (const auto& r : use) comparison.play(r, seen);
        Effect e;
        if (seen.any()) e.shows = Shows::in_use;
        for (const auto& r : bench) comparison.play(r, seen);
        if (e.shows == Shows::not_seen && seen.any()) e.shows = Shows::on_a_bench;
        e.lost.assign(seen.lost.begin(), seen.lost.end());
        e.gained.assign(seen.gained.begin(), seen.gained.end());
        for (const FaultId f : group) {
            e.fault = f;
            out.push_back(e);
        }
    }
    std::sort(out.begin(), out.end(), [](const Effect& a, const Effect& b) { return a.fault < b.fault; });
    return out;
}

}  // namespace lanyard::fault
