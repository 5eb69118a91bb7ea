// Random functions, fixed seeds: what the diagrams say against the definitions, line by line of the truth table.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "fault/cut_sets.hpp"
#include "fault/importance.hpp"
#include "fault/probability.hpp"
#include "oracle.hpp"

using namespace lanyard::fault;
using namespace lanyard::test;

namespace {

Probabilities random_probabilities(std::size_t events, std::mt19937_64& dice) {
    Probabilities out;
    for (std::size_t i = 0; i < events; ++i) out.push_back(static_cast<double>(dice() % 1001) / 1000);
    return out;
}

// Sum over all lines in which some cut set with event i has happened, and the same for all lines of the function.
double share_of(const lanyard::test::Table& t, const std::vector<lanyard::fault::CutSet>& sets, std::size_t i,
                const Probabilities& p) {
    lanyard::test::Table through{t.events, std::vector<bool>(t.lines.size())};
    for (std::size_t x = 0; x < t.lines.size(); ++x)
        for (const auto& set : sets)
            if (std::count(set.begin(), set.end(), i) > 0 &&
                std::all_of(set.begin(), set.end(), [&](std::size_t e) { return x >> e & 1U; }))
                through.lines[x] = true;
    return probability_of(through, p) / probability_of(t, p);
}

}  // namespace

TEST_CASE("random functions with negations: table, primes, coherence, probability") {
    std::mt19937_64 dice(1);
    int coherent = 0;
    std::size_t most = 0;
    for (unsigned n = 0; n < 600; ++n) {
        Diagrams s(1 + n % 6);
        const auto [f, table] = random_circuit(s, dice, true);
        INFO("function " << n);
        REQUIRE(table_of(s, f).lines == table.lines);
        const auto primes = prime_implicants(s, f);
        REQUIRE(primes == primes_of(table));
        REQUIRE(s.from_implicants(primes) == f);
        REQUIRE(is_coherent(s, f) == is_monotone(table));
        const auto p = random_probabilities(s.events(), dice);
        REQUIRE(exact_probability(s, f, p) == Approx(probability_of(table, p)).margin(1e-14));
        coherent += is_coherent(s, f) ? 1 : 0;
        most = std::max(most, primes.size());
    }
    // The circuits are no trifles: both kinds occur, and long lists.
    CHECK(coherent > 100);
    CHECK(coherent < 500);
    CHECK(most >= 6);
}

TEST_CASE("random coherent functions: cut sets, bounds, shares") {
    std::mt19937_64 dice(2);
    std::size_t most = 0;
    for (unsigned n = 0; n < 400; ++n) {
        Diagrams s(1 + n % 7);
        const auto [f, table] = random_circuit(s, dice, false);
        INFO("function " << n);
        REQUIRE(table_of(s, f).lines == table.lines);
        REQUIRE(is_coherent(s, f));
        const auto sets = minimal_cut_sets(s, f);
        REQUIRE(sets == minimal_lines_of(table));
        REQUIRE(s.from_cut_sets(sets) == f);
        most = std::max(most, sets.size());
        const auto p = random_probabilities(s.events(), dice);
        const double q = exact_probability(s, f, p);
        REQUIRE(q == Approx(probability_of(table, p)).margin(1e-14));
        const auto measures = importance(s, f, p);
        REQUIRE(measures.has_value() == (q > 0));
        for (std::size_t i = 0; measures && i < s.events(); ++i)
            REQUIRE(measures->at(i).fussell_vesely.value() == Approx(share_of(table, sets, i, p)).margin(1e-12));
    }
    CHECK(most >= 6);
}

TEST_CASE("random functions: importance by its definition") {
    std::mt19937_64 dice(3);
    for (unsigned n = 0; n < 300; ++n) {
        Diagrams s(1 + n % 6);
        const auto [f, table] = random_circuit(s, dice, true);
        const auto p = random_probabilities(s.events(), dice);
        const double q = probability_of(table, p);
        const auto measures = importance(s, f, p);
        INFO("function " << n);
        REQUIRE(measures.has_value() == (q > 0));
        for (std::size_t i = 0; measures && i < p.size(); ++i) {
            auto with = p, without = p;
            with[i] = 1;
            without[i] = 0;
            const double q1 = probability_of(table, with);
            const double q0 = probability_of(table, without);
            const Importance& one = (*measures)[i];
            REQUIRE(one.birnbaum == Approx(q1 - q0).margin(1e-14));
            REQUIRE(one.criticality == Approx(p[i] * (q1 - q0) / q).margin(1e-12));
            REQUIRE(one.risk_achievement_worth == Approx(q1 / q).margin(1e-12));
            if (q0 > 0)
                REQUIRE(one.risk_reduction_worth == Approx(q / q0));
            else
                REQUIRE(std::isinf(one.risk_reduction_worth));
            REQUIRE(one.fussell_vesely.has_value() == is_monotone(table));
        }
    }
}
