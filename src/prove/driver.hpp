// All claims of a model, on several threads, with limits - and the same verdicts with any number of threads.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "prove/judge.hpp"
#include "prove/pool.hpp"

namespace lanyard::prove {

struct DriverOptions {
    std::vector<ClaimId> claims;  // indices in Model::claims
    std::string prover;
    std::uint64_t work_limit = JudgeOptions{}.work_limit;
    KnownAnswers* known = nullptr;  // whoever changes the model says so in Model::made_into
    unsigned jobs = 1;
    std::optional<double> time_s;
    std::optional<std::uint64_t> memory_mb;
    std::function<bool()> interrupted;  // asked now and then
    // Adds to what was decided, in the claim's thread and within its limits.
    std::function<void(ClaimResult&, const JudgeOptions&)> explain;
    std::function<void(const ClaimResult&)> on_result;                 // in the order of `claims`; never two at once
    std::function<void(std::size_t decided, ClaimId claim)> on_start;  // a claim is begun; never two at once
};

// What of them a pool of threads is told.
PoolOptions pool_options(const DriverOptions& options);

struct DriverReport {
    std::vector<ClaimResult> results;  // in the order of `claims`
    bool interrupted = false;
};

// Throws InternalError.
DriverReport check_claims(const Model& model, const DriverOptions& options);

}  // namespace lanyard::prove
