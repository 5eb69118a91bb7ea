// Mutants: the score as plain values.
#include "report/mutants.hpp"
#include "api/impl.hpp"
#include "explain/mutation.hpp"

namespace lanyard::api {

std::variant<MutantsReport, Rejected> mutants(const Model& model, const StudyOptions& options) {
    if (auto wrong = unknown_claim(model, options.claims)) return std::move(*wrong);
    const lanyard::model::Model& m = model.impl().model;
    const std::vector<ClaimInfo> infos = model.claims();
    MutationOptions asked;
    asked.driver = driver_options(options.limits, options.claims, options.on_progress, infos);
    if (options.limits.work) asked.work = *options.limits.work;
    asked.driver.work_limit = JudgeOptions{}.work_limit;
    if (options.on_progress)
        asked.on_mutant = [&options](std::size_t done, std::size_t all) {
            options.on_progress({done, all, "mutants", ""});
        };
    return guarded(model, [&] {
        const MutationScore score = mutation_score(m, asked);
        return MutantsReport{mutation_text(m, score), mutation_json(m, score, versions()), !score.judges.empty(),
                             static_cast<std::size_t>(score.count(MutantFate::survived)), score.interrupted};
    });
}

}  // namespace lanyard::api
