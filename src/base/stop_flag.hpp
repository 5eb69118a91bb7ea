#pragma once

#include <atomic>
#include <string>

#include "base/layers.hpp"

namespace lanyard::base {

// Stops every solver of the process as soon as it looks: Ctrl-C, --time and --memory. Not part of any verdict:
// what was stopped is undecided.
class StopFlag {
 public:
    // Raised by itself, or as soon as `also` is.
    explicit StopFlag(const StopFlag* also = nullptr) : also_(also) {}

    // `why` is for the reports; that of the first call counts. Never two calls at once.
    void raise(const std::string& why) {
        if (is_up()) return;
        why_ = why;
        raised_.store(true, std::memory_order_release);
    }
    bool raised() const {
        if (is_up() || (also_ != nullptr && also_->is_up())) return true;
        const auto seam = asked.load(std::memory_order_relaxed);
        return seam != nullptr && seam();
    }

    // Which limit ended the work, once the flag is raised: "the time given with --time was up".
    std::string why() const {
        if (also_ != nullptr && also_->is_up()) return also_->why_;
        return is_up() ? why_ : "it was stopped";
    }

    // Nothing but in tests, which stop at a checkpoint of their choice: asked each time, true stops.
    inline static std::atomic<bool (*)()> asked{nullptr};

 private:
    bool is_up() const { return raised_.load(std::memory_order_acquire); }

    const StopFlag* also_;
    std::string why_;  // written before the flag is up, and never again
    std::atomic<bool> raised_{false};
};

}  // namespace lanyard::base
