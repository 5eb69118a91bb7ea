#include "cli/progress.hpp"

#include <unistd.h>

#include <iostream>

#include "cli/terminal.hpp"

namespace lanyard::cli {

std::string progress_text(const api::Progress& progress, long seconds) {
    std::string text = std::to_string(progress.decided) + " of " + std::to_string(progress.total) + " decided, " +
                       std::to_string(seconds) + " s";
    if (!progress.claim.empty()) text += ": " + harmless(progress.claim);
    if (!progress.doing.empty()) text += ", " + harmless(progress.doing);
    return text;
}

ProgressLine::ProgressLine(bool wanted) {
    if (wanted) thread_ = std::thread([this] { draw_now_and_then(); });
}

ProgressLine::~ProgressLine() { stop(); }

void ProgressLine::update(const api::Progress& progress) {
    std::lock_guard lock(mutex_);
    latest_ = progress;
}

void ProgressLine::print(const std::string& text) {
    std::lock_guard lock(mutex_);
    wipe();
    std::cout << text << std::flush;
}

void ProgressLine::stop() {
    {
        std::lock_guard lock(mutex_);
        ended_ = true;
        wipe();
    }
    wake_.notify_all();
    if (thread_.joinable()) thread_.join();
}

void ProgressLine::wipe() {
    if (drawn_) std::cerr << "\r\x1b[K" << std::flush;
    drawn_ = false;
}

void ProgressLine::draw_now_and_then() {
    using namespace std::chrono_literals;
    std::unique_lock lock(mutex_);
    while (!wake_.wait_for(lock, drawn_ ? 200ms : 1000ms, [this] { return ended_; })) {
        const auto passed = std::chrono::steady_clock::now() - begin_;
        const long seconds = static_cast<long>(std::chrono::duration_cast<std::chrono::seconds>(passed).count());
        if (seconds < 1) continue;
        const std::size_t width = terminal_width(STDERR_FILENO);
        std::cerr << "\r\x1b[K" << cut_to(progress_text(latest_, seconds), width > 1 ? width - 1 : 1) << std::flush;
        drawn_ = true;
    }
}

}  // namespace lanyard::cli
