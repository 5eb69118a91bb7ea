// Truths scan by scan.
#pragma once

#include <string>
#include <vector>

namespace lanyard::test {

using Trace = std::vector<bool>;
constexpr long none = -1;  // no scan

// The lowest `count` bits, the lowest first.
inline Trace bits(unsigned long word, long count) {
    Trace out;
    for (long i = 0; i < count; ++i) out.push_back((word >> i & 1U) != 0);
    return out;
}

// At some scan of from .. to.
inline bool any(const Trace& t, long from, long to) {
    for (long n = from; n <= to; ++n)
        if (t[static_cast<std::size_t>(n)]) return true;
    return false;
}

inline std::string text(const Trace& t) {
    std::string out;
    for (const bool b : t) out += b ? '1' : '0';
    return out;
}

}  // namespace lanyard::test
