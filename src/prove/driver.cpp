// Each claim's rounds run in one thread, so nothing that is printed depends on how many threads there are. Time, memory
// and Ctrl-C can only turn a verdict into "undecided".
#include "prove/driver.hpp"

#include <mutex>

#include "base/log.hpp"
#include "prove/exercise.hpp"
#include "prove/time.hpp"

namespace lanyard::prove {

namespace {

class Driver {
 public:
    Driver(const Model& m, const DriverOptions& o)
        : model_(m), options_(o), results_(o.claims.size()), time_(m.conditions.size()) {}

    DriverReport run() {
        PoolTasks tasks;
        tasks.count = results_.size();
        tasks.work = [this](std::size_t i, const JudgeOptions& o) {
            ClaimResult r = judge_one(options_.claims[i], o);
            show_at_work(r, o);
            explain(r, o);
            take(results_[i], std::move(r));
        };
        tasks.repeatable = true;
        tasks.on_start = [this](std::size_t done, std::size_t i) {
            if (options_.on_start) options_.on_start(done, options_.claims[i]);
        };
        tasks.on_done = [this](std::size_t i) {
            if (options_.on_result) options_.on_result(results_[i]);
        };
        DriverReport out;
        PoolOptions pool = pool_options(options_);
        pool.judge.known = options_.known;
        LANYARD_LOG(info, "{} claims, {} threads", results_.size(), options_.jobs);
        out.interrupted = run_pool(tasks, pool);
        out.results = std::move(results_);
        return out;
    }

 private:
    // A claim that is judged anew may come less far than before, where the time ends.
    static void take(ClaimResult& known, ClaimResult&& r) {
        const auto* now = std::get_if<Undecided>(&r.verdict);
        const auto* before = std::get_if<Undecided>(&known.verdict);
        const bool was_further = known.claim && now != nullptr && (before == nullptr || before->depth >= now->depth);
        if (!was_further)
            known = std::move(r);
        else if (before != nullptr)
            std::get<Undecided>(known.verdict).reason = now->reason;
    }

    static ClaimResult stopped(ClaimId claim, const std::string& why) {
        ClaimResult r;
        r.claim = claim;
        r.verdict = Undecided{why, 0};
        return r;
    }

    // What a solver says that was interrupted counts for nothing: neither as a verdict nor as a mistake of ours.
    ClaimResult judge_one(ClaimId claim, const JudgeOptions& o) {
        if (o.stopped()) return stopped(claim, o.why_stopped());
        try {
            return judge_with_time(claim, o);
        } catch (const InternalError&) {
            if (!o.stopped()) throw;
            return stopped(claim, o.why_stopped());
        }
    }

    void show_at_work(ClaimResult& r, const JudgeOptions& o) const {
        auto* proved = std::get_if<Proved>(&r.verdict);
        if (o.any_run || proved == nullptr || !proved->certificate || proved->playbook) return;
        try {
            proved->at_work = exercising_run(model_, r.claim, r.leaps, o);
        } catch (const InternalError&) {
            if (!o.stopped()) throw;
        }
    }

    void explain(ClaimResult& r, const JudgeOptions& o) const {
        if (!options_.explain) return;
        try {
            options_.explain(r, o);
        } catch (const InternalError&) {
            if (!o.stopped()) throw;
        }
    }

    ClaimResult judge_with_time(ClaimId claim, const JudgeOptions& o) {
        ClaimResult r = judge(model_, claim, o);
        if (!o.any_run) tell_tautology(r);
        // What rests on a certificate rests on the condition letting time go on.
        const bool certified =
            std::holds_alternative<Proved>(r.verdict)
                ? std::get<Proved>(r.verdict).certificate.has_value()
                : std::holds_alternative<Refuted>(r.verdict) && std::get<Refuted>(r.verdict).certificate.has_value();
        // What waits for something that never comes may wait because no run gets so far.
        const auto* waits = std::get_if<Vacuous>(&r.verdict);
        if (!certified && !(waits != nullptr && waits->certificate && !waits->tautology)) return r;
        // A recoverable claim's playbook has been looked at already.
        const Claim& c = model_.claims[claim];
        if (std::holds_alternative<Recoverable>(c.body)) return r;
        // A driver's steps leave his switches no choice, and so may run into where none is legal.
        const bool own_part = c.reached_under || std::holds_alternative<Procedure>(c.body);
        const TimeVerdict time = own_part ? time_goes_on(model_, c.condition, claim, o) : time_under(c.condition, o);
        if (const auto* goes_on = std::get_if<TimeGoesOn>(&time))
            if (auto* proved = std::get_if<Proved>(&r.verdict)) proved->time = goes_on->evidence;
        if (const auto* stops = std::get_if<TimeStops>(&time)) r.verdict = vacuous_because(model_, claim, *stops);
        if (const auto* unknown = std::get_if<TimeUnknown>(&time); unknown != nullptr && certified)
            r.verdict = Undecided{
                "it holds, but it was not settled whether its assumptions let time go on: " + unknown->reason, 0};
        return r;
    }

    // Asked once for all claims under the condition; again where that was stopped.
    TimeVerdict time_under(ConditionId condition, const JudgeOptions& o) {
        auto& slot = time_[condition.index()];
        const std::lock_guard<std::mutex> lock(slot.mutex);
        if (slot.verdict) return *slot.verdict;
        TimeVerdict verdict = time_goes_on(model_, condition, {}, o);
        if (!o.stopped()) slot.verdict = verdict;
        return verdict;
    }

    struct TimeSlot {
        std::mutex mutex;
        std::optional<TimeVerdict> verdict;
    };
    const Model& model_;
    const DriverOptions& options_;
    std::vector<ClaimResult> results_;
    std::vector<TimeSlot> time_;
};

}  // namespace

PoolOptions pool_options(const DriverOptions& o) {
    PoolOptions pool;
    pool.judge.prover = o.prover;
    pool.judge.work_limit = o.work_limit;
    pool.jobs = o.jobs;
    pool.time_s = o.time_s;
    pool.memory_mb = o.memory_mb;
    pool.interrupted = o.interrupted;
    return pool;
}

DriverReport check_claims(const Model& model, const DriverOptions& options) { return Driver(model, options).run(); }

}  // namespace lanyard::prove
