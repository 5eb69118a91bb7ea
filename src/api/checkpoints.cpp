#include "api/checkpoints.hpp"

#include <atomic>

#include "base/stop_flag.hpp"

namespace lanyard::api {

namespace {

std::atomic<long> asked{0}, stop_from{0};
std::atomic<void (*)()> call{nullptr};

bool stops_here() {
    const long now = asked.fetch_add(1) + 1;
    const long from = stop_from.load();
    if (const auto at = call.load(); now == from && at != nullptr) at();
    return from != 0 && now >= from;
}

}  // namespace

void stop_at_checkpoint(long n, void (*at)()) {
    asked.store(0);
    stop_from.store(n);
    call.store(at);
    StopFlag::asked.store(stops_here);
}

long checkpoints_asked() { return asked.load(); }

}  // namespace lanyard::api
