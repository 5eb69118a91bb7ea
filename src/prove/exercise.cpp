// What it decides: which run is shown with a proof.
//
// A car that stands there without power keeps nearly every claim, and shows nothing. What shows something is a run in
// which the answer was still to come: "whenever the kill is on, the injectors are off" is at work where the injectors
// were on and the kill off, then the kill came on, and the injectors went off. Such a run is one in which the claim
// demands something once this is asked of its premise as well:
//   whenever A then B    a latch that is on since (NOT A AND NOT B), and off since (NOT A AND B)
//   never both           the same of "while the one is on, the other is off"
//   always, without a premise: that the engine runs
// The engine runs when the latch is set, if that can be; a car without power shows little there as well.
// "Once A" demands nothing more when B comes; the run that is asked for ends where it does.
//
// Why it is sound: it is asked of a changed copy of the model, by bounded search with a small amount of the solver's
// work, and what is found is settled there (settle.hpp). It is shown only if it replays in the model itself, and the
// claim demands something in it; otherwise the plain run is that the proof needs. No verdict depends on it, nor what a
// proof rests on, nor its evidence.
// Tested by: tests/prove/exercise_test.cpp
#include "prove/exercise.hpp"

#include "base/log.hpp"
#include "claims/rule.hpp"
#include "model/make_expr.hpp"
#include "prove/known.hpp"
#include "prove/settle.hpp"
#include "prove/short_search.hpp"
#include "sim/interpreter.hpp"

namespace lanyard::prove {

namespace {

constexpr std::uint64_t one_question = 1'000'000;

ExprPtr not_expr(const ExprPtr& e) { return boolean_expr(Op::not_, {e}); }

// A copy of the model whose claim demands something only where it is at work.
class Exercise {
 public:
    explicit Exercise(const Question& q) : model_(*q.model), question_(q) {
        question_.model = &model_;
        question_.target = Target::demand;
    }
    Exercise(const Exercise&) = delete;
    Exercise& operator=(const Exercise&) = delete;

    const Question& question() const { return question_; }

    // False: no such run can be asked for.
    bool set_up(bool running) {
        model_.made_into += running ? "\nexercised while it runs" : "\nexercised";
        Claim& c = model_.claims[question_.claim];
        const auto rule = rule_of(c);
        if (running && !model_.engine) return false;
        if (!rule) return running && runs(c);
        std::vector<ExprPtr> before{not_expr(rule->premise), not_expr(rule->answer)};
        if (running) before.push_back(engine_runs());
        const ExprPtr waits =
            latch(boolean_expr(Op::and_, before), boolean_expr(Op::and_, {not_expr(rule->premise), rule->answer}));
        const ExprPtr called = boolean_expr(Op::and_, {rule->premise, waits});
        if (auto* r = std::get_if<Response>(&c.body)) {
            r->whenever = called;
            if (r->manner == Manner::once_begun) c.body = answered(*r);
        } else {
            c.body = Always{boolean_expr(Op::implies, {called, rule->answer})};
        }
        return true;
    }

 private:
    bool runs(Claim& c) {
        const auto* a = std::get_if<Always>(&c.body);
        if (a == nullptr) return false;
        c.body = Always{boolean_expr(Op::implies, {engine_runs(), a->body})};
        return true;
    }
    ExprPtr engine_runs() const {
        return boolean_expr(Op::eq, {signal_expr(model_, model_.mode), mode_expr(Mode::running)});
    }
    ExprPtr element(Op op, std::vector<ExprPtr> args, const Rational& value = 0) {
        Element e;
        e.op = op;
        e.observer = true;
        model_.elements.push_back(e);
        auto out = std::make_shared<Expr>();
        out->op = op;
        out->args = std::move(args);
        out->element = model_.elements.last();
        out->value = value;
        return out;
    }
    ExprPtr latch(const ExprPtr& on, const ExprPtr& off) { return element(Op::rs, {on, off}); }
    // Demands something where it has been called for the answer, and the answer is there.
    Always answered(const Response& r) {
        const ExprPtr due = r.for_time > 0 ? element(Op::ton, {r.whenever}, r.for_time) : r.whenever;
        const ExprPtr owed = latch(due, truth_expr(false));
        return Always{boolean_expr(Op::implies, {boolean_expr(Op::and_, {owed, r.then}), truth_expr(true)})};
    }

    Model model_;
    Question question_;
};

bool demands(const Model& m, const Run& run, const Question& q) {
    const Replay played = replay(m, run, q.condition, q.claim);
    return played.legal && played.demanded;
}

std::optional<Run> searched(const Question& q, const JudgeOptions& o) {
    const Model& m = *q.model;
    for (const bool running : {true, false}) {
        Exercise asked(q);
        if (o.stopped() || !asked.set_up(running)) continue;
        const auto run = short_search(asked.question(), o, one_question);
        LANYARD_LOG(debug, "a run that exercises the claim{}: {}", running ? " while the engine runs" : "",
                    run ? "found" : "none");
        if (!run) continue;
        const Run shown = settled(asked.question(), *run, o);
        if (demands(m, shown, q)) return shown;
    }
    return std::nullopt;
}

}  // namespace

std::optional<Run> exercising_run(const Model& m, ClaimId claim, bool leaps, const JudgeOptions& o) {
    const logging::About about([] { return "exercise"; });
    Question q = question_about(m, claim);
    q.leaps = leaps;
    const auto exercises = [&](const Run& run) {
        if (!demands(m, run, q)) return false;
        for (const bool running : {true, false}) {
            Exercise asked(q);
            if (asked.set_up(running) && demands(*asked.question().model, run, q)) return true;
        }
        return false;
    };
    return shown_run(q, o, "at work", exercises, [&] { return searched(q, o); });
}

}  // namespace lanyard::prove
