#include "explain/other_runs.hpp"

#include <algorithm>
#include <deque>
#include <set>

#include "explain/causes.hpp"
#include "explain/ruled_out.hpp"
#include "prove/judge.hpp"
#include "sim/interpreter.hpp"

namespace lanyard::explain {

namespace {

using Kind = InputEvent::Kind;

constexpr std::size_t questions_a_run = 6;

// What the causes are of, whenever it happens.
using Reasons = std::set<std::set<std::pair<Kind, AnyId>>>;
Reasons reasons_of(const Causes& causes) {
    Reasons out;
    for (const auto& cause : causes.list) {
        std::set<std::pair<Kind, AnyId>> parts;
        for (const auto& p : cause.parts) parts.emplace(p.event.kind, p.event.index);
        out.insert(std::move(parts));
    }
    return out;
}

class Searcher {
 public:
    Searcher(const Model& m, ClaimId claim, const JudgeOptions& o) : m_(m), claim_(claim), options_(o) {}

    OtherRuns find(const OtherRun& first, unsigned count) {
        known_.insert(reasons_of(first.causes));
        open_children(first, {});
        const std::size_t most = questions_a_run * count;
        for (std::size_t asked = 0; asked < most && !open_.empty() && out_.list.size() < count; ++asked) {
            if (options_.stopped()) break;
            const Exclusions without = std::move(open_.front());
            open_.pop_front();
            ask_without(without);
        }
        const bool all = complete_ && open_.empty() && !options_.stopped();
        if (all || out_.list.size() < count) out_.no_more = all ? NoMore::none : NoMore::cut_short;
        return std::move(out_);
    }

 private:
    using Exclusions = std::vector<RulingOut>;

    const Model& m_;
    const ClaimId claim_;
    const JudgeOptions& options_;
    std::deque<Exclusions> open_;
    std::set<Reasons> known_;
    OtherRuns out_;
    bool complete_ = true;

    void open_children(const OtherRun& run, const Exclusions& without) {
        if (run.causes.list.empty()) complete_ = false;
        for (const auto& cause : run.causes.list)
            for (const auto& part : cause.parts) {
                auto one_more = rules_out(m_, run.run, part);
                if (!one_more) {
                    complete_ = false;
                    continue;
                }
                open_.push_back(without);
                open_.back().push_back(std::move(*one_more));
            }
    }

    void ask_without(const Exclusions& without) {
        Model asked = m_;
        const ConditionId condition = m_.claims[claim_].condition;
        asked.claims[claim_].condition = asked.conditions.add(m_.conditions[condition]);
        for (const auto& rule_out : without) rule_out(asked);
        const auto run = broken_in(asked);
        if (!run) return;
        const Replay played = replay(m_, *run, m_.claims[claim_].condition, claim_);
        if (!played.legal || !played.violated_at_end) {
            complete_ = false;
            return;
        }
        OtherRun found{*run, causes_of(m_, *run, claim_)};
        open_children(found, without);
        if (known_.insert(reasons_of(found.causes)).second) out_.list.push_back(std::move(found));
    }

    // What a solver says that was stopped counts for nothing.
    std::optional<Run> broken_in(const Model& asked) {
        try {
            const ClaimResult r = judge(asked, claim_, options_);
            const auto* refuted = std::get_if<Refuted>(&r.verdict);
            if (refuted != nullptr) return refuted->run;
            if (std::holds_alternative<Undecided>(r.verdict)) complete_ = false;
        } catch (const InternalError&) {
            if (!options_.stopped()) throw;
            complete_ = false;
        }
        return std::nullopt;
    }
};

}  // namespace

OtherRuns other_runs(const Model& model, const OtherRun& first, ClaimId claim, unsigned count,
                     const JudgeOptions& options) {
    return Searcher(model, claim, options).find(first, count);
}

}  // namespace lanyard::explain
