#include "explain/turning.hpp"

#include <algorithm>

namespace lanyard::explain {

namespace {

// Texts show three places behind the point.
constexpr long smallest_part = 1000;
constexpr long fine_parts = 100'000, coarse_parts = 1000;  // of the range

// The largest power of ten that is not above x, at least what a text can show.
Rational power_of_ten(const Rational& x) {
    Rational out = Rational(1) / smallest_part;
    while (out * 10 <= x) out *= 10;
    return out;
}

class Search {
 public:
    Search(const Rational& bad, const Rational& good, const Ruler& ruler,
           const std::function<bool(const Rational&)>& holds)
        : bad_(bad), good_(good), way_(good > bad ? 1 : -1), ruler_(ruler), holds_(holds) {}

    Turning find(const std::vector<Rational>& written) {
        among(written);
        const Rational step = ruler_.fine * way_;
        if (abs(good_ - bad_) <= ruler_.fine) return at_ends();
        if (!holds_(good_ - step)) return told(good_);
        if (holds_(bad_ + step)) return on_ruler(bad_) ? Turning{bad_ + step, bad_} : told(bad_);
        bad_ += step;
        good_ -= step;
        among_marks();
        return at_ends();
    }

 private:
    Rational bad_, good_;
    const long way_;
    const Ruler& ruler_;
    const std::function<bool(const Rational&)>& holds_;

    bool inside(const Rational& x) const { return way_ > 0 ? bad_ < x && x < good_ : good_ < x && x < bad_; }
    void take(const Rational& x) { (holds_(x) ? good_ : bad_) = x; }

    void among(const std::vector<Rational>& written) {
        while (true) {
            std::vector<Rational> left;
            std::copy_if(written.begin(), written.end(), std::back_inserter(left),
                         [&](const Rational& x) { return inside(x); });
            if (left.empty()) return;
            take(left[left.size() / 2]);
        }
    }
    // Halves what lies between until no mark of the ruler is left there.
    void among_marks() {
        while (true) {
            const Rational middle = mark((bad_ + good_) / 2, ruler_.fine, true);
            const Rational other = mark((bad_ + good_) / 2, ruler_.fine, false);
            if (inside(middle))
                take(middle);
            else if (inside(other))
                take(other);
            else
                return;
        }
    }
    Rational mark(const Rational& x, const Rational& step, bool up) const {
        const Rational number = (x - ruler_.origin) / step;
        return ruler_.origin + Rational(up ? ceil_of(number) : floor_of(number)) * step;
    }
    bool on_ruler(const Rational& x) const { return mark(x, ruler_.fine, true) == x; }
    // A written number that no text shows exactly is rounded away from `bad`.
    Turning told(const Rational& x) const {
        const Rational shown = mark(x, ruler_.fine, way_ > 0);
        return shown == x || !holds_(shown) ? Turning{good_} : Turning{shown};
    }
    // The shorter of both ends, or a short number beside them.
    Turning at_ends() {
        const Rational beyond = mark(good_, ruler_.coarse, way_ > 0);
        if (beyond == good_) return {good_};
        if (mark(bad_, ruler_.coarse, true) == bad_) return {good_, bad_};
        return holds_(beyond) ? Turning{beyond} : Turning{good_};
    }
};

}  // namespace

Ruler ruler_for(const Rational& width, const Rational& factor, const Rational& offset) {
    const Rational shown = width / factor;
    return {offset, power_of_ten(shown / fine_parts) * factor, power_of_ten(shown / coarse_parts) * factor};
}

Turning turning_between(const Rational& bad, const Rational& good, const std::vector<Rational>& written,
                        const Ruler& ruler, const std::function<bool(const Rational&)>& holds) {
    return Search(bad, good, ruler, holds).find(written);
}

}  // namespace lanyard::explain
