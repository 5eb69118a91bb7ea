// Random numbers that are the same on every platform for the same seed.
#pragma once

#include <cstdint>
#include <random>
#include <vector>

#include "base/rational.hpp"

namespace lanyard::sim {

class Dice {
 public:
    explicit Dice(unsigned seed) : engine_(seed) {}

    // 0 .. n - 1. Draws again where the modulus would favour small numbers; the library's distributions differ from
    // one implementation to the next.
    std::uint64_t below(std::uint64_t n) {
        const std::uint64_t most = UINT64_MAX - UINT64_MAX % n;
        std::uint64_t x = engine_();
        while (x >= most) x = engine_();
        return x % n;
    }
    bool one_in(std::uint64_t n) { return below(n) == 0; }
    Rational between(const Rational& lo, const Rational& hi) {
        // Divided, not made of numerator and denominator: those would not be reduced.
        return lo + (hi - lo) * Rational(static_cast<unsigned long>(below(65))) / 64;
    }
    template <class T>
    const T& pick(const std::vector<T>& list) {
        return list[below(list.size())];
    }

 private:
    std::mt19937_64 engine_;
};

}  // namespace lanyard::sim
