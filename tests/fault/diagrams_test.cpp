// Diagrams against truth tables: every gate, every line.
#include "base/diagrams.hpp"

#include <bit>
#include <catch2/catch.hpp>
#include <cstdint>

#include "fault/cut_sets.hpp"
#include "oracle.hpp"

using namespace lanyard::fault;
using lanyard::test::at_least;
using lanyard::test::table_of;

TEST_CASE("gates mean what their names say") {
    Diagrams s(3);
    const std::vector<Function> abc{s.event(0), s.event(1), s.event(2)};
    for (std::size_t x = 0; x < 8; ++x) {
        const int happened = std::popcount(x);
        CHECK(table_of(s, s.conjunction(abc)).lines[x] == (happened == 3));
        CHECK(table_of(s, s.disjunction(abc)).lines[x] == (happened > 0));
        CHECK(table_of(s, s.negation(abc[1])).lines[x] == !(x & 2U));
        CHECK(table_of(s, s.if_then_else(abc[0], abc[1], abc[2])).lines[x] == (x & 1U ? (x & 2U) != 0 : (x & 4U) != 0));
        for (int k = -1; k <= 4; ++k) CHECK(table_of(s, at_least(s, k, abc)).lines[x] == (happened >= k));
    }
}

TEST_CASE("gates of nothing are constants, house events disappear") {
    Diagrams s(2);
    CHECK(s.conjunction({}) == s.constant(true));
    CHECK(s.disjunction({}) == s.constant(false));
    CHECK(at_least(s, 0, {}) == s.constant(true));
    CHECK(at_least(s, 1, {}) == s.constant(false));
    CHECK(s.conjunction({s.event(0), s.constant(true)}) == s.event(0));
    CHECK(s.conjunction({s.event(0), s.constant(false)}) == s.constant(false));
    CHECK(s.disjunction({s.event(0), s.constant(true)}) == s.constant(true));
    CHECK(s.parts(s.constant(true)).empty());
    CHECK(s.support(s.constant(false)).empty());
}

TEST_CASE("equal functions are one function, however they are made") {
    Diagrams s(3);
    const Function a = s.event(0), b = s.event(1), c = s.event(2);
    const Function left = s.conjunction({a, s.disjunction({b, c})});
    CHECK(left == s.disjunction({s.conjunction({c, a}), s.conjunction({b, a})}));
    CHECK(s.negation(left) == s.disjunction({s.negation(a), s.conjunction({s.negation(c), s.negation(b)})}));
    CHECK(s.negation(s.negation(left)) == left);
    CHECK(s.disjunction({left, s.conjunction({a, b, c})}) == left);
    CHECK(s.support(s.disjunction({s.conjunction({a, b}), s.conjunction({a, s.negation(b)})})) ==
          lanyard::fault::CutSet{0});
}

TEST_CASE("sets and products become functions") {
    Diagrams s(3);
    CHECK(s.from_cut_sets({}) == s.constant(false));
    CHECK(s.from_cut_sets({{1}, {}}) == s.constant(true));
    CHECK(s.from_cut_sets({{0, 1}, {2}, {0, 1, 2}, {2, 2}}) ==
          s.disjunction({s.event(2), s.conjunction({s.event(0), s.event(1)})}));
    CHECK(s.from_implicants({{{0}, {1}}, {{}, {2}}}) ==
          s.disjunction({s.negation(s.event(2)), s.conjunction({s.event(0), s.negation(s.event(1))})}));
}

TEST_CASE("what does not exist is refused") {
    Diagrams s(2);
    CHECK_THROWS_AS(s.event(2), std::out_of_range);
    CHECK_THROWS_AS(s.event(SIZE_MAX), std::out_of_range);
    CHECK_THROWS_AS(s.negation({77}), std::out_of_range);
    CHECK_THROWS_AS(s.parts({77}), std::out_of_range);
    CHECK_THROWS_AS(s.from_cut_sets({{0, 5}}), std::out_of_range);
    CHECK_THROWS_AS(Diagrams(Diagrams::max_events + 1), TooLarge);
    CHECK_THROWS_AS(Diagrams(SIZE_MAX), TooLarge);
}

// x0 x1 + x2 x3 + .. is small in the order of its pairs; x0 xn + x1 xn+1 + .. needs 2^n nodes (Bryant 1986, figure 3).
TEST_CASE("a diagram that grows too large says so, and what there was stays good") {
    const std::size_t n = 24;
    std::vector<lanyard::fault::CutSet> near, far;
    for (std::size_t i = 0; i < n; ++i) {
        near.push_back({2 * i, 2 * i + 1});
        far.push_back({i, i + n});
    }
    Diagrams s(2 * n, 20'000);
    const Function f = s.from_cut_sets(near);
    CHECK(s.parts(f).size() == 2 * n);
    CHECK_THROWS_AS(s.from_cut_sets(far), TooLarge);
    CHECK(s.from_cut_sets(near) == f);
    CHECK(minimal_cut_sets(s, f) == near);
}

TEST_CASE("as many events as there may be, each on the way down") {
    Diagrams s(Diagrams::max_events);
    std::vector<Function> all;
    for (std::size_t i = 0; i < s.events(); ++i) all.push_back(s.event(i));
    const Function f = s.conjunction(all);
    CHECK(s.parts(f).size() == Diagrams::max_events);
    const auto sets = minimal_cut_sets(s, f);
    REQUIRE(sets.size() == 1);
    CHECK(sets[0].size() == Diagrams::max_events);
    CHECK(minimal_cut_sets(s, s.disjunction(all)).size() == Diagrams::max_events);
}
