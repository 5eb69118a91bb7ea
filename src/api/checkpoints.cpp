#include "api/checkpoints.hpp"

#include <atomic>

#include "base/stop_flag.hpp"
#include "lanyard/lanyard.hpp"

namespace lanyard::api {

namespace {

std::atomic<long> asked{0}, stop_from{0};
std::atomic<bool> as_interrupt{false};

bool stops_here() {
    const long now = asked.fetch_add(1) + 1;
    const long from = stop_from.load();
    if (from == 0 || now < from) return false;
    if (as_interrupt.load()) request_interrupt();
    return true;
}

void stop_at(long n, bool interrupt) {
    asked.store(0);
    stop_from.store(n);
    as_interrupt.store(interrupt);
    StopFlag::asked.store(stops_here);
}

}  // namespace

void interrupt_at_checkpoint(long n) { stop_at(n, true); }
void end_time_at_checkpoint(long n) { stop_at(n, false); }
long checkpoints_asked() { return asked.load(); }

}  // namespace lanyard::api
