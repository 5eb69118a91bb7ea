#include "cli/progress.hpp"

#include <unistd.h>

#include <algorithm>
#include <iostream>

#include "cli/terminal.hpp"

namespace lanyard::cli {

namespace {

// A guess from what has been decided so far, and called that; of the first few it would say nothing.
std::string left_text(const api::Progress& progress, long seconds) {
    constexpr std::size_t enough = 3;
    constexpr long long_enough = 5, minutes_from = 120, minute = 60;
    if (progress.decided < enough || progress.decided >= progress.total || seconds < long_enough) return "";
    const auto decided = static_cast<long>(progress.decided), total = static_cast<long>(progress.total);
    const long guess = seconds * (total - decided) / decided;
    const std::string time =
        guess < minutes_from ? std::to_string(guess) + " s" : std::to_string(guess / minute) + " min";
    return ", about " + time + " left if the others take as long";
}

}  // namespace

ProgressTo progress_to(const CommandLine& line) {
    if (is_terminal(STDERR_FILENO)) return ProgressTo::terminal;
    return line.has("--progress") ? ProgressTo::lines : ProgressTo::nobody;
}

std::string progress_text(const api::Progress& progress, long seconds) {
    std::string text = std::to_string(progress.decided) + " of " + std::to_string(progress.total) + " decided, " +
                       std::to_string(seconds) + " s" + left_text(progress, seconds);
    if (!progress.claim.empty()) text += ": " + harmless(progress.claim);
    if (!progress.doing.empty()) text += ", " + harmless(progress.doing);
    return text;
}

ProgressLine::ProgressLine(ProgressTo where) {
    if (where == ProgressTo::terminal) thread_ = std::thread([this] { draw_now_and_then(); });
    if (where == ProgressTo::lines) thread_ = std::thread([this] { write_now_and_then(); });
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

long ProgressLine::seconds() const {
    return std::chrono::duration_cast<std::chrono::seconds>(std::chrono::steady_clock::now() - begin_).count();
}

void ProgressLine::draw_now_and_then() {
    using namespace std::chrono_literals;
    std::unique_lock lock(mutex_);
    while (!wake_.wait_for(lock, drawn_ ? 200ms : 1000ms, [this] { return ended_; })) {
        if (seconds() < 1) continue;
        const std::size_t width = terminal_width(STDERR_FILENO);
        std::cerr << "\r\x1b[K" << cut_to(progress_text(latest_, seconds()), width > 1 ? width - 1 : 1) << std::flush;
        drawn_ = true;
    }
}

void ProgressLine::write_now_and_then() {
    using namespace std::chrono_literals;
    std::unique_lock lock(mutex_);
    std::chrono::seconds pause = 2s;
    while (!wake_.wait_for(lock, pause, [this] { return ended_; })) {
        std::cerr << "lanyard: " << progress_text(latest_, seconds()) << std::endl;
        pause = std::min(2 * pause, std::chrono::seconds(1min));
    }
}

}  // namespace lanyard::cli
