// Time that several pools of threads share, one after the other: what is left of it.
#pragma once

#include <algorithm>
#include <chrono>
#include <optional>

namespace lanyard::prove {

class SharedTime {
 public:
    explicit SharedTime(std::optional<double> seconds) : all_(seconds) {}

    // Seconds; none: no limit.
    std::optional<double> left() const {
        if (!all_) return std::nullopt;
        const std::chrono::duration<double> gone = std::chrono::steady_clock::now() - begun_;
        return std::max(0.0, *all_ - gone.count());
    }
    // So that what comes first leaves something to what comes after it, however hard it is.
    std::optional<double> half() const { return all_ ? std::optional(*all_ / 2) : std::nullopt; }

 private:
    std::optional<double> all_;
    std::chrono::steady_clock::time_point begun_ = std::chrono::steady_clock::now();
};

}  // namespace lanyard::prove
