// Mutants: the score as plain values.
#include "report/mutants.hpp"
#include "api/impl.hpp"
#include "explain/mutation.hpp"
#include "report/story.hpp"

namespace lanyard::api {

MutantsReport mutants(const Model& model, const StudyOptions& options) {
    const lanyard::Model& m = model.impl().model;
    const std::vector<ClaimInfo> infos = model.claims();
    MutationOptions asked;
    asked.driver = driver_options(options, infos);
    if (options.work) asked.work = *options.work;
    asked.driver.work_limit = JudgeOptions{}.work_limit;
    if (options.on_progress)
        asked.on_mutant = [&options](std::size_t done, std::size_t all) {
            options.on_progress({done, all, "mutants", ""});
        };
    MutantsReport out;
    out.heading = model.heading();
    out.closing = safety_line();
    try {
        const MutationScore score = mutation_score(m, asked);
        out.interrupted = score.interrupted;
        out.judged = !score.judges.empty();
        out.survived = static_cast<std::size_t>(score.count(MutantFate::survived));
        out.text = mutation_text(m, score);
        out.json = mutation_json(m, score, versions());
    } catch (const lanyard::InternalError& e) {
        report_internal(model, e.what());
    }
    return out;
}

}  // namespace lanyard::api
