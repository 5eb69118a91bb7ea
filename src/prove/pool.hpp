// Threads that take pieces of work in their order, with limits on time and memory watched beside them. What is printed
// in order does not depend on how many threads there are.
#pragma once

#include <functional>
#include <optional>

#include "prove/ask.hpp"

namespace lanyard {

struct PoolOptions {
    JudgeOptions judge;  // prover and work limit
    unsigned jobs = 1;
    std::optional<double> time_s;
    std::optional<std::uint64_t> memory_mb;
    std::function<bool()> interrupted;  // asked now and then
};

struct PoolTasks {
    std::size_t count = 0;
    std::function<void(std::size_t task, const JudgeOptions&)> work;
    std::function<void(std::size_t done, std::size_t task)> on_start;  // never two calls at once
    std::function<void(std::size_t task)> on_done;                     // in order, never two calls at once
};

// True if it was interrupted. Rethrows what work threw first.
bool run_pool(const PoolTasks& tasks, const PoolOptions& options);

}  // namespace lanyard
