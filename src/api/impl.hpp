// What stands behind the public model.
#pragma once

#include <algorithm>
#include <string>
#include <thread>
#include <vector>

#include "lanyard/lanyard.hpp"
#include "model/model.hpp"
#include "prove/driver.hpp"
#include "report/faults.hpp"
#include "report/header.hpp"

namespace lanyard::api {

struct Model::Impl {
    lanyard::Model model;
    std::string warnings;
};

Versions versions();
bool interrupt_requested();

// How far everything that judges may go. `options` has to outlive the answer.
template <class Options>
DriverOptions limits_of(const Options& options) {
    DriverOptions driver;
    if (options.work) driver.work_limit = *options.work;
    driver.jobs = options.jobs ? options.jobs : std::max(1U, std::thread::hardware_concurrency());
    driver.time_s = options.time_s;
    driver.memory_mb = options.memory_mb;
    driver.interrupted = interrupt_requested;
    return driver;
}

// The same, with the claims that are wanted. `infos` has to outlive the answer too.
template <class Options>
DriverOptions driver_options(const Options& options, const std::vector<ClaimInfo>& infos) {
    DriverOptions driver = limits_of(options);
    for (std::size_t i = 0; i < infos.size(); ++i) {
        const auto& wanted = options.claims;
        if (wanted.empty() || std::find(wanted.begin(), wanted.end(), infos[i].id) != wanted.end())
            driver.claims.emplace_back(i);
    }
    driver.on_start = [&options, &infos, total = driver.claims.size()](std::size_t decided, ClaimId claim) {
        if (options.on_progress) options.on_progress({decided, total, infos[claim.index()].id, ""});
    };
    return driver;
}

struct AnalysedFaults {
    lanyard::Model used;  // with all faults that were asked about
    FaultTables tables;
    bool interrupted = false;
};
AnalysedFaults analyse(const Model& model, const FaultOptions& options);

// Writes what is needed to look into it, and throws.
[[noreturn]] void report_internal(const Model& model, const std::string& what);

}  // namespace lanyard::api
