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

// Of what has waited for so many scans: it may follow from the first scan at or after the shortest time on; from the
// first at or after the longest it must have.
inline Permission after_delay(long waited, const Rational& shortest, const Rational& longest, const Rational& scan) {
    Permission p;
    p.must = waited >= scans_up(longest, scan);
    p.may = p.must || waited >= scans_up(shortest, scan);
    return p;
}

}  // namespace lanyard::sim
