// What proofs need, as plain values.
#include "explain/needs.hpp"

#include "api/impl.hpp"
#include "explain/mutation.hpp"
#include "report/needs.hpp"
#include "report/story.hpp"

namespace lanyard::api {

NeedsOfProofs needs(const Model& model, const StudyOptions& options) {
    const lanyard::Model& m = model.impl().model;
    const std::vector<ClaimInfo> infos = model.claims();
    DriverOptions driver = driver_options(options, infos);
    driver.work_limit = JudgeOptions{}.work_limit;
    NeedsOfProofs out;
    out.heading = model.heading();
    out.closing = safety_line();
    try {
        const NeedsReport found = needs_of(m, driver, options.work.value_or(work_of_mutant));
        out.interrupted = found.interrupted;
        for (const auto& c : found.claims)
            out.undecided = out.undecided || std::holds_alternative<Undecided>(c.result.verdict);
        out.text = needs_text(m, found.claims);
        out.json = needs_json(m, found.claims, versions());
    } catch (const lanyard::InternalError& e) {
        report_internal(model, e.what());
    }
    return out;
}

}  // namespace lanyard::api
