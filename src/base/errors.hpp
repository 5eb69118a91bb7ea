// What is thrown where no verdict can be given.
#pragma once

#include <stdexcept>

#include "base/layers.hpp"

namespace lanyard::base {

// lanyard's own mistake: an answer that its check refuses, or a leap that is no run. Never a verdict.
struct InternalError : std::runtime_error {
    using std::runtime_error::runtime_error;
};

// The model holds something that has no encoding (said in `lanyard help limits`).
struct Unsupported : std::runtime_error {
    using std::runtime_error::runtime_error;
};

}  // namespace lanyard::base
