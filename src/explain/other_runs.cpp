#include "explain/other_runs.hpp"

#include <algorithm>
#include <deque>
#include <memory>
#include <set>

#include "explain/causes.hpp"
#include "explain/input_events.hpp"
#include "explain/ruled_out.hpp"
#include "prove/judge.hpp"
#include "sim/interpreter.hpp"
#include "sim/near.hpp"
#include "sim/world.hpp"

namespace lanyard::explain {

namespace {

using Kind = InputEvent::Kind;

constexpr std::size_t questions_a_run = 6;
constexpr long scans_with_others = 200'000;  // of all runs that are tried with another fault

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
            const Question question = std::move(open_.front());
            open_.pop_front();
            ask(question);
        }
        const bool all = complete_ && open_.empty() && !options_.stopped();
        if (all || out_.list.size() < count) out_.no_more = all ? NoMore::none : NoMore::cut_short;
        return std::move(out_);
    }

 private:
    using Exclusions = std::vector<RulingOut>;
    struct Question {
        Exclusions without;
        RunCause::Part last;            // what the last of them rules out,
        std::shared_ptr<const Run> of;  // of this run
    };

    const Model& m_;
    const ClaimId claim_;
    const JudgeOptions& options_;
    std::deque<Question> open_;
    std::set<Reasons> known_;
    OtherRuns out_;
    bool complete_ = true;
    long tried_ = 0;

    void open_children(const OtherRun& run, const Exclusions& without) {
        if (run.causes.list.empty()) complete_ = false;
        const auto of = std::make_shared<const Run>(run.run);
        for (const auto& cause : run.causes.list)
            for (const auto& part : cause.parts) {
                auto one_more = rules_out(m_, run.run, part);
                if (!one_more) {
                    complete_ = false;
                    continue;
                }
                open_.push_back({without, part, of});
                open_.back().without.push_back(std::move(*one_more));
            }
    }

    void ask(const Question& question) {
        Model asked = m_;
        const ConditionId condition = m_.claims[claim_].condition;
        asked.claims[claim_].condition = asked.conditions.add(m_.conditions[condition]);
        for (const auto& rule_out : question.without) rule_out(asked);
        std::optional<Run> run;
        if (question.last.event.kind == Kind::fault) run = with_another_fault(asked, question);
        if (!run) run = broken_in(asked);
        if (!run) return;
        const Replay played = replay(m_, *run, m_.claims[claim_].condition, claim_);
        if (!played.legal || !played.violated_at_end) {
            complete_ = false;
            return;
        }
        OtherRun found{*run, causes_of(m_, *run, claim_)};
        open_children(found, question.without);
        if (known_.insert(reasons_of(found.causes)).second) out_.list.push_back(std::move(found));
    }

    // The run gone through again with each other fault in the place of the one that is ruled out.
    std::optional<Run> with_another_fault(const Model& asked, const Question& question) {
        for (const FaultId f : m_.faults.ids()) {
            if (tried_ >= scans_with_others || options_.stopped()) break;
            InputEvent other = question.last.event;
            other.index = f;
            if (event_value(other, choices_at(*question.of, other.scan)) != Value(false)) continue;
            auto run = broken_with(asked, *question.of, question.last.event, other);
            if (run) return run;
        }
        return std::nullopt;
    }

    // Up to the scan that breaks the claim.
    std::optional<Run> broken_with(const Model& asked, const Run& known, const InputEvent& event,
                                   const InputEvent& other) {
        const ConditionId condition = asked.claims[claim_].condition;
        const World world(asked, condition, claim_);
        auto now = std::make_unique<Interpreter>(asked, condition, claim_);
        Run out;
        for (long scan = 0; scan < known.scans(); ++scan, ++tried_) {
            Choices c = choices_at(known, scan);
            const Value is = event_value(event, c);
            set_value(other, is, c);
            set_value(event, false, c);
            const auto played = step_near(asked, world, now, c, exact_readings(asked, c));
            if (!played || event_value(other, played->choices) != is) return std::nullopt;
            append(out, played->choices);
            if (played->shows.violated) return out;
        }
        return std::nullopt;
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
