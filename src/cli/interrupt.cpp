#include "cli/interrupt.hpp"

#include <csignal>

#include <lanyard/lanyard.hpp>

namespace lanyard::cli {

namespace {

extern "C" void on_signal(int) { api::request_interrupt(); }

void watch(int signal, void (*handler)(int)) {
    struct sigaction action {};
    action.sa_handler = handler;
    sigemptyset(&action.sa_mask);
    // The first signal asks, the second one does what it does to every program.
    action.sa_flags = handler == SIG_DFL ? 0 : static_cast<int>(SA_RESETHAND | SA_RESTART);
    sigaction(signal, &action, nullptr);
}

}  // namespace

InterruptWatch::InterruptWatch() {
    api::clear_interrupt();
    watch(SIGINT, on_signal);
    watch(SIGTERM, on_signal);
}

InterruptWatch::~InterruptWatch() {
    watch(SIGINT, SIG_DFL);
    watch(SIGTERM, SIG_DFL);
}

}  // namespace lanyard::cli
