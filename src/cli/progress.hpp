// What standard error says while something is going on: a line that is drawn anew on a terminal; elsewhere, where
// --progress asks for it, a line now and then.
#pragma once

#include <chrono>
#include <condition_variable>
#include <mutex>
#include <string>
#include <thread>

#include <lanyard/lanyard.hpp>

#include "cli/interrupt.hpp"
#include "cli/parse.hpp"

namespace lanyard::cli {

// What the line says; apart from the drawing, so that it can be tested.
std::string progress_text(const api::Progress& progress, long seconds);

enum class ProgressTo { nobody, terminal, lines };
ProgressTo progress_to(const CommandLine& line);

// Draws after a second; lines come after 2 s, then in ever longer intervals, at last one a minute. Every text that goes
// to the terminal meanwhile has to be printed by `print`, which takes the line away first.
class ProgressLine {
 public:
    explicit ProgressLine(ProgressTo where);
    ~ProgressLine();
    ProgressLine(const ProgressLine&) = delete;
    ProgressLine& operator=(const ProgressLine&) = delete;

    void update(const api::Progress& progress);
    void print(const std::string& text);  // to standard output
    void stop();

 private:
    void draw_now_and_then();
    void write_now_and_then();
    long seconds() const;
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
