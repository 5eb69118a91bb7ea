// Runs as the public face hands them out.
#pragma once

#include <mutex>

#include "api/impl.hpp"
#include "claims/run.hpp"
#include "sim/interpreter.hpp"
#include "sim/trace.hpp"

namespace lanyard::api {

struct Run::Impl {
    std::shared_ptr<const lanyard::model::Model> model;
    lanyard::claims::Run run;
    ClaimId claim;

    const std::vector<Scan>& played() const;  // every scan; made when it is first asked

 private:
    friend Run run_of(std::shared_ptr<const lanyard::model::Model> model, const lanyard::claims::Run& run,
                      ClaimId claim);
    mutable std::once_flag once_;
    mutable std::vector<Scan> scans_;
};

// `claim`: for which it was made.
Run run_of(std::shared_ptr<const lanyard::model::Model> model, const lanyard::claims::Run& run, ClaimId claim);

std::variant<TraceColumn, Rejected> signal_named(const lanyard::model::Model& model, const std::string& name);

}  // namespace lanyard::api
