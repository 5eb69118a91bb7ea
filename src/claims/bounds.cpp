#include "claims/bounds.hpp"

#include <algorithm>

namespace lanyard {

long response_bound(const Response& r, const Rational& scan) {
    return std::max(1L, scans_down(Rational(r.for_time + r.within), scan) - 1);
}

bool response_is_too_fast(const Response& r, const Rational& scan) { return r.for_time + r.within < 2 * scan; }

}  // namespace lanyard
