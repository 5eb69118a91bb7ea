#include "fault/basic_event.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace lanyard::fault {

std::optional<std::string> problem_of(const BasicEvent& event) {
    if (event.name.empty()) return "a basic event has no name";
    const std::string who = "basic event `" + event.name + "`: ";
    if (event.probability.has_value() == event.rate_per_hour.has_value())
        return who + (event.probability ? "a probability and a rate; only one of them can be meant"
                                        : "neither a probability nor a rate");
    // Written so that "not a number" fails too.
    if (event.probability && !(*event.probability >= 0 && *event.probability <= 1))
        return who + "a probability is a number from 0 to 1";
    if (event.rate_per_hour && !(*event.rate_per_hour >= 0 && std::isfinite(*event.rate_per_hour)))
        return who + "a failure rate is a finite number, 0 or more";
    if (!event.test_interval_hours) return std::nullopt;
    if (event.probability) return who + "a test interval says nothing about a constant probability";
    if (!(*event.test_interval_hours > 0 && std::isfinite(*event.test_interval_hours)))
        return who + "a test interval is a finite number above 0";
    return std::nullopt;
}

Chance chance_at(const BasicEvent& event, double hours) {
    if (event.probability) return {*event.probability, 1 - *event.probability};
    double since = hours;
    if (event.test_interval_hours && hours > 0) {
        const double interval = *event.test_interval_hours;
        since = std::max(0.0, hours - interval * (std::ceil(hours / interval) - 1));
    }
    const double x = *event.rate_per_hour * since;
    return {-std::expm1(-x), std::exp(-x)};
}

std::vector<Chance> chances_at(const std::vector<BasicEvent>& events, double hours) {
    if (!(hours >= 0 && std::isfinite(hours))) throw std::invalid_argument("a time is a finite number, 0 or more");
    std::vector<Chance> out;
    for (const auto& event : events) {
        if (const auto problem = problem_of(event)) throw std::invalid_argument(*problem);
        out.push_back(chance_at(event, hours));
    }
    return out;
}

}  // namespace lanyard::fault
