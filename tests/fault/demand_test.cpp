// Mean unavailability against closed forms and against the approximations of the standard.
#include "fault/demand.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "oracle.hpp"

using namespace lanyard::fault;
using lanyard::test::at_least;

namespace {

constexpr double rate = 1e-6;
constexpr double interval = 8760;

std::vector<BasicEvent> channels(std::size_t n) {
    std::vector<BasicEvent> out;
    for (std::size_t i = 0; i < n; ++i) out.push_back({"channel " + std::to_string(i), std::nullopt, rate, interval});
    return out;
}

Average mean_of(int needed_failures, std::size_t n) {
    Diagrams s(n);
    std::vector<Function> all;
    for (std::size_t i = 0; i < n; ++i) all.push_back(s.event(i));
    return average_unavailability(s, at_least(s, needed_failures, all), channels(n), interval);
}

// Mean of exp(-k rate t) over the interval. In long double, so that the sums below keep enough digits.
long double mean_exp(int k) {
    const long double x = static_cast<long double>(k) * rate * interval;
    return -std::expm1(-x) / x;
}

void check_against(const Average& a, long double exact) {
    CHECK(std::abs(a.value - exact) <= a.error_bound);
    CHECK(a.error_bound <= 1e-11L * exact);
}

}  // namespace

// IEC 61508-6, annex B (formulas from memory), no repair time, no common cause: 1oo1 L T / 2, 1oo2 (L T)^2 / 3,
// 2oo3 (L T)^2. These are the first terms of the exact means and above them.
TEST_CASE("one channel of one") {
    const Average a = mean_of(1, 1);
    check_against(a, 1 - mean_exp(1));
    CHECK(a.value == Approx(4.367e-3).epsilon(2e-4));
    CHECK(a.value < rate * interval / 2);
    CHECK(a.value == Approx(rate * interval / 2).epsilon(0.01));
}

TEST_CASE("one channel of two") {
    const Average a = mean_of(2, 2);
    check_against(a, 1 - 2 * mean_exp(1) + mean_exp(2));
    CHECK(rate * interval * rate * interval / 3 == Approx(2.558e-5).epsilon(1e-4));
    CHECK(a.value < 2.558e-5);
    CHECK(a.value == Approx(2.558e-5).epsilon(0.01));
}

TEST_CASE("two channels of three") {
    const Average a = mean_of(2, 3);
    check_against(a,
                  3 * (1 - 2 * mean_exp(1) + mean_exp(2)) - 2 * (1 - 3 * mean_exp(1) + 3 * mean_exp(2) - mean_exp(3)));
    CHECK(rate * interval * rate * interval == Approx(7.674e-5).epsilon(1e-4));
    CHECK(a.value < 7.674e-5);
    CHECK(a.value == Approx(7.674e-5).epsilon(0.02));
}

TEST_CASE("the horizon may hold whole and broken test intervals") {
    Diagrams s(1);
    const std::vector<BasicEvent> event{{"part", std::nullopt, 1e-4, 1000.0}};
    // 0 .. 1000, 1000 .. 2000, 2000 .. 2500: t - (1 - exp(-L t)) / L on each.
    const auto area = [](long double t) { return t + std::expm1(-1e-4L * t) / 1e-4L; };
    check_against(average_unavailability(s, s.event(0), event, 2500), (2 * area(1000) + area(500)) / 2500);
    check_against(average_unavailability(s, s.event(0), event, 3000), area(1000) / 1000);
    check_against(average_unavailability(s, s.event(0), event, 400), area(400) / 400);
}

TEST_CASE("two parts with test intervals of their own") {
    Diagrams s(2);
    const std::vector<BasicEvent> events{{"often", std::nullopt, 2e-5, 1000.0}, {"seldom", std::nullopt, 5e-5, 2000.0}};
    // Integral over 0 .. 1000 of (1 - exp(-a t)) (1 - exp(-b (t + d))), d = 0 and 1000.
    const auto area = [](long double d) {
        const long double a = 2e-5L, b = 5e-5L, t = 1000, k = std::exp(-b * d);
        const auto e = [&](long double r) { return -std::expm1(-r * t) / r; };
        return t - e(a) - k * e(b) + k * e(a + b);
    };
    check_against(average_unavailability(s, s.conjunction({s.event(0), s.event(1)}), events, 2000),
                  (area(0) + area(1000)) / 2000);
}

TEST_CASE("parts that are never tested, constant ones, rates of nothing") {
    Diagrams s(2);
    const std::vector<BasicEvent> events{{"constant", 0.25, std::nullopt, std::nullopt},
                                         {"aging", std::nullopt, 1e-3, std::nullopt}};
    check_against(average_unavailability(s, s.event(0), events, 500), 0.25L);
    const long double aging = 1 + std::expm1(-0.5L) / 0.5L;
    check_against(average_unavailability(s, s.event(1), events, 500), aging);
    check_against(average_unavailability(s, s.disjunction({s.event(0), s.event(1)}), events, 500),
                  0.25L + 0.75L * aging);
    const std::vector<BasicEvent> never{{"never", std::nullopt, 0.0, 10.0}};
    Diagrams one(1);
    CHECK(average_unavailability(one, one.event(0), never, 1000).value == 0);
    CHECK(average_unavailability(one, one.constant(true), never, 1000).value == Approx(1).epsilon(1e-13));
}

