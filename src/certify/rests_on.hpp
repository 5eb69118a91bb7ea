// What a verdict rests on, by name.
#pragma once

#include "claims/question.hpp"

namespace lanyard::certify {

// The names, as in a certificate.
struct RestsOn {
    std::vector<std::string> elements, parts, assumptions;

    friend bool operator==(const RestsOn&, const RestsOn&) = default;
};

// Fills in the certificate's assumptions, elements, parts and unused elements. Whatever logic, output or part is not
// named may be changed in any way (see rests_on.cpp) and whatever assumption is not named may be dropped: the
// certificate still proves what it proves, and the run of `example`, if there is one, still is one in which the claim
// demands something. Nothing is named where no violation is possible whatever anything does. Where the solver gives up
// within `budget` (its resource units; 0: it is not asked), everything that may have a say is named. `one_by_one`: of
// the names none can be taken out with these lemmas and this example (but for what the solver gives up on). Costs a
// check for each of them.
// `known`: names that were enough once. If they still are, it is they, and it is not asked whether fewer would do.
// False: the solver gave up.
bool tell_what_it_rests_on(const Question& q, Certificate& c, const Run* example, std::uint64_t budget,
                           bool one_by_one = false, const RestsOn* known = nullptr);

}  // namespace lanyard::certify
