// What proofs need, as plain values.
#include "explain/needs.hpp"

#include <algorithm>

#include "api/impl.hpp"
#include "explain/mutation.hpp"
#include "report/needs.hpp"

namespace lanyard::api {

std::variant<NeedsOfProofs, Rejected> needs(const Model& model, const StudyOptions& options) {
    if (auto wrong = unknown_claim(model, options.claims)) return std::move(*wrong);
    const lanyard::model::Model& m = model.impl().model;
    const std::vector<ClaimInfo> infos = model.claims();
    DriverOptions driver = driver_options(options.limits, options.claims, options.on_progress, infos);
    driver.work_limit = JudgeOptions{}.work_limit;
    return guarded(model, [&] {
        const NeedsReport found = needs_of(m, driver, options.limits.work.value_or(work_of_mutant));
        const bool undecided = std::any_of(found.claims.begin(), found.claims.end(), [](const auto& c) {
            return std::holds_alternative<lanyard::claims::Undecided>(c.result.verdict);
        });
        return NeedsOfProofs{needs_text(m, found.claims), needs_json(m, found.claims, versions()), undecided,
                             found.interrupted};
    });
}

}  // namespace lanyard::api
