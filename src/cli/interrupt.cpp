#include "cli/interrupt.hpp"

#include <csignal>

#include <lanyard/lanyard.hpp>

namespace lanyard::cli {

namespace {

volatile std::sig_atomic_t asked = 0;

// The first signal asks, the second one, of either kind, does what it does to every program.
extern "C" void on_signal(int signal) {
    if (asked != 0) {
        std::signal(signal, SIG_DFL);
        std::raise(signal);
    }
    asked = 1;
    api::request_interrupt();
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
    api::clear_interrupt();
    asked = 0;
    watch(SIGINT, on_signal);
    watch(SIGTERM, on_signal);
}

InterruptWatch::~InterruptWatch() {
    watch(SIGINT, SIG_DFL);
    watch(SIGTERM, SIG_DFL);
}

}  // namespace lanyard::cli
