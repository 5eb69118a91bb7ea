#include "explain/trap_causes.hpp"

#include <algorithm>
#include <set>

#include "certify/closed_set.hpp"
#include "certify/obligations.hpp"
#include "explain/again.hpp"
#include "explain/causes.hpp"
#include "explain/trap_facts.hpp"
#include "sim/near.hpp"

namespace lanyard::explain {

namespace {

constexpr std::size_t max_steps = 600;           // unrolled, of all runs whose end is looked at
constexpr std::size_t longest = 100;             // of one of them
constexpr long longest_run = 4'000;              // scans: what is no leap after all is unrolled scan by scan
constexpr int max_questions = 8;                 // to the solver
constexpr std::uint64_t a_question = 1'500'000;  // its work

class Rescue {
 public:
    Rescue(const Model& m, const Certificate& closed, ClaimId claim, const JudgeOptions& o)
        : m_(m),
          closed_(closed),
          options_(o),
          world_(m, m.claims[claim].condition, claim),
          question_(question_of(m, claim, closed)) {
        options_.prover = "bounded";
        options_.any_run = true;
        options_.work_limit = std::min(options_.work_limit, a_question);
    }

    // The run and a way from its end to the goal; nothing where none was found.
    std::optional<Run> saved(const Run& run) {
        if (!begins_at_end(run)) return std::nullopt;
        if (options_.stopped() || run.scans() > longest_run) return unsettled();
        for (const auto& way : ways_)
            if (auto out = along(run, way)) return out;
        const Run steps = in_steps(m_, question_, run);
        if (steps.segments.size() > longest || steps_ + steps.segments.size() > max_steps) return unsettled();
        const auto here = behind(question_, steps);
        steps_ += here ? here->before.segments.size() : steps.segments.size();
        if (!here) return unsettled();
        if (!hopeless_.insert(here->start).second || lies_inside(*here, closed_)) return std::nullopt;
        return asked(*here);
    }
    bool settled() const { return settled_; }
    // Is it worth going through all again? Ways are known that were not when something was left unsettled.
    bool again() {
        const bool worth = !settled_ && !ways_.empty();
        if (worth) settled_ = true;
        return worth;
    }

 private:
    const Model& m_;
    const Certificate& closed_;
    JudgeOptions options_;
    const World world_;
    Question question_;
    Timing unused_;
    std::vector<Run> ways_;
    std::set<std::vector<std::string>> hopeless_;
    std::size_t steps_ = 0;
    int questions_ = 0;
    bool settled_ = true;

    std::nullopt_t unsettled() {
        settled_ = false;
        return std::nullopt;
    }

    // The second part begins behind the run, as in the one that was changed.
    static bool begins_at_end(const Run& run) {
        if (run.segments.empty()) return false;
        long begins = -1, scan = 0;
        each_scan(run, [&](const Choices& c) {
            if (c.claim_moves_on) begins = scan;
            ++scan;
            return begins < 0;
        });
        return begins == run.scans() - 1;
    }

    std::optional<Run> along(const Run& run, const Run& way) const {
        auto now = std::make_unique<Interpreter>(m_, question_.condition, question_.claim);
        play(*now, run);
        Run on;
        bool there = false;
        each_scan(way, [&](const Choices& c) {
            const auto played = step_near(m_, world_, now, c, exact_readings(m_, c));
            if (!played) return false;
            append(on, played->choices);
            there = played->shows.goal;
            return !there;
        });
        return there ? std::optional<Run>(joined(run, on)) : std::nullopt;
    }
    static Run joined(Run run, const Run& on) {
        run.segments.insert(run.segments.end(), on.segments.begin(), on.segments.end());
        return run;
    }

    std::optional<Run> asked(const Question& here) {
        if (questions_ >= max_questions) return unsettled();
        ++questions_;
        std::string engine;
        const Answered a = ask(here, options_, unused_, engine);
        if (std::holds_alternative<Unreachable>(a)) return std::nullopt;
        const auto* hit = std::get_if<Reachable>(&a);
        if (hit == nullptr) {
            hopeless_.erase(here.start);  // nobody knows
            return unsettled();
        }
        ways_.push_back(behind_scan(hit->run, here.before.scans()));
        return hit->run;
    }
    static Run behind_scan(const Run& run, long scan) {
        Run out;
        each_scan(run, [&](const Choices& c) {
            if (scan-- <= 0) append(out, c);
            return true;
        });
        return out;
    }
};

}  // namespace

Causes trap_causes_of(const Model& model, const Run& run, const Certificate& closed, ClaimId claim,
                      const JudgeOptions& options) {
    Rescue rescue(model, closed, claim, options);
    Causes out;
    try {
        const auto saved = [&](const Run& otherwise) { return rescue.saved(otherwise); };
        out = causes_of(model, run, claim, saved);
        // What happens late is told with the fewest steps; its ways to the goal then serve what happened before.
        if (rescue.again()) out = causes_of(model, run, claim, saved);
        out.complete = out.complete && rescue.settled();
        out.trap = trap_facts_of(model, run, closed, claim, options,
                                 [&](const Run& earlier) { return rescue.saved(earlier).has_value(); });
    } catch (const Unsupported&) {
        out.complete = false;
    } catch (const z3::exception& e) {
        if (!options.stopped()) throw InternalError{std::string("the solver failed: ") + e.msg()};
        out.complete = false;
    }
    out.of_trap = true;
    return out;
}

}  // namespace lanyard::explain
