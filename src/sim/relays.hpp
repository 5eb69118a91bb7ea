// Relays: a contact follows its coil with a delay.
#pragma once

#include <string>

#include "sim/faults.hpp"

namespace lanyard::sim {

class Relays {
 public:
    explicit Relays(const Model& model) : m_(model), relays_(like(model.relays)) {}

    // Of the contact.
    bool position(RelayId relay) const { return relays_[relay].position; }
    // The coil does, or a weld.
    bool pulls(RelayId relay) const { return relays_[relay].pulls; }
    // Consecutive earlier scans in which the contact was not where the coil wants it.
    long disagreed(RelayId relay) const { return relays_[relay].disagreed; }

    void energise(RelayId relay, bool energised, const Faults& faults) {
        const Relay& r = m_.relays[relay];
        State& s = relays_[relay];
        const bool welded = faults.there(r.welded_by) && s.position;
        s.pulls = welded || (energised && !faults.there(r.never_pulls_by));
    }
    // Whether the contact may be found moved to where the coil wants it, counted from the scan at which the coil
    // changed. A coil that agrees moves nothing.
    Permission may_have_moved(RelayId relay, const Faults& faults) const {
        const Relay& r = m_.relays[relay];
        const State& s = relays_[relay];
        if (s.pulls == s.position) return {};
        const Interval& time = s.pulls ? r.pulls_in : r.drops_out;
        const Rational* longest = &time.hi;
        for (const FaultId f : r.slow_by) {
            const auto& slow = m_.faults[f].value;
            if (faults.there(f) && slow && *slow > *longest) longest = &*slow;
        }
        return after_delay(s.disagreed, time.lo, *longest, m_.scan);
    }
    void move(RelayId relay, bool position) {
        State& s = relays_[relay];
        s.position = position;
        s.disagreed = s.pulls == position ? 0 : s.disagreed + 1;
    }
    void append_text(std::string& text) const {
        for (const State& s : relays_) text += (s.position ? '1' : '0') + std::to_string(s.disagreed) + ' ';
    }

 private:
    struct State {
        bool position = false, pulls = false;
        long disagreed = 0;
    };
    const Model& m_;
    Indexed<Relay, State> relays_;
};

}  // namespace lanyard::sim
