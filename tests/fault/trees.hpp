// Trees that handbooks work out. The events are numbered in the order of `names`.
#pragma once

#include <string>
#include <vector>

#include "base/diagrams.hpp"

namespace lanyard::test {

using namespace base;

// Three-motor system of the Fault Tree Handbook (NUREG-0492), as it is in public test sets of fault tree tools. From
// memory and from the published results: of the names only K5 is known, the shape is the one that has the published cut
// sets and probability with 11 basic events; the timer contacts are house events. All 0.02.
struct ThreeMotors {
    std::vector<std::string> names{"K5", "S1", "A", "B", "C", "K1", "KT1", "K2", "KT2", "K3", "KT3"};
    std::vector<double> p = std::vector<double>(11, 0.02);

    Function top(Diagrams& s, bool timer_contacts = true) const {
        const auto motor = [&](std::size_t relay) {
            return s.conjunction({s.constant(timer_contacts), s.disjunction({s.event(relay), s.event(relay + 1)})});
        };
        const auto held =
            s.disjunction({s.event(2), s.event(3), s.event(4), s.conjunction({motor(5), motor(7), motor(9)})});
        return s.disjunction({s.event(0), s.conjunction({s.event(1), held})});
    }
};

// Pressure tank of the Fault Tree Handbook (NUREG-0492, chapter VIII). Diagrams from memory: the tank bursts by
// itself, or the pump runs on since K2 stays closed, or since the pressure switch S and one of S1, K1, R stay closed.
struct PressureTank {
    std::vector<std::string> names{"T", "K2", "S", "S1", "K1", "R"};
    std::vector<double> p{5e-6, 3e-5, 1e-4, 3e-5, 3e-5, 1e-4};

    Function top(Diagrams& s) const {
        const auto timer = s.disjunction({s.event(3), s.disjunction({s.event(4), s.event(5)})});
        return s.disjunction({s.event(0), s.disjunction({s.event(1), s.conjunction({s.event(2), timer})})});
    }
};

}  // namespace lanyard::test
