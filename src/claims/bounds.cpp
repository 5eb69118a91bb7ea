#include "claims/bounds.hpp"

#include <algorithm>

namespace lanyard::claims {

long response_bound(const Response& r, const Rational& scan) {
    const Rational whole = r.manner == Manner::in_total ? r.within : Rational(r.for_time + r.within);
    const long bound = std::max(1L, scans_down(whole, scan) - 1);
    return r.manner == Manner::once_begun ? std::max(bound, response_calls(r, scan)) : bound;
}

long response_calls(const Response& r, const Rational& scan) { return std::max(1L, scans_down(r.for_time, scan)); }

bool response_is_too_fast(const Response& r, const Rational& scan) {
    if (r.manner == Manner::while_it_lasts) return r.for_time + r.within < 2 * scan;
    return r.within < 2 * scan;
}

long change_window(const ChangeLimit& l, const Rational& scan) { return scans_down(l.in_any, scan) + 1; }

long total_window(const Response& r, const Rational& scan) { return std::max(1L, scans_down(r.out_of, scan)); }

}  // namespace lanyard::claims
