// What the making of a card may cost. Work is counted, in scans that are played and in units of the provers, so that it
// ends at the same point on every machine; time, memory and Ctrl-C end it from outside (prove/pool.hpp).
#pragma once

#include <algorithm>
#include <chrono>
#include <string>

#include "prove/driver.hpp"

namespace lanyard::card {

inline constexpr std::uint64_t work_of_question = 5'000'000;  // unless somebody wants another limit
inline constexpr std::uint64_t work_of_scan = 6;              // a scan played is worth so many units of a prover

class Limits {
 public:
    explicit Limits(const DriverOptions& options) : options_(options) {}

    // Scans that the search for settings may play.
    long scans() const { return static_cast<long>(std::min(options_.work_limit / work_of_scan, most_scans)); }

    // One thread on one thing, up to that part of the whole time.
    PoolOptions up_to(double part) const {
        PoolOptions pool = pool_options(options_);
        pool.jobs = 1;
        pool.time_s = left(part);
        return pool;
    }
    // Provers, up to the same moment.
    DriverOptions provers_up_to(double part) const {
        DriverOptions driver = options_;
        driver.time_s = left(part);
        return driver;
    }
    // What ended it, if something from outside did.
    std::string outside() const {
        if (!options_.memory_mb) return "the time was up";
        return options_.time_s ? "time or memory was up" : "the memory was up";
    }

 private:
    static constexpr std::uint64_t most_scans = 1'000'000'000;

    std::optional<double> left(double part) const {
        if (!options_.time_s) return std::nullopt;
        const double passed = std::chrono::duration<double>(std::chrono::steady_clock::now() - start_).count();
        return std::max(0.0, part * *options_.time_s - passed);
    }

    const DriverOptions& options_;
    std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
};

}  // namespace lanyard::card
