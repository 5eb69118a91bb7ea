// For tests: a stop at a place instead of at a time. Whatever judges asks now and then whether it is to stop
// (StopFlag); those are the checkpoints, and from the n-th of them on the answer can be yes.
#pragma once

#include "base/layers.hpp"

namespace lanyard::api {

// From the n-th checkpoint on everything stops, as by the end of --time; 0: nothing does. `at`: called first, once;
// asks a StopSource to stop, where it is to be as by an interrupt. Counting begins anew.
void stop_at_checkpoint(long n, void (*at)() = nullptr);
long checkpoints_asked();

}  // namespace lanyard::api
