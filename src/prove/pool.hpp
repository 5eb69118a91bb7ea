// Threads that take pieces of work in their order, with limits on time and memory watched beside them. What is printed
// in order does not depend on how many threads there are.
//
// Where time is limited it is shared. Each piece first gets a short slice of it; a piece that is not done by then,
// while others wait, is stopped and goes to the end of the queue, to be begun anew with four times as much. So no hard
// piece keeps an easy one from its turn, and what is begun anew costs less than half of the time. A slice can only stop
// a piece, as the end of all time does; without a limit on time there are none. Tested by: tests/prove/pool_test.cpp
#pragma once

#include <functional>
#include <optional>

#include "prove/ask.hpp"

namespace lanyard::prove {

struct PoolOptions {
    JudgeOptions judge;  // prover and work limit
    unsigned jobs = 1;
    std::optional<double> time_s;
    std::optional<std::uint64_t> memory_mb;
    std::function<bool()> interrupted;  // asked now and then
};

struct PoolTasks {
    std::size_t count = 0;
    bool repeatable = false;  // a piece may be begun anew; only then is time shared
    std::function<void(std::size_t task, const JudgeOptions&)> work;
    std::function<void(std::size_t done, std::size_t task)> on_start;  // never two calls at once
    std::function<void(std::size_t task)> on_done;                     // in order, never two calls at once
};

// True if it was interrupted. Rethrows what work threw first.
bool run_pool(const PoolTasks& tasks, const PoolOptions& options);

}  // namespace lanyard::prove
