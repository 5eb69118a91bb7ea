// The values that a quantity may take at a scan, as an interval that may be open at its ends.
#pragma once

#include <algorithm>

#include "sim/landmarks.hpp"
#include "sim/limits.hpp"

namespace lanyard::sim {

class Room {
 public:
    explicit Room(const Interval& range) : grain_((range.hi - range.lo) / 1024), lo_(range.lo), hi_(range.hi) {}

    void narrow(const Limit& l) {
        if (l.above_zero) return above(0, true);
        const Rational from = l.from ? *l.from : Rational(0);
        const Rational low = from + l.band->lo, high = from + l.band->hi;
        above(l.ends ? std::min(low, l.ends->hi) : low, false);
        below(l.ends ? std::max(high, l.ends->lo) : high, false);
    }
    void narrow(const HalfLine& h) { h.above ? above(h.point, h.strict) : below(h.point, h.strict); }

    bool is_empty() const { return lo_ > hi_ || (lo_ == hi_ && (lo_open_ || hi_open_)); }
    // The value nearest to x; a little inside where the end itself is not allowed.
    Rational nearest(const Rational& x) const {
        if (is_empty()) return x;
        const Rational inside = std::min(grain_, Rational((hi_ - lo_) / 2));
        if (x < lo_ || (x == lo_ && lo_open_)) return lo_open_ ? Rational(lo_ + inside) : lo_;
        if (x > hi_ || (x == hi_ && hi_open_)) return hi_open_ ? Rational(hi_ - inside) : hi_;
        return x;
    }

 private:
    void above(const Rational& x, bool open) {
        if (x < lo_ || (x == lo_ && !open)) return;
        lo_ = x;
        lo_open_ = open;
    }
    void below(const Rational& x, bool open) {
        if (x > hi_ || (x == hi_ && !open)) return;
        hi_ = x;
        hi_open_ = open;
    }

    Rational grain_;
    Rational lo_;
    Rational hi_;
    bool lo_open_ = false;
    bool hi_open_ = false;
};

}  // namespace lanyard::sim
