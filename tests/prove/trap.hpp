// Whether a run ends in the trap that a certificate is about.
#pragma once

#include <catch2/catch.hpp>

#include "certify/obligations.hpp"
#include "prove/ask.hpp"
#include "sim/interpreter.hpp"

namespace lanyard::test {

using namespace prove;

inline Question question_about(const Model& m, ClaimId claim, const Certificate& closed) {
    Question q;
    q.model = &m;
    q.claim = claim;
    q.condition = m.claims[q.claim].condition;
    q.leaps = closed.leaps;
    q.tangents = closed.tangents;
    q.with_binding_quantities = closed.with_binding_quantities;
    return q;
}

// The closed set is one that holds from the run's end on.
inline void check_trapped(const Model& m, ClaimId claim, const Run& run, const Certificate& closed) {
    const Question q = question_about(m, claim, closed);
    CHECK(replay(m, run, q.condition, q.claim).legal);
    const auto here = behind(q, run);
    REQUIRE(here);
    CHECK(check_obligations(obligations(*here, closed), check_budget).check == Check::holds);
}

}  // namespace lanyard::test
