#include "explain/trap_facts.hpp"

#include <algorithm>

#include "certify/closed_set.hpp"
#include "certify/obligations.hpp"
#include "explain/again.hpp"
#include "model/make_expr.hpp"
#include "sim/interpreter.hpp"

namespace lanyard::explain {

namespace {

constexpr std::size_t max_prefix = 100;      // steps of a run that is looked at
constexpr int max_goals = 6;                 // to the provers
constexpr std::uint64_t a_goal = 4'000'000;  // their work

// Memory in it would belong to the controller in one place and to the claim in the other.
bool is_plain_comparison(const Expr& e) {
    if (class_of(e.op) != OpClass::comparison || e.args[0]->type.kind != TypeKind::number) return false;
    bool plain = true;
    for (const auto& a : e.args) visit(a, [&plain](const Expr& x) { plain = plain && !has_memory(x.op); });
    return plain;
}

class TrapFactFinder {
 public:
    TrapFactFinder(const Model& m, const Run& run, const Certificate& closed, ClaimId claim, const JudgeOptions& o)
        : m_(m), run_(run), closed_(closed), claim_(claim), options_(o), question_(question_of(m, claim, closed)) {
        options_.any_run = true;
        options_.work_limit = std::min(options_.work_limit, a_goal);
    }

    TrapFacts find(const std::function<bool(const Run&)>& way_from) {
        shut(way_from);
        for (const auto& part : comparisons())
            if (is_never(part)) out_.never.push_back(part);
        if (!m_.mode || out_.never.empty()) return std::move(out_);
        for (const Mode mode : {Mode::running, Mode::coasting})
            if (is_never(boolean_expr(Op::eq, {signal_expr(m_, m_.mode), mode_expr(mode)})))
                out_.lost_modes.push_back(mode);
        return std::move(out_);
    }

 private:
    const Model& m_;
    const Run& run_;
    const Certificate& closed_;
    const ClaimId claim_;
    JudgeOptions options_;
    Question question_;
    TrapFacts out_;
    int asked_ = 0;

    // The first scans of the run, as a way to where the goal is asked about.
    Run prefix(long scans) const {
        Run out = with_last_scan_apart(first_scans(run_, scans));
        out.segments.back().first.claim_moves_on = true;
        return out;
    }

    std::optional<Question> behind_prefix(long scans) const {
        const Run steps = in_steps(m_, question_, prefix(scans));
        return steps.segments.size() > max_prefix ? std::nullopt : behind(question_, steps);
    }

    void shut(const std::function<bool(const Run&)>& way_from) {
        long open = 0, closed = run_.scans();  // after so many scans
        while (closed - open > 1 && !options_.stopped()) {
            const long middle = open + (closed - open) / 2;
            const auto here = behind_prefix(middle);
            if (!here) break;
            (lies_inside(*here, closed_) ? closed : open) = middle;
        }
        out_.shut = closed - 1;
        out_.shut_then = open > 0 && closed - open == 1 && way_from(prefix(open));
    }

    // Each that a latch waits for that the closed set fixes.
    std::vector<ExprPtr> comparisons() const {
        std::vector<ExprPtr> out;
        for (const SignalId id : m_.order)
            visit(definition(m_, id), [&](const Expr& e) {
                if (!is_latch(e.op) && e.op != Op::band) return;
                const auto fixed = closed_.facts.fixed.find({StateRole::remembered, e.element});
                if (fixed == closed_.facts.fixed.end()) return;
                const ExprPtr& wanted = e.args[fixed->second ? 1 : 0];
                for (const auto& part : wanted->op == Op::and_ ? wanted->args : std::vector<ExprPtr>{wanted})
                    if (is_plain_comparison(*part)) out.push_back(part);
            });
        return out;
    }

    bool is_never(const ExprPtr& goal) {
        if (asked_++ >= max_goals || options_.stopped()) return false;
        Model asked = m_;
        auto& body = std::get<Recoverable>(asked.claims[claim_].body);
        body.body = goal;
        body.within.reset();
        asked.made_into += "\nrecoverable: " + text_of(m_, *goal);
        Question q = question_of(asked, claim_, closed_);
        Timing unused;
        std::string prover;
        if (q.leaps) settle_leaps(q, options_, unused);
        const auto here = behind(q, in_steps(asked, q, run_));
        return here && std::holds_alternative<Unreachable>(ask(*here, options_, unused, prover));
    }
};

}  // namespace

TrapFacts trap_facts_of(const Model& model, const Run& run, const Certificate& closed, ClaimId claim,
                        const JudgeOptions& options, const std::function<bool(const Run&)>& way_from) {
    return TrapFactFinder(model, run, closed, claim, options).find(way_from);
}

}  // namespace lanyard::explain
