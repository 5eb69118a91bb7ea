#include "sim/transit.hpp"

namespace lanyard::sim {

Permission may_have_moved(const RelayState& s, const Relay& relay, bool coil, const Rational& scan) {
    if (coil == s.position) return {};
    const Interval& time = coil ? relay.pulls_in : relay.drops_out;
    Permission p;
    p.must = s.disagreed >= scans_up(time.hi, scan);
    p.may = p.must || s.disagreed >= scans_up(time.lo, scan);
    return p;
}

void go_on(RelayState& s, bool coil, bool position) {
    s.position = position;
    s.disagreed = coil == position ? 0 : s.disagreed + 1;
}

Permission may_be_up(const PowerState& s, const Supply& supply, bool on, bool first, const Rational& scan) {
    if (!on) return {};
    if (s.up || first) return {true, true};
    Permission p;
    p.must = s.waiting >= scans_up(supply.boots_in.hi, scan);
    p.may = p.must || s.waiting >= scans_up(supply.boots_in.lo, scan);
    return p;
}

void go_on(PowerState& s, bool on, bool up) {
    s.up = up;
    s.waiting = on && !up ? s.waiting + 1 : 0;
}

}  // namespace lanyard::sim
