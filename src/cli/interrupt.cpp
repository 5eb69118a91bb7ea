#include "cli/interrupt.hpp"

#include <atomic>
#include <csignal>

namespace lanyard::cli {

namespace {

std::atomic<const api::StopSource*> watching{nullptr};
static_assert(std::atomic<const api::StopSource*>::is_always_lock_free, "a signal handler reads it");

// The first signal asks, the second one, of either kind, does what it does to every program.
extern "C" void on_signal(int signal) {
    const api::StopSource* source = watching.load();
    if (source == nullptr || source->stop_requested()) {
        std::signal(signal, SIG_DFL);
        std::raise(signal);
    } else {
        source->request_stop();
    }
}

void watch(int signal, void (*handler)(int)) {
    struct sigaction action {};
    action.sa_handler = handler;
    sigemptyset(&action.sa_mask);
    action.sa_flags = handler == SIG_DFL ? 0 : static_cast<int>(SA_RESTART | SA_NODEFER);
    sigaction(signal, &action, nullptr);
}

}  // namespace

InterruptWatch::InterruptWatch() {
    watching.store(&source_);
    watch(SIGINT, on_signal);
    watch(SIGTERM, on_signal);
}

InterruptWatch::~InterruptWatch() {
    watch(SIGINT, SIG_DFL);
    watch(SIGTERM, SIG_DFL);
    watching.store(nullptr);
}

}  // namespace lanyard::cli
