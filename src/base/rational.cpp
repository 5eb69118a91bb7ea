#include "base/rational.hpp"

#include "base/characters.hpp"

#include <algorithm>
#include <limits>

namespace lanyard::base {

namespace {

constexpr int exponent_limit = 99;

Integer power_of_ten(unsigned long n) {
    Integer p;
    mpz_ui_pow_ui(p.get_mpz_t(), 10, n);
    return p;
}

// How many digits behind the point the fraction needs, or nothing if no number of digits is enough: a decimal exists
// exactly where the denominator has no prime factors but 2 and 5.
std::optional<unsigned long> decimal_places(const Rational& value) {
    Integer rest;
    const Integer two = 2, five = 5;
    const unsigned long twos = mpz_remove(rest.get_mpz_t(), value.get_den_mpz_t(), two.get_mpz_t());
    const unsigned long fives = mpz_remove(rest.get_mpz_t(), rest.get_mpz_t(), five.get_mpz_t());
    if (rest != 1) return std::nullopt;
    return std::max(twos, fives);
}

// `scaled` / 10^places as text, without zeros at the end.
std::string decimal_text(const Integer& scaled, unsigned long places) {
    const Integer magnitude = abs(scaled);
    std::string digits = magnitude.get_str();
    if (digits.size() <= places) digits.insert(0, places + 1 - digits.size(), '0');
    std::string fraction = digits.substr(digits.size() - places);
    digits.resize(digits.size() - places);
    while (!fraction.empty() && fraction.back() == '0') fraction.pop_back();
    return (sgn(scaled) < 0 ? "-" : "") + digits + (fraction.empty() ? "" : "." + fraction);
}

// Far more scans than anybody waits for, and far enough from the end of `long` for sums of a few.
long saturated(const Integer& scans) {
    constexpr long most = std::numeric_limits<long>::max() / 8;
    if (scans > most) return most;
    if (scans < -most) return -most;
    return scans.get_si();
}

}  // namespace

std::optional<Rational> parse_decimal(std::string_view text) {
    std::size_t at = 0;
    const auto digits = [&] {
        const std::size_t begin = at;
        while (at < text.size() && is_digit(text[at])) ++at;
        return text.substr(begin, at - begin);
    };
    const bool negative = at < text.size() && text[at] == '-';
    if (negative) ++at;
    const std::string_view whole = digits();
    if (whole.empty() || (whole.size() > 1 && whole[0] == '0')) return std::nullopt;
    std::string_view fraction;
    if (at < text.size() && text[at] == '.') {
        ++at;
        fraction = digits();
        if (fraction.empty()) return std::nullopt;
    }
    int exponent = 0;
    if (at < text.size() && (text[at] == 'e' || text[at] == 'E')) {
        ++at;
        const bool minus = at < text.size() && text[at] == '-';
        if (at < text.size() && (text[at] == '-' || text[at] == '+')) ++at;
        const std::string_view power = digits();
        if (power.empty()) return std::nullopt;
        for (char c : power) {
            exponent = exponent * 10 + (c - '0');
            if (exponent > exponent_limit) return std::nullopt;
        }
        if (minus) exponent = -exponent;
    }
    if (at != text.size()) return std::nullopt;
    Rational value{Integer{std::string{whole} + std::string{fraction}, 10}, power_of_ten(fraction.size())};
    value.canonicalize();
    if (exponent > 0) value *= power_of_ten(static_cast<unsigned long>(exponent));
    if (exponent < 0) value /= power_of_ten(static_cast<unsigned long>(-exponent));
    return negative ? Rational{-value} : value;
}

std::optional<Rational> parse_fraction(std::string_view text) {
    const auto slash = text.find('/');
    if (slash == std::string_view::npos) return parse_decimal(text);
    const auto above = parse_decimal(text.substr(0, slash));
    const auto below = parse_decimal(text.substr(slash + 1));
    if (!above || !below || *below == 0) return std::nullopt;
    return Rational(*above / *below);
}

std::string exact_text(const Rational& value) {
    const auto places = decimal_places(value);
    if (!places) return value.get_str();
    const Rational scaled = value * power_of_ten(*places);
    return decimal_text(scaled.get_num(), *places);
}

std::string rounded_text(const Rational& value, int places) {
    const auto digits = static_cast<unsigned long>(places < 0 ? 0 : places);
    const Rational magnitude = abs(value) * power_of_ten(digits) + Rational(1, 2);
    const Integer scaled = floor_of(magnitude);
    return decimal_text(sgn(value) < 0 ? Integer{-scaled} : scaled, digits);
}

Integer floor_of(const Rational& value) {
    Integer q;
    mpz_fdiv_q(q.get_mpz_t(), value.get_num_mpz_t(), value.get_den_mpz_t());
    return q;
}

Integer ceil_of(const Rational& value) {
    Integer q;
    mpz_cdiv_q(q.get_mpz_t(), value.get_num_mpz_t(), value.get_den_mpz_t());
    return q;
}

long scans_up(const Rational& duration, const Rational& period) { return saturated(ceil_of(duration / period)); }

long scans_down(const Rational& duration, const Rational& period) { return saturated(floor_of(duration / period)); }

}  // namespace lanyard::base
