// Things that follow with a delay which is known as an interval only: a relay's contact its coil, the controller its
// supply. Whether they have followed is for the world to choose where the interval leaves it open.
#pragma once

#include "model/model.hpp"

namespace lanyard::sim {

struct Permission {
    bool may = false;
    bool must = false;  // then `may` too
    bool taken(bool wish) const { return must || (may && wish); }
};

struct RelayState {
    bool position = false;  // of the contact
    long disagreed = 0;     // consecutive earlier scans in which the coil disagreed with it
};
// Whether the contact may be found moved to where the coil wants it: from the first scan at or after the shortest time
// on; from the first at or after the longest it must be. Counted from the scan at which the coil changed. A coil that
// agrees moves nothing.
Permission may_have_moved(const RelayState& s, const Relay& relay, bool coil, const Rational& scan);
void go_on(RelayState& s, bool coil, bool position);

struct PowerState {
    bool up = false;   // the controller runs and goes on until its supply is lost
    long waiting = 0;  // earlier scans with supply since it came back
};
// Whether the controller runs at this scan. `first`: scan 0, where it counts as booted.
Permission may_be_up(const PowerState& s, const Supply& supply, bool on, bool first, const Rational& scan);
void go_on(PowerState& s, bool on, bool up);

}  // namespace lanyard::sim
