#include "fault/analysis.hpp"

#include <algorithm>
#include <tuple>

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

// How far it came. A claim that is begun anew may come less far than before, where the time ends.
bool is_further(const ClaimFaults& a, const ClaimFaults& b) {
    const auto reach = [](const ClaimFaults& c) {
        const auto done = std::count_if(c.orders.begin(), c.orders.end(), [](const auto& o) { return o.complete; });
        return std::tuple(!c.not_settled, done, c.sets.size());
    };
    return reach(a) > reach(b);
}

// Everything about one claim, or how far it came before it was stopped.
ClaimFaults analyse_or_say_why_not(const Model& m, ClaimId claim, const CutOptions& cut, const JudgeOptions& judging) {
    ClaimFaults out;
    try {
        out = analyse(m, claim, cut, judging);
        out.claim = claim;
        return out;
    } catch (const InternalError&) {
        if (!judging.stopped()) throw;  // what an interrupted solver says counts for nothing
        out.not_judged = judging.why_stopped();
    } catch (const z3::exception& e) {
        if (!judging.stopped()) throw InternalError{std::string("the solver failed: ") + e.msg()};
        out.not_judged = judging.why_stopped();
    } catch (const Unsupported& u) {
        out.not_judged = std::string("not covered: ") + u.what();
    }
    out.claim = claim;
    out.not_settled = true;
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
        ClaimFaults found = analyse_or_say_why_not(model, claims[i], cut, o);
        if (!out.claims[i].claim || !is_further(out.claims[i], found)) out.claims[i] = std::move(found);
    };
    tasks.repeatable = true;
    tasks.on_start = [&](std::size_t done, std::size_t i) {
        if (options.driver.on_start) options.driver.on_start(done, claims[i]);
    };
    tasks.on_done = [&](std::size_t i) {
        if (options.on_claim) options.on_claim(out.claims[i]);
    };
    PoolOptions pool = pool_options(options.driver);
    pool.judge.known = options.driver.known;
    out.interrupted = run_pool(tasks, pool);
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
    const Question q = question_about(*with, claim);
    std::optional<Run> run;
    std::string why;
    const bool canonical = !std::holds_alternative<Recoverable>(with->claims[claim].body);
    if (canonical)
        if (const auto partial = canonical_run(q, set.depth)) run = complete(q, *partial, why);
    out.result.verdict = Refuted{run ? run : set.run, std::nullopt, ""};
    return out;
}

}  // namespace lanyard::fault
