#pragma once

#include <atomic>

#include "base/layers.hpp"

namespace lanyard::base {

// Stops every solver of the process as soon as it looks: Ctrl-C, --time and --memory. Not part of any verdict:
// what was stopped is undecided.
class StopFlag {
 public:
    // Raised by itself, or as soon as `also` is.
    explicit StopFlag(const StopFlag* also = nullptr) : also_(also) {}

    void raise() { raised_.store(true, std::memory_order_relaxed); }
    bool raised() const {
        if (is_up() || (also_ != nullptr && also_->is_up())) return true;
        const auto seam = asked.load(std::memory_order_relaxed);
        return seam != nullptr && seam();
    }

    // Nothing but in tests, which stop at a checkpoint of their choice: asked each time, true stops.
    inline static std::atomic<bool (*)()> asked{nullptr};

 private:
    bool is_up() const { return raised_.load(std::memory_order_relaxed); }

    const StopFlag* also_;
    std::atomic<bool> raised_{false};
};

}  // namespace lanyard::base
