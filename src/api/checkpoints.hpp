// For tests: Ctrl-C at a place instead of at a time. Whatever judges asks now and then whether it is to stop
// (StopFlag); those are the checkpoints, and the n-th of them can be told yes.
#pragma once

namespace lanyard::api {

// From the n-th checkpoint on everything is stopped as by request_interrupt(); 0: nothing is. Counting begins anew.
void interrupt_at_checkpoint(long n);
// As by the end of --time: stopped, and not interrupted.
void end_time_at_checkpoint(long n);
long checkpoints_asked();

}  // namespace lanyard::api
