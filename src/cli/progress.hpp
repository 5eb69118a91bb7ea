// The line on standard error that says that something is going on.
#pragma once

#include <chrono>
#include <condition_variable>
#include <mutex>
#include <string>
#include <thread>

#include <lanyard/lanyard.hpp>

#include "cli/interrupt.hpp"

namespace lanyard::cli {

// What the line says; apart from the drawing, so that it can be tested.
std::string progress_text(const api::Progress& progress, long seconds);

// Draws after a second, and only if standard error is a terminal. Every text that goes to the terminal meanwhile
// has to be printed by `print`, which takes the line away first.
class ProgressLine {
 public:
    explicit ProgressLine(bool wanted);
    ~ProgressLine();
    ProgressLine(const ProgressLine&) = delete;
    ProgressLine& operator=(const ProgressLine&) = delete;

    void update(const api::Progress& progress);
    void print(const std::string& text);  // to standard output
    void stop();

 private:
    void draw_now_and_then();
    void wipe();

    std::mutex mutex_;
    std::condition_variable wake_;
    api::Progress latest_;
    bool drawn_ = false;
    bool ended_ = false;
    std::chrono::steady_clock::time_point begin_ = std::chrono::steady_clock::now();
    std::thread thread_;
};

// Asks; meanwhile the line tells how far that is, and Ctrl-C ends it in good order.
template <class Options, class Ask>
auto watched(ProgressLine& progress, Options& options, const Ask& ask) {
    options.on_progress = [&](const api::Progress& now) { progress.update(now); };
    auto report = [&] {
        const InterruptWatch watch;
        options.limits.stop = watch.token();
        return ask();
    }();
    progress.stop();
    return report;
}

}  // namespace lanyard::cli
