// A run as a plain value: what the world chose at each scan. Everything else follows, and the interpreter says what.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "base/rational.hpp"
#include "lang/expr.hpp"
#include "model/model.hpp"

namespace lanyard::claims {

using Value = std::variant<bool, Rational, Mode>;

// The free choices of one scan; one entry for each item of the model, in the model's order.
struct Choices {
    Indexed<Quantity, Rational> quantities;
    Indexed<Switch, bool> positions;
    Indexed<Switch, bool> missed;  // the old position is still seen (only where it may be missed)
    Indexed<Sensor, Rational> readings;
    Indexed<Relay, bool> contacts;   // where its contact is found
    Indexed<Load, bool> free_loads;  // has power, where nothing in the model feeds it
    Indexed<Probe, bool> wiring;     // the answer
    Indexed<Fault, bool> faults;     // it is there; empty: none is
    bool booted = true;              // the controller is up (only where boots_in leaves a choice)
    Mode next_mode = Mode::stopped;  // where the engine goes after this scan
    bool claim_moves_on = false;     // procedure: this scan is the last of the present phase, where that is free
    // Mode at scan 0 is stopped; at scan n it is next_mode of scan n - 1.

    friend bool operator==(const Choices&, const Choices&) = default;
};

// The things of which a run chooses, under the names that their choices have in Choices.
struct Chosen {
    explicit Chosen(const Model& m);
    const Indexed<Quantity>& quantities;
    const Indexed<Switch>&positions, &missed;
    const Indexed<Sensor>& readings;
    const Indexed<Relay>& contacts;
    const Indexed<Load>& free_loads;
    const Indexed<Probe>& wiring;
    const Indexed<Fault>& faults;
};

// Calls f with each list of Choices, which is the one place that names them all: with those of that name in each of
// `all`, be it Choices or something else that has an entry for each of them.
template <class F, class... All>
void each_choice(const F& f, All&&... all) {
    f(all.positions...);
    f(all.missed...);
    f(all.contacts...);
    f(all.free_loads...);
    f(all.wiring...);
    f(all.faults...);
    f(all.quantities...);
    f(all.readings...);
}

// An entry for each thing that `of` has, in each list of `choices`.
template <class C>
void give_entries(C& choices, const Chosen& of) {
    each_choice([](auto& list, const auto& things) { list.resize(things.size()); }, choices, of);
}

// `scans` equal scans, except that quantities (and the readings of them) may move on a straight line from `first` to
// `last`. A segment of one scan has last = first.
struct Segment {
    long scans = 1;
    Choices first;
    Indexed<Quantity, Rational> last_quantities;  // empty: as in `first`
    Indexed<Sensor, Rational> last_readings;      // empty: as in `first`
};

struct Run {
    std::vector<Segment> segments;
    long scans() const {
        long n = 0;
        for (const auto& s : segments) n += s.scans;
        return n;
    }
};

// The choices of scan `i` (counted from 0) of a segment.
Choices choices_at(const Segment& s, long i);
// Of a run; behind its end those of its last scan.
Choices choices_at(const Run& run, long scan);
// The segment's first `scans` scans; at least one.
Segment first_scans(const Segment& s, long scans);

// Likewise of a run.
Run first_scans(const Run& run, long scans);

// Those that are there at some scan, by number; rising.
std::vector<FaultId> faults_of(const Run& run);

// Calls f with the choices of each scan, until it returns false.
template <class F>
void each_scan(const Run& run, F&& f) {
    for (const auto& segment : run.segments)
        for (long i = 0; i < segment.scans; ++i)
            if (!f(choices_at(segment, i))) return;
}

}  // namespace lanyard::claims
