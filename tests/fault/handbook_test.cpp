// Published trees and their published results.
#include <catch2/catch.hpp>
#include <cmath>
#include <set>

#include "fault/cut_sets.hpp"
#include "fault/probability.hpp"
#include "oracle.hpp"
#include "trees.hpp"

using namespace lanyard::fault;
using lanyard::test::at_least;

TEST_CASE("three motors: cut sets and probability") {
    // Fault Tree Handbook, NUREG-0492; results as published with the test set of the fault tree tool SCRAM: 12 minimal
    // cut sets, {K5}, three of order 2, eight of order 4; 0.0211538 exact, 0.0212013 by the sum.
    const lanyard::test::ThreeMotors motors;
    Diagrams s(11);
    const Function top = motors.top(s);
    CHECK(is_coherent(s, top));
    const auto sets = minimal_cut_sets(s, top);
    CHECK(sets.size() == 12);
    CHECK(sets.at(0) == lanyard::fault::CutSet{0});
    std::multiset<std::size_t> orders;
    for (const auto& set : sets) orders.insert(set.size());
    CHECK(orders == std::multiset<std::size_t>{1, 2, 2, 2, 4, 4, 4, 4, 4, 4, 4, 4});
    CHECK(exact_probability(s, top, motors.p) == Approx(0.0211538).margin(5e-8).epsilon(0));
    CHECK(rare_event_sum(sets, motors.p) == Approx(0.0212013).margin(5e-8).epsilon(0));
}

TEST_CASE("three motors: house events off cut the branch away") {
    // No source: with the timer contacts open only the part of the tree without them is left.
    const lanyard::test::ThreeMotors motors;
    Diagrams s(11);
    CHECK(minimal_cut_sets(s, motors.top(s, false)) ==
          std::vector<lanyard::fault::CutSet>{{0}, {1, 2}, {1, 3}, {1, 4}});
}

TEST_CASE("pressure tank: cut sets and their sum") {
    // Fault Tree Handbook, NUREG-0492, chapter VIII (structure and data from memory); the sum by hand:
    // 5e-6 + 3e-5 + 1e-4 (3e-5 + 3e-5 + 1e-4) = 3.5016e-5.
    const lanyard::test::PressureTank tank;
    Diagrams s(6);
    const auto sets = minimal_cut_sets(s, tank.top(s));
    CHECK(sets == std::vector<lanyard::fault::CutSet>{{0}, {1}, {2, 3}, {2, 4}, {2, 5}});
    CHECK(rare_event_sum(sets, tank.p) == Approx(3.5016e-5).epsilon(1e-12));
    CHECK(exact_probability(s, tank.top(s), tank.p) < rare_event_sum(sets, tank.p));
    // By hand: 1 - (1 - T)(1 - K2)(1 - S (1 - (1 - S1)(1 - K1)(1 - R))).
    const double timer = 1 - (1 - 3e-5) * (1 - 3e-5) * (1 - 1e-4);
    CHECK(exact_probability(s, tank.top(s), tank.p) ==
          Approx(1 - (1 - 5e-6) * (1 - 3e-5) * (1 - 1e-4 * timer)).epsilon(1e-11));
}

// Small trees as they are in public test sets of fault tree tools, p = 0.1, 0.2, 0.3; figures by hand.
namespace {

struct Small {
    Diagrams s{3};
    Function a = s.event(0), b = s.event(1), c = s.event(2);
    Probabilities p{0.1, 0.2, 0.3};
};

}  // namespace

TEST_CASE("small trees: or") {
    Small t;
    const Function f = t.s.disjunction({t.a, t.b, t.c});
    const auto sets = minimal_cut_sets(t.s, f);
    CHECK(sets == std::vector<lanyard::fault::CutSet>{{0}, {1}, {2}});
    CHECK(rare_event_sum(sets, t.p) == Approx(0.6));
    CHECK(exact_probability(t.s, f, t.p) == Approx(0.496));  // 1 - 0.9 * 0.8 * 0.7
}

TEST_CASE("small trees: a shared event") {
    Small t;
    const Function f = t.s.disjunction({t.s.conjunction({t.a, t.b}), t.s.conjunction({t.b, t.c})});
    const auto sets = minimal_cut_sets(t.s, f);
    CHECK(sets == std::vector<lanyard::fault::CutSet>{{0, 1}, {1, 2}});
    CHECK(rare_event_sum(sets, t.p) == Approx(0.08));
    CHECK(exact_probability(t.s, f, t.p) == Approx(0.074));  // 0.2 (1 - 0.9 * 0.7)
}

TEST_CASE("small trees: two of three") {
    Small t;
    const Function f = at_least(t.s, 2, {t.a, t.b, t.c});
    const auto sets = minimal_cut_sets(t.s, f);
    CHECK(sets == std::vector<lanyard::fault::CutSet>{{0, 1}, {0, 2}, {1, 2}});
    CHECK(rare_event_sum(sets, t.p) == Approx(0.11));
    CHECK(exact_probability(t.s, f, t.p) == Approx(0.098));
    // Two of three sensors stuck at healthy defeat the vote, one does not: no cut set of order 1.
    CHECK(sets.front().size() == 2);
}

TEST_CASE("small trees: not coherent") {
    // AB + (not A) C: the consensus BC is a prime as well (W. V. Quine, A way to simplify truth functions, 1955).
    Small t;
    const Function f = t.s.if_then_else(t.a, t.b, t.c);
    CHECK_FALSE(is_coherent(t.s, f));
    CHECK(prime_implicants(t.s, f) == std::vector<Implicant>{{{0, 1}, {}}, {{1, 2}, {}}, {{2}, {0}}});
    CHECK(exact_probability(t.s, f, t.p) == Approx(0.29));
    CHECK_THROWS_AS(minimal_cut_sets(t.s, f), std::invalid_argument);
}

TEST_CASE("constants have no cut set, or the empty one") {
    Diagrams s(2);
    CHECK(minimal_cut_sets(s, s.constant(false)).empty());
    CHECK(minimal_cut_sets(s, s.constant(true)) == std::vector<lanyard::fault::CutSet>{{}});
    CHECK(exact_probability(s, s.constant(false), {}) == 0);
    CHECK(exact_probability(s, s.constant(true), {}) == 1);
    CHECK(rare_event_sum({{}}, {}) == 1);
}

TEST_CASE("probabilities that are none are refused, missing ones too") {
    Diagrams s(2);
    const Function f = s.conjunction({s.event(0), s.event(1)});
    CHECK_THROWS_AS(exact_probability(s, f, {0.5}), std::invalid_argument);
    CHECK_THROWS_AS(exact_probability(s, f, {0.5, 1.5}), std::invalid_argument);
    CHECK_THROWS_AS(exact_probability(s, f, {0.5, -0.1}), std::invalid_argument);
    CHECK_THROWS_AS(exact_probability(s, f, {0.5, std::nan("")}), std::invalid_argument);
    CHECK_THROWS_AS(rare_event_sum({{0, 1}}, {0.5}), std::invalid_argument);
}

TEST_CASE("a list that would be too long is refused before it is made") {
    // At least 15 of 30: 155 117 520 cut sets.
    Diagrams s(30);
    std::vector<Function> all;
    for (std::size_t i = 0; i < 30; ++i) all.push_back(s.event(i));
    CHECK_THROWS_AS(minimal_cut_sets(s, at_least(s, 15, all)), TooLarge);
    CHECK(minimal_cut_sets(s, at_least(s, 2, all)).size() == 435);
    CHECK_THROWS_AS(minimal_cut_sets(s, at_least(s, 2, all), 434), TooLarge);
}
