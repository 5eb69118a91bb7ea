// Ctrl-C.
#pragma once

namespace lanyard::cli {

// While this lives, Ctrl-C and a request to terminate end a check in good order; a second one ends the program.
class InterruptWatch {
 public:
    InterruptWatch();
    ~InterruptWatch();
    InterruptWatch(const InterruptWatch&) = delete;
    InterruptWatch& operator=(const InterruptWatch&) = delete;
};

}  // namespace lanyard::cli
