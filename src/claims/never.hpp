// Why something never happens, as plain values; explain/never.hpp finds them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "model/model.hpp"

namespace lanyard::claims {

struct Never {
    enum class How {
        alone,     // it is never true
        together,  // an AND: each part but one can be true at once, whichever it is; all of them never
        lasts,     // it can be true, but never for `time` on end
        read_back  // a loop-back: what it reads back comes on only after it
    };
    ExprPtr what;                     // true at no scan
    std::optional<Mode> during = {};  // at no scan in which the engine is in this mode
    How how = How::alone;
    Rational time = 0;  // s
    std::vector<Never> because = {};
    std::vector<std::string> ranges = {};  // where there is no further reason: the numbers that exclude it, in words
};

// A claim that says what one that says nothing probably should have said, and its verdict.
struct Meant {
    Claim claim;
    bool proved = false;  // else refuted
};

}  // namespace lanyard::claims
