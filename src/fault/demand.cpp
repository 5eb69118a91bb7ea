// What it computes: the mean unavailability over a time, by composite Gauss-Legendre quadrature with 8 points, between
// the moments of tests.
// Why the bound is right: between tests the probability Q(t) is a polynomial, linear in each u_i = exp(-L_i s_i) with
// 0 <= u_i <= 1. A mixed derivative of Q by k different u_i is a sum of 2^k values of Q, half of them with a minus, so
// it is at most 2^(k-1) in size. By the rule of Leibniz the m-th derivative by time (m >= 1) is then at most
// 1/2 m! [z^m] prod_i (1 + 2 (exp(L_i z) - 1)) <= 1/2 m! [z^m] prod_i exp(2 L_i z) = 1/2 (2 L)^m,  L = sum of the L_i,
// since 2 / k! <= 2^k / k!. The error of n points on a length h is h^(2n+1) n!^4 / ((2n+1) (2n)!^3) times the 2n-th
// derivative somewhere in it. Pieces are cut such that 2 L h <= 1, and then the bound is below 1e-23.
// To this come roundings: in relative terms a few for each event on the way through the diagram and one for each point;
// in absolute terms those of L_i s_i, and those of the moments of tests: between a test and where rounding puts it Q
// may be anything from 0 to 1. When it gives up: more points than work_limit allows for a diagram of this size.
// Sources: M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions (1964), 25.4.29, 25.4.30 and table 25.4; the
// bound of the derivative is worked out here.
// Tested by: tests/fault/demand_test.cpp
#include "fault/demand.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "fault/probability.hpp"

namespace lanyard::fault {

namespace {

constexpr int points = 8;
// On -1 .. 1; the other half is the mirror image.
constexpr std::array<double, 4> abscissas{0.1834346424956498, 0.5255324099163290, 0.7966664774136267,
                                          0.9602898564975363};
constexpr std::array<double, 4> weights{0.3626837833783620, 0.3137066458778873, 0.2223810344533745, 0.1012285362903763};
constexpr double error_factor = 1.70e-23;  // 8!^4 / (17 * 16!^3), rounded up
constexpr double work_limit = 2e8;         // values of nodes

struct Part {
    const BasicEvent* event;
    double last_test = 0;  // before the present piece

    // Not by chance_at(): which side of a test a moment belongs to is decided once for the whole piece.
    Chance at(double t) const {
        if (event->probability) return {*event->probability, 1 - *event->probability};
        const double x = *event->rate_per_hour * std::max(0.0, t - last_test);
        return {-std::expm1(-x), std::exp(-x)};
    }
};

class Quadrature {
 public:
    Quadrature(const Diagrams& s, Function f, const std::vector<BasicEvent>& events, double horizon)
        : evaluate_(s, f), horizon_(horizon), support_(s.support(f)), chances_(events.size()) {
        for (const std::size_t i : support_) {
            const auto& event = events[i];
            parts_.push_back({&event, 0});
            rates_ += event.rate_per_hour.value_or(0);
        }
        find_tests();
    }

    Average run() {
        double begin = 0;
        for (const double end : ends_) {
            if (end > begin) piece(begin, end);
            begin = end;
        }
        constexpr double ulp = std::numeric_limits<double>::epsilon();
        const auto depth = static_cast<double>(support_.size());
        const double relative = (5 * depth + count_ + 10) * ulp;
        const double absolute = (4 * rates_ * horizon_ + static_cast<double>(ends_.size() - 1)) * ulp;
        const double mean = sum_ / horizon_;
        return {mean, truncation_ / horizon_ + relative * mean + absolute};
    }

 private:
    void find_tests() {
        double total = rates_ * horizon_ * 2;
        for (const auto& part : parts_)
            if (part.event->test_interval_hours) total += horizon_ / *part.event->test_interval_hours;
        if (!((total + 1) * points * static_cast<double>(evaluate_.size() + parts_.size() + 1) <= work_limit))
            throw TooLarge(fmt::format("too many tests, or rates too high, for a mean over {} h", horizon_));
        for (const auto& part : parts_) {
            if (!part.event->test_interval_hours) continue;
            for (double k = 1; k * *part.event->test_interval_hours < horizon_; ++k)
                ends_.push_back(k * *part.event->test_interval_hours);
        }
        ends_.push_back(horizon_);
        std::sort(ends_.begin(), ends_.end());
        ends_.erase(std::unique(ends_.begin(), ends_.end()), ends_.end());
    }

    void piece(double begin, double end) {
        for (auto& part : parts_)
            if (part.event->test_interval_hours) {
                const double interval = *part.event->test_interval_hours;
                part.last_test = interval * std::floor((begin + (end - begin) / 2) / interval);
            }
        const double panels = std::max(1.0, std::ceil(2 * rates_ * (end - begin)));
        const double width = (end - begin) / panels;
        for (double k = 0; k < panels; ++k) panel(begin + k * width, width);
        truncation_ += panels * error_factor / 2 * width * std::pow(2 * rates_ * width, 2 * points);
    }

    void panel(double begin, double width) {
        const double half = width / 2;
        for (std::size_t i = 0; i < abscissas.size(); ++i)
            sum_ += half * weights[i] *
                    (value(begin + half * (1 - abscissas[i])) + value(begin + half * (1 + abscissas[i])));
        count_ += points;
    }

    double value(double t) {
        for (std::size_t k = 0; k < parts_.size(); ++k) chances_[support_[k]] = parts_[k].at(t);
        return evaluate_(chances_);
    }

    Evaluator evaluate_;
    double horizon_;
    std::vector<std::size_t> support_;
    std::vector<Chance> chances_;
    std::vector<Part> parts_;
    std::vector<double> ends_;
    double rates_ = 0;
    double sum_ = 0;
    double truncation_ = 0;
    double count_ = 0;
};

}  // namespace

Average average_unavailability(const Diagrams& s, Function f, const std::vector<BasicEvent>& events,
                               double horizon_hours) {
    if (!(horizon_hours > 0 && std::isfinite(horizon_hours)))
        throw std::invalid_argument("the horizon of a mean is a finite time above 0");
    if (events.size() < s.events()) throw std::invalid_argument("fewer basic events than the structure has");
    for (const auto& event : events)
        if (const auto problem = problem_of(event)) throw std::invalid_argument(*problem);
    return Quadrature(s, f, events, horizon_hours).run();
}

}  // namespace lanyard::fault
