// One function object of several, for std::visit and its like: each kind of argument has its own.
#pragma once

#include "base/layers.hpp"

namespace lanyard::base {

template <class... F>
struct Overloaded : F... {
    using F::operator()...;
};
template <class... F>
Overloaded(F...) -> Overloaded<F...>;

}  // namespace lanyard::base
