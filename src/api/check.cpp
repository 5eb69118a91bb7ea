// Checking: the driver's results as plain values.
#include <algorithm>

#include "api/judged.hpp"
#include "api/parts.hpp"
#include "explain/causes.hpp"
#include "explain/never.hpp"
#include "explain/other_runs.hpp"
#include "explain/trap_causes.hpp"
#include "prove/driver.hpp"
#include "report/story.hpp"
#include "report/terminal.hpp"

namespace lanyard::api {

namespace {

// A run in which a claim that holds demands something; what gets to a goal is told anyhow.
std::string example_text(const FilmedResult& r) {
    const auto* proved = std::get_if<lanyard::claims::Proved>(&r.verdict);
    const bool shown = proved != nullptr && !std::holds_alternative<Possible>(r.model.claims[r.claim].body);
    return shown && !proved->shown().segments.empty() ? "\n" + moments_text(r.film()) : "";
}

ClaimReport report_of(const Model& model, const ClaimInfo& info, const FilmedResult& r, bool example) {
    const lanyard::model::Model& m = model.impl().model;
    ClaimReport out;
    out.id = info.id;
    out.kind = info.kind;
    out.condition = info.condition;
    out.rule = info.rule;
    out.line = info.line;
    out.column = info.column;
    out.verdict = public_verdict(model, r);
    out.prover = r.prover;
    out.leaps = r.leaps;
    out.summary = summary(r);
    if (!r.leaps) out.summary += " (step acceleration could not be justified; every step is one scan)";
    out.story = story(r, {.certificates = false});  // the certificate says what it rests on
    if (example) out.story += example_text(r);
    out.folder = evidence_folder(m, r.claim);
    out.timing = {r.timing.finding, r.timing.minimising, r.timing.rechecking, r.timing.replaying};
    return out;
}

Outcome outcome_of(const std::vector<ClaimReport>& claims) {
    bool undecided = false;
    for (const auto& c : claims) {
        if (std::holds_alternative<Refuted>(c.verdict) || std::holds_alternative<Vacuous>(c.verdict))
            return Outcome::failed;
        undecided = undecided || std::holds_alternative<Undecided>(c.verdict);
    }
    if (claims.empty()) return Outcome::nothing;
    return undecided ? Outcome::undecided : Outcome::all_proved;
}

void explain(const lanyard::model::Model& m, ClaimResult& r, const JudgeOptions& options) {
    explain_never(m, r, options);
    const auto* refuted = std::get_if<lanyard::claims::Refuted>(&r.verdict);
    if (refuted == nullptr || !refuted->run) return;
    r.causes = refuted->certificate ? trap_causes_of(m, *refuted->run, *refuted->certificate, r.claim, options)
                                    : causes_of(m, *refuted->run, r.claim);
}

// Runs for other reasons beside those that were found. True if that was interrupted.
bool add_others(const lanyard::model::Model& m, const DriverOptions& driver, unsigned count, FilmedResults& results) {
    PoolTasks tasks;
    tasks.count = results.size();
    tasks.work = [&](std::size_t i, const JudgeOptions& o) {
        ClaimResult& r = results[i];
        const auto* refuted = std::get_if<lanyard::claims::Refuted>(&r.verdict);
        if (refuted == nullptr || !r.causes || r.causes->of_trap) return;
        OtherRuns others = other_runs(m, {*refuted->run, *r.causes}, r.claim, count, o);
        r.others = std::move(others.list);
        r.no_more = others.no_more;
    };
    return run_pool(tasks, pool_options(driver));
}

Results judged(const Model& model, const CheckOptions& options, Kept* kept) {
    const lanyard::model::Model& m = model.impl().model;
    const std::vector<ClaimInfo> infos = model.claims();
    const auto info = [&](const ClaimResult& r) { return infos[r.claim.index()]; };
    DriverOptions driver = driver_options(options.limits, options.claims, options.on_progress, infos, options.share);
    driver.prover = options.prover;
    driver.known = kept;
    driver.explain = [&](ClaimResult& r, const JudgeOptions& o) { explain(m, r, o); };
    auto found = std::make_shared<Results::Judged>(model, driver.jobs);
    Results out;
    driver.on_result = [&](const ClaimResult& r) {
        out.claims.push_back(report_of(model, info(r), found->results.emplace_back(m, r), options.examples));
        if (options.on_claim) options.on_claim(out.claims.back());
    };
    out.interrupted = check_claims(m, driver).interrupted;
    out.keep_error = write_answers(kept, options.share, out.interrupted);
    if (options.counterexamples > 1 && !out.interrupted) {
        out.interrupted = add_others(m, driver, options.counterexamples - 1, found->results);
        for (std::size_t k = 0; k < out.claims.size(); ++k)
            if (const FilmedResult& r = found->results[k]; !r.others.empty() || r.no_more != NoMore::enough)
                out.claims[k] = report_of(model, info(r), r, options.examples);
    }
    out.outcome = outcome_of(out.claims);
    out.judged = std::move(found);
    return out;
}

}  // namespace

std::variant<Results, Rejected> check(const Model& model, const CheckOptions& options) {
    if (auto wrong = unknown_claim(model, options.claims)) return std::move(*wrong);
    if (auto wrong = unknown_prover(options.prover)) return std::move(*wrong);
    auto kept = answers_for(model, {options.keep, options.fresh, options.share, options.parts});
    if (auto* wrong = std::get_if<Rejected>(&kept)) return std::move(*wrong);
    return guarded(model, [&] { return judged(model, options, std::get<std::unique_ptr<Kept>>(kept).get()); });
}

}  // namespace lanyard::api