TEST_CASE("a rate that is high for the horizon is followed closely") {
    Diagrams s(1);
    const std::vector<BasicEvent> event{{"lamp", std::nullopt, 1.0, std::nullopt}};
    const Average a = average_unavailability(s, s.event(0), event, 1000);
    CHECK(std::abs(a.value - 0.999L) <= a.error_bound);  // 1 - (1 - exp(-1000)) / 1000
    CHECK(a.error_bound < 1e-11);
}

TEST_CASE("random functions, rates and test intervals against a fine sum of midpoints") {
    std::mt19937_64 dice(4);
    for (unsigned n = 0; n < 40; ++n) {
        Diagrams s(2 + n % 4);
        const auto [f, table] = lanyard::test::random_circuit(s, dice, true);
        std::vector<BasicEvent> events;
        for (std::size_t i = 0; i < s.events(); ++i) {
            events.push_back({"e", std::nullopt, std::nullopt, std::nullopt});
            auto& event = events.back();
            const auto kind = dice() % 3;
            if (kind == 0) event.probability = static_cast<double>(dice() % 101) / 100;
            if (kind != 0) event.rate_per_hour = static_cast<double>(1 + dice() % 100) * 1e-4;
            // Divisors of the horizon, so that tests are between the steps of the sum.
            if (kind == 2) event.test_interval_hours = 1200.0 / static_cast<double>(1 + dice() % 6);
        }
        const int steps = 4800;
        double sum = 0;
        for (int k = 0; k < steps; ++k) {
            std::vector<double> p;
            for (const Chance& c : chances_at(events, 1200 * (k + 0.5) / steps)) p.push_back(c.failed);
            sum += lanyard::test::probability_of(table, p);
        }
        INFO("function " << n);
        const Average a = average_unavailability(s, f, events, 1200);
        REQUIRE(a.value == Approx(sum / steps).epsilon(1e-5).margin(1e-7));
        REQUIRE(a.error_bound < 1e-12);
    }
}

TEST_CASE("what is no basic event is named, with the reason") {
    const auto problem = [](BasicEvent e) { return problem_of(e).value_or("none"); };
    CHECK(problem({"p", 0.5, {}, {}}) == "none");
    CHECK(problem({"p", {}, 1e-6, {}}) == "none");
    CHECK(problem({"p", {}, 1e-6, 10.0}) == "none");
    CHECK(problem({"", 0.5, {}, {}}) == "a basic event has no name");
    CHECK(problem({"p", {}, {}, {}}) == "basic event `p`: neither a probability nor a rate");
    CHECK(problem({"p", 0.5, 1e-6, {}}) == "basic event `p`: a probability and a rate; only one of them can be meant");
    CHECK(problem({"p", 1.5, {}, {}}) == "basic event `p`: a probability is a number from 0 to 1");
    CHECK(problem({"p", std::nan(""), {}, {}}) == "basic event `p`: a probability is a number from 0 to 1");
    CHECK(problem({"p", {}, -1.0, {}}) == "basic event `p`: a failure rate is a finite number, 0 or more");
    CHECK(problem({"p", {}, std::numeric_limits<double>::infinity(), {}}) ==
          "basic event `p`: a failure rate is a finite number, 0 or more");
    CHECK(problem({"p", 0.5, {}, 10.0}) ==
          "basic event `p`: a test interval says nothing about a constant probability");
    CHECK(problem({"p", {}, 1e-6, 0.0}) == "basic event `p`: a test interval is a finite number above 0");
}

TEST_CASE("a moment is as just before its test") {
    // The Open-PSA reading of a periodic test, and that of fault tree tools: tests/fault/scram_test.py.
    const BasicEvent e{"part", std::nullopt, 1e-5, 1000.0};
    CHECK(chance_at(e, 0).failed == 0);
    CHECK(chance_at(e, 500).failed == Approx(-std::expm1(-0.005)));
    CHECK(chance_at(e, 1000).failed == Approx(-std::expm1(-0.01)));
    CHECK(chance_at(e, 1500).failed == Approx(-std::expm1(-0.005)));
    CHECK(chance_at(e, 2000).failed == Approx(-std::expm1(-0.01)));
    CHECK(chance_at(e, 1500).works == Approx(std::exp(-0.005)));
}

TEST_CASE("means that make no sense or too much work are refused") {
    Diagrams s(1);
    const Function f = s.event(0);
    const std::vector<BasicEvent> event{{"part", std::nullopt, 1e-5, 1e-3}};
    CHECK_THROWS_AS(average_unavailability(s, f, event, 0), std::invalid_argument);
    CHECK_THROWS_AS(average_unavailability(s, f, event, -1), std::invalid_argument);
    CHECK_THROWS_AS(average_unavailability(s, f, event, std::nan("")), std::invalid_argument);
    CHECK_THROWS_AS(average_unavailability(s, f, {}, 10), std::invalid_argument);
    CHECK_THROWS_AS(average_unavailability(s, f, {{"part", 2.0, {}, {}}}, 10), std::invalid_argument);
    CHECK_THROWS_AS(average_unavailability(s, f, event, 1e9), TooLarge);
    CHECK_THROWS_AS(average_unavailability(s, f, {{"part", {}, 1e300, {}}}, 1e300), TooLarge);
    CHECK_THROWS_AS(chances_at(event, -1), std::invalid_argument);
}
