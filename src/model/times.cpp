// Times and intervals as values of keys.
#include "model/build.hpp"

namespace lanyard::model {

namespace {

Unit second() { return find_unit("s").value(); }

bool good_time(Build& b, const LocatedText& text, const Rational& t, const std::string& what_for) {
    if (t < 0) {
        b.reading.error("negative-time", text.pointer, text.place, what_for + " must not be negative");
        return false;
    }
    if (t > longest_time) {
        b.reading.error("time-too-long", text.pointer, text.place,
                        what_for + " is longer than " + std::to_string(longest_time) + " s",
                        "this is a limit of lanyard: times are counted in scans");
        return false;
    }
    return true;
}

}  // namespace

std::optional<Rational> read_time(Build& b, const LocatedText& text, const std::string& what_for, bool above_zero) {
    const auto t = compile_number(text, second().dimension, true, what_for, b.reading.out());
    if (!t || !good_time(b, text, t->si, what_for)) return std::nullopt;
    if (above_zero && t->si == 0) {
        b.reading.error("zero-time", text.pointer, text.place, what_for + " must be above 0");
        return std::nullopt;
    }
    return t->si;
}

std::optional<Interval> read_times(Build& b, const LocatedText& text, const std::string& what_for) {
    if (text.text.find("..") == std::string::npos) {
        const auto t = read_time(b, text, what_for, false);
        if (!t) return std::nullopt;
        return Interval{0, *t};
    }
    const auto i = compile_interval(text, second().dimension, true, what_for, b.reading.out());
    if (!i || !good_time(b, text, i->lo, what_for) || !good_time(b, text, i->hi, what_for)) return std::nullopt;
    return i;
}

std::optional<Interval> read_interval(Build& b, const LocatedText& text, const Unit& unit, bool difference,
                                      const std::string& what_for) {
    return compile_interval(text, unit.dimension, difference, what_for, b.reading.out());
}

}  // namespace lanyard::model
