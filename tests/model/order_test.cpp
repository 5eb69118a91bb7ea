#include "model/order.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <random>

using namespace lanyard::model;

namespace {

std::vector<std::size_t> positions(const Order& o) {
    std::vector<std::size_t> at(o.sequence.size());
    for (std::size_t i = 0; i < o.sequence.size(); ++i) at[o.sequence[i]] = i;
    return at;
}

}  // namespace

TEST_CASE("a chain comes out backwards") {
    const auto o = order_of({{{1}, {}}, {{2}, {}}, {{}, {}}});
    CHECK(o.sequence == std::vector<std::size_t>{2, 1, 0});
    CHECK(o.cycles.empty());
}

TEST_CASE("cycles are named, each once") {
    const auto o = order_of({{{1}, {}}, {{2}, {}}, {{0, 3}, {}}, {{3}, {}}, {{}, {4}}});
    REQUIRE(o.cycles.size() == 2);
    CHECK(o.cycles[0] == std::vector<std::size_t>{3});
    CHECK(o.cycles[1] == std::vector<std::size_t>{0, 1, 2});
    CHECK(o.in_cycle == std::vector<bool>{true, true, true, true, false});
}

TEST_CASE("earlier values do not make cycles, but come first where they can") {
    const auto o = order_of({{{}, {1}}, {{}, {}}, {{3}, {}}, {{}, {2}}});
    CHECK(o.cycles.empty());
    CHECK(o.sequence == std::vector<std::size_t>{1, 0, 3, 2});
}

TEST_CASE("random graphs: every order is one of evaluation, every cycle is one") {
    std::mt19937 random(7);
    for (int round = 0; round < 300; ++round) {
        const std::size_t n = 1 + random() % 12;
        std::vector<Reads> graph(n);
        const bool acyclic = round % 2 == 0;
        for (std::size_t i = 0; i < n; ++i)
            for (std::size_t k = random() % 4; k > 0; --k) {
                graph[i].earlier.push_back(random() % n);
                if (!acyclic) graph[i].now.push_back(random() % n);
                if (acyclic && i > 0) graph[i].now.push_back(random() % i);
            }
        const auto o = order_of(graph);
        REQUIRE(o.sequence.size() == n);
        const auto at = positions(o);
        if (acyclic) CHECK(o.cycles.empty());
        for (std::size_t i = 0; i < n; ++i)
            for (const std::size_t to : graph[i].now)
                if (!o.in_cycle[i] && !o.in_cycle[to]) CHECK(at[to] < at[i]);
        for (const auto& c : o.cycles)
            for (std::size_t i = 0; i < c.size(); ++i) {
                const auto& reads = graph[c[i]].now;
                CHECK(std::find(reads.begin(), reads.end(), c[(i + 1) % c.size()]) != reads.end());
            }
    }
}

TEST_CASE("a hundred thousand in a row") {
    std::vector<Reads> graph(100'000);
    for (std::size_t i = 0; i + 1 < graph.size(); ++i) graph[i].now.push_back(i + 1);
    CHECK(order_of(graph).cycles.empty());
    graph.back().now.push_back(0);
    const auto o = order_of(graph);
    REQUIRE(o.cycles.size() == 1);
    CHECK(o.cycles[0].size() == graph.size());
}
