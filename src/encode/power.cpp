#include "encode/power.hpp"

#include "encode/folded.hpp"

namespace lanyard::encode {

z3::expr Power::powered() {
    if (powered_) return *powered_;
    z3::expr on = folded_not(faults_.any(m_.supply.dead_by));
    if (m_.supply.on) on = folded_and(on, meaning_.boolean(*m_.supply.on, {"supply", false}));
    if (m_.circuit.supply_probe) on = folded_and(on, meaning_.answer(m_.circuit.supply_probe));
    on = folded_and(on, folded_not(meaning_.asked(ProbeKind::reset, {})));
    const Interval& boots = m_.supply.boots_in;
    if (boots.hi == 0 || on.is_true()) {
        powered_ = on.is_true() ? on : s_.part("supply", on);
        return *powered_;
    }
    // `up`: had power at the previous scan; at scan 0 a supply that is on counts as booted.
    const z3::expr up_before = s_.state({StateRole::up, Whole::supply}, truth(true), "supply");
    const z3::expr waiting = on && !up_before;
    RunClock& c = s_.clock({StateRole::booting, Whole::supply}, "supply", waiting, false);
    const z3::expr may = s_.at_least(c, s_.up(boots.lo) + 1);
    const z3::expr must = s_.at_least(c, s_.up(boots.hi) + 1);
    const z3::expr choice = s_.choice({StateRole::booted, Whole::supply});
    s_.readback().booted = choice;
    powered_ = s_.part("supply", on && (up_before || must || (may && choice)));
    c.resets = *powered_;
    s_.state_next(up_before, *powered_);
    return *powered_;
}

z3::expr Power::powered_before() {
    if (!powered_before_) powered_before_ = s_.before({StateRole::powered_before}, "", [this] { return powered(); });
    return *powered_before_;
}

// The coil as its own relay feels it.
z3::expr Power::pulls(RelayId id) {
    const Relay& relay = m_.relays[id];
    const z3::expr energised = relay.coil_probe ? meaning_.answer(relay.coil_probe) : meaning_.driving(relay.coil);
    return folded_and(energised, folded_not(faults_.any(relay.never_pulls_by)));
}

z3::expr Power::contact_before(RelayId id) {
    if (const auto* known = find(contacts_before_, id)) return *known;
    const SignalId contact = m_.relays[id].contact;
    const auto now = [this, contact] { return meaning_.signal(contact); };
    return contacts_before_.emplace(id, s_.before({StateRole::closed, contact}, m_.name_of(contact), now))
        .first->second;
}

// Coil and contact disagree: found moved as early as the shortest time allows, at the latest after the longest. A weld
// holds what has been closed.
z3::expr Power::contact(RelayId id) {
    const Relay& relay = m_.relays[id];
    const std::string& name = m_.name_of(relay.contact);
    const bool ideal = relay.pulls_in.hi == 0 && relay.drops_out.hi == 0 && !faults_.may_happen(relay.slow_by);
    z3::expr wants = pulls(id);
    if (faults_.may_happen(relay.welded_by))
        wants = folded_or(wants, folded_and(faults_.any(relay.welded_by), contact_before(id)));
    wants_.emplace(id, wants);
    z3::expr found = wants;
    if (!ideal) {
        const z3::expr closed = contact_before(id);
        RunClock& c = s_.clock({StateRole::transit, relay.contact}, name, wants != closed, false);
        const z3::expr choice = s_.choice({StateRole::moves, relay.contact});
        const auto moves = [&](const Interval& t) {
            z3::expr must = s_.at_least(c, s_.up(t.hi) + 1);
            for (const FaultId f : relay.slow_by) {
                const auto& takes = m_.faults[f].value;
                if (!faults_.may_happen(f) || !takes || *takes <= t.hi) continue;
                must = folded_and(must, folded_not(faults_.fault(f))) || s_.at_least(c, s_.up(*takes) + 1);
            }
            return must || (s_.at_least(c, s_.up(t.lo) + 1) && choice);
        };
        const z3::expr moved = wants != closed && z3::ite(wants, moves(relay.pulls_in), moves(relay.drops_out));
        c.resets = moved;
        found = z3::ite(moved, wants, closed);
    }
    s_.readback().contacts[id] = found;
    return found;
}

}  // namespace lanyard::encode
