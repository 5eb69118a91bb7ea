// Ctrl-C.
#pragma once

#include <lanyard/call.hpp>

namespace lanyard::cli {

// While this lives, Ctrl-C and a request to terminate end a check in good order; a second one ends the program.
// There is one at a time.
class InterruptWatch {
 public:
    InterruptWatch();
    ~InterruptWatch();
    InterruptWatch(const InterruptWatch&) = delete;
    InterruptWatch& operator=(const InterruptWatch&) = delete;

    api::StopToken token() const { return source_.token(); }  // for Limits::stop of what may be ended

 private:
    api::StopSource source_;
};

}  // namespace lanyard::cli
