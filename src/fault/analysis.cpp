#include "fault/analysis.hpp"

#include "certify/complete.hpp"
#include "fault/blocked_goal.hpp"
#include "prove/canonical.hpp"
#include "prove/judge.hpp"

namespace lanyard::fault {

namespace {

std::string why_not(const Verdict& v) {
    if (std::holds_alternative<Refuted>(v)) return "it does not hold without a fault";
    if (std::holds_alternative<Vacuous>(v)) return "it is vacuous without a fault: " + std::get<Vacuous>(v).reason;
    if (const auto* open = std::get_if<Undecided>(&v)) return "undecided without a fault: " + open->reason;
    return "";
}

bool has_faults(const Model& m, const Claim& c) {
    const auto names = [&](ConditionId condition) { return condition && !m.conditions[condition].faults.empty(); };
    return names(c.condition) || names(c.reached_under);
}

ClaimFaults analyse(const Model& m, ClaimId claim, const CutOptions& cut, const JudgeOptions& judging) {
    ClaimFaults out;
    out.claim = claim;
    const Claim& c = m.claims[claim];
    if (has_faults(m, c)) {
        out.not_judged = "its condition already names faults";
        return out;
    }
    const ClaimResult sound = judge(m, claim, judging);
    out.not_judged = why_not(sound.verdict);
    out.not_settled = std::holds_alternative<Undecided>(sound.verdict);
    if (!out.not_judged.empty()) return out;
    const Run& example = std::get<Proved>(sound.verdict).example;
    out = std::holds_alternative<Possible>(c.body) ? find_blocking_sets(m, claim, example, cut, judging)
                                                   : find_cut_sets(m, claim, cut, judging);
    out.example = example;
    return out;
}

}  // namespace

FaultAnalysis analyse_faults(const Model& model, const FaultOptions& options) {
    const auto& claims = options.driver.claims;
    FaultAnalysis out;
    out.claims.resize(claims.size());
    out.groups = alike(model, options.faults);
    const CutOptions cut{options.order, options.faults, options.from_the_start, out.groups};
    PoolTasks tasks;
    tasks.count = claims.size();
    tasks.work = [&](std::size_t i, const JudgeOptions& o) {
        ClaimFaults& slot = out.claims[i];
        bool settled = false;
        try {
            slot = analyse(model, claims[i], cut, o);
            settled = true;
        } catch (const InternalError&) {
            if (!o.stopped()) throw;  // what an interrupted solver says counts for nothing
            slot.not_judged = "stopped before it was decided";
        } catch (const z3::exception& e) {
            if (!o.stopped()) throw InternalError{std::string("the solver failed: ") + e.msg()};
            slot.not_judged = "stopped before it was decided";
        } catch (const Unsupported& u) {
            slot.not_judged = std::string("not covered: ") + u.what();
        }
        slot.claim = claims[i];
        if (!settled) slot.not_settled = true;
    };
    tasks.on_start = [&](std::size_t done, std::size_t i) {
        if (options.driver.on_start) options.driver.on_start(done, claims[i]);
    };
    tasks.on_done = [&](std::size_t i) {
        if (options.on_claim) options.on_claim(out.claims[i]);
    };
    out.interrupted = run_pool(tasks, pool_options(options.driver));
    return out;
}

Told tell(const Model& model, ClaimId claim, const claims::CutSet& set) {
    const bool present = !set.run;
    const auto with = std::make_shared<const Model>(
        with_faults(model, claim, {set.faults, static_cast<int>(set.faults.size()), false, present}));
    Told out{with, {}};
    out.result.claim = claim;
    if (!set.run) {
        out.result.verdict = Refuted{std::nullopt, set.certificate, ""};
        return out;
    }
    Question q;
    q.model = with.get();
    q.claim = claim;
    q.condition = with->claims[claim].condition;
    std::optional<Run> run;
    std::string why;
    const bool canonical = !std::holds_alternative<Recoverable>(with->claims[claim].body);
    if (canonical)
        if (const auto partial = canonical_run(q, set.depth)) run = complete(q, *partial, why);
    out.result.verdict = Refuted{run ? run : set.run, std::nullopt, ""};
    return out;
}

}  // namespace lanyard::fault
