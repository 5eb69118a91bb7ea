// Mutants: the score as plain values.
#include "report/mutants.hpp"
#include "api/impl.hpp"
#include "api/parts.hpp"
#include "explain/mutation.hpp"

namespace lanyard::api {

std::variant<MutantsReport, Rejected> mutants(const Model& model, const MutantOptions& options) {
    if (auto wrong = unknown_claim(model, options.claims)) return std::move(*wrong);
    const lanyard::model::Model& m = model.impl().model;
    auto opened = answers_for(model, {std::nullopt, false, options.share, options.parts});
    if (auto* wrong = std::get_if<Rejected>(&opened)) return std::move(*wrong);
    Kept* const kept = std::get<std::unique_ptr<Kept>>(opened).get();
    const std::vector<ClaimInfo> infos = model.claims();
    MutationOptions asked;
    asked.driver = driver_options(options.limits, options.claims, options.on_progress, infos);
    if (options.limits.work) asked.work = *options.limits.work;
    asked.driver.work_limit = JudgeOptions{}.work_limit;
    asked.driver.known = kept;
    if (options.share) {
        asked.share = options.share->number;
        asked.shares = options.share->of;
    }
    if (options.on_progress)
        asked.on_mutant = [&options](std::size_t done, std::size_t all) {
            options.on_progress({done, all, "mutants", ""});
        };
    return guarded(model, [&] {
        const MutationScore score = mutation_score(m, asked);
        return MutantsReport{mutation_text(m, score), mutation_json(m, score, versions()),
                             !score.judges.empty(),   static_cast<std::size_t>(score.count(MutantFate::survived)),
                             score.interrupted,       write_answers(kept, options.share, score.interrupted)};
    });
}

}  // namespace lanyard::api
