// Measures of importance of trees that can be worked out by hand from the definitions.
#include "fault/importance.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <tuple>

#include "trees.hpp"

using namespace lanyard::fault;

TEST_CASE("importance in AB + BC, p = 0.1, 0.2, 0.3") {
    // Q = 0.2 (1 - 0.9 * 0.7) = 0.074. By hand from the definitions in NUREG/CR-3385 and Birnbaum (1969).
    Diagrams s(4);
    const auto m = importance(s, s.from_cut_sets({{0, 1}, {1, 2}}), {0.1, 0.2, 0.3, 0.4});
    REQUIRE(m);
    const auto& [a, b, c, d] = std::tie((*m)[0], (*m)[1], (*m)[2], (*m)[3]);
    CHECK(a.birnbaum == Approx(0.2 * 0.7));
    CHECK(b.birnbaum == Approx(0.37));
    CHECK(c.birnbaum == Approx(0.2 * 0.9));
    CHECK(a.criticality == Approx(0.1 * 0.14 / 0.074));
    CHECK(b.criticality == Approx(1));
    CHECK(a.fussell_vesely.value() == Approx(0.02 / 0.074));
    CHECK(b.fussell_vesely.value() == Approx(1));
    CHECK(c.fussell_vesely.value() == Approx(0.06 / 0.074));
    CHECK(a.risk_achievement_worth == Approx(0.2 / 0.074));
    CHECK(b.risk_achievement_worth == Approx(0.37 / 0.074));
    CHECK(a.risk_reduction_worth == Approx(0.074 / 0.06));
    CHECK(std::isinf(b.risk_reduction_worth));
    // The function does not ask for the fourth event.
    CHECK(d.birnbaum == 0);
    CHECK(d.criticality == 0);
    CHECK(d.fussell_vesely == 0.0);
    CHECK(d.risk_achievement_worth == 1);
    CHECK(d.risk_reduction_worth == 1);
}

TEST_CASE("importance in the pressure tank: the relay that keeps the pump on is most of the risk") {
    // NUREG-0492: {K2} is 3e-5 of 3.5e-5.
    const lanyard::test::PressureTank tank;
    Diagrams s(6);
    const auto m = importance(s, tank.top(s), tank.p);
    REQUIRE(m);
    CHECK((*m)[1].fussell_vesely.value() == Approx(3e-5 / 3.5016e-5).epsilon(1e-4));
    CHECK((*m)[1].risk_reduction_worth == Approx(3.5016e-5 / 5.016e-6).epsilon(1e-4));
    CHECK((*m)[2].fussell_vesely.value() == Approx(1.6e-8 / 3.5016e-5).epsilon(1e-3));
}

TEST_CASE("a failure that helps has a negative Birnbaum measure, and no share by cut sets") {
    Diagrams s(3);
    const auto m = importance(s, s.if_then_else(s.event(0), s.event(1), s.event(2)), {0.1, 0.2, 0.3});
    REQUIRE(m);
    CHECK((*m)[0].birnbaum == Approx(0.2 - 0.3));
    CHECK_FALSE((*m)[0].fussell_vesely);
}

TEST_CASE("what cannot happen has no shares") {
    Diagrams s(2);
    CHECK_FALSE(importance(s, s.constant(false), {0.5, 0.5}));
    CHECK_FALSE(importance(s, s.event(0), {0, 0.5}));
}
