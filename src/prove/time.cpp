// What it decides: whether from every reachable state some legal scan exists (lanyard help meaning, "Time that cannot
// go on"). Which mode the engine goes to after a scan is no part of the state: a state is blocked if it is for each of
// the modes that may follow. What a claim's driver does, and when he reacts, is part of it.
//
// How: "for all states there is an input" is turned into plain queries by collecting inputs that serve as ways on. For
// a state that none of them fits, the solver is asked for an input that does; it joins the collection (quantities
// also as "as before, plus so much"). When every state within the memory's ranges has a way on, time goes on. When a
// state has none, the question is whether a state without any of the ways collected is reachable, which is a question
// like every other, with the same provers and the same checks.
//
// Why it is sound: "goes on" is one unsatisfiable query or a checked certificate; "stops" is a replayed run into a
// state from which the solver has excluded every input.
// When it gives up: after a fixed number of ways, or when the provers do.
// Tested by: tests/encode/time_test.cpp, tests/encode/standstill_test.cpp
#include "prove/time.hpp"

#include "base/log.hpp"
#include "certify/obligations.hpp"
#include "prove/standstill.hpp"
#include "sim/interpreter.hpp"
#include "sim/machine.hpp"

namespace lanyard::prove {

namespace {

constexpr int max_ways = 60;
constexpr std::uint64_t way_budget = 20'000'000;

class TimeJudge {
 public:
    TimeJudge(const Model& m, ConditionId condition, ClaimId claim, const JudgeOptions& o)
        : options_(o), system_(ctx_) {
        question_.model = &m;
        question_.condition = condition;
        question_.claim = claim;
        question_.with_binding_quantities = true;
        options_.work_limit = std::min<std::uint64_t>(options_.work_limit, 50'000'000);
        settle_leaps(question_, options_, timing_);
        system_ = system_of(ctx_, question_, false);
    }

    TimeVerdict run() {
        std::vector<z3::expr> start;
        for (const auto& v : system_.state) start.push_back(v.init);
        if (!add_way(start)) return blocked_ ? dead_end(Run{}) : TimeVerdict(TimeUnknown{"the solver gave up"});
        const bool covered = covers_everything();
        LANYARD_LOG(info, "{} ways on, {}", ways_.size(), covered ? "one for each state" : "not one for each state");
        if (covered) return TimeGoesOn{evidence_};
        if (!blocked_) return TimeUnknown{"no set of ways on was found"};
        return search();
    }

 private:
    z3::expr state_is(const std::vector<z3::expr>& values) {
        z3::expr_vector all(ctx_);
        for (std::size_t i = 0; i < values.size(); ++i) all.push_back(system_.state[i].cur == values[i]);
        return all_of(all);
    }
    z3::expr in_range() {
        z3::expr_vector all(ctx_);
        for (const auto& v : system_.state)
            if (v.cur.is_int()) all.push_back(v.cur >= 0 && v.cur <= ctx_.int_val(static_cast<int64_t>(v.bound)));
        return all_of(all);
    }

    z3::expr exact_products() {
        z3::expr_vector all(ctx_);
        for (const auto& g : system_.grid) all.push_back(g);
        return all_of(all);
    }

    // An input that is legal in this state, as a condition over states; false if there is none (blocked_) or if the
    // solver gives up.
    bool add_way(const std::vector<z3::expr>& state) {
        Solver s(ctx_);
        s.add(system_.all_rules());
        s.add(system_.k == 1);
        s.add(state_is(state));
        // A way must not rest on a product that is none; that there is no way must not rest on looking along lines
        // only.
        const z3::expr fine = ctx_.bool_const("fine");
        s.add(z3::implies(fine, exact_products()));
        const Answer a = s.check({fine}, way_budget);
        blocked_ = a == Answer::unsatisfiable && s.check({}, way_budget) == Answer::unsatisfiable;
        if (a != Answer::satisfiable) return false;
        const std::vector<z3::expr> followed = follow_memory(s, state);
        z3::expr_vector from(ctx_), same(ctx_), moved(ctx_);
        from.push_back(system_.k);
        same.push_back(ctx_.int_val(1));
        moved.push_back(ctx_.int_val(1));
        for (std::size_t i = 0; i < system_.inputs.size(); ++i) {
            from.push_back(system_.inputs[i].var);
            same.push_back(s.value(system_.inputs[i].var));
            moved.push_back(followed[i]);
        }
        z3::expr rules = system_.all_rules() && exact_products();
        ways_.push_back(rules.substitute(from, same).simplify());
        ways_.push_back(rules.substitute(from, moved).simplify());
        return true;
    }
    // A quantity with a remembered value moves by as much as it does here, best of all by nothing; a quantity that can
    // have the value of some other memory, has it.
    std::vector<z3::expr> follow_memory(Solver& s, const std::vector<z3::expr>& state) {
        std::vector<z3::expr> out;
        for (const auto& input : system_.inputs) {
            const auto own = remembered(input);
            std::optional<std::size_t> equal;
            for (std::size_t i = 0; input.var.is_real() && !own && !equal && i < state.size(); ++i)
                if (state[i].is_real() && s.add_if_possible(input.var == state[i], way_budget)) equal = i;
            if (own) s.add_if_possible(input.var == state[*own], way_budget);
            if (own)
                out.push_back(system_.state[*own].cur + (s.value(input.var) - state[*own]).simplify());
            else
                out.push_back(equal ? system_.state[*equal].cur : s.value(input.var));
        }
        return out;
    }
    std::optional<std::size_t> remembered(const Input& input) const {
        const bool chosen = input.key.role == StateRole::value || input.key.role == StateRole::end;
        if (!chosen || !input.var.is_real()) return std::nullopt;
        return system_.place({StateRole::before, input.key.owner});
    }
    z3::expr no_way() {
        z3::expr_vector all(ctx_);
        for (const auto& w : ways_) all.push_back(!w);
        return all_of(all);
    }

    bool covers_everything() {
        for (int n = 0; n < max_ways && !options_.stopped(); ++n) {
            Solver s(ctx_);
            s.add(in_range());
            s.add(no_way());
            const Answer a = s.check({}, way_budget);
            // Nobody else has said so yet: the answer is asked for a second time, in a fresh solver.
            if (a == Answer::unsatisfiable)
                return confirmed({apart("ways", "a state without a way on", {in_range(), no_way()})});
            if (a == Answer::unknown) return false;
            std::vector<z3::expr> state;
            for (const auto& v : system_.state) state.push_back(s.value(v.cur));
            if (!add_way(state)) return false;
        }
        return false;
    }

    // Some state has no way on: is one without any known way reachable?
    TimeVerdict search() {
        for (int n = 0; n < max_ways && !options_.stopped(); ++n) {
            question_.extra = no_way().to_string();
            question_.any_mode = true;
            std::string prover;
            const Answered a = ask(question_, options_, timing_, prover);
            if (const auto* none = std::get_if<Unreachable>(&a)) {
                keep(obligations(question_, none->certificate));
                return TimeGoesOn{evidence_};
            }
            if (const auto* unknown = std::get_if<Unknown>(&a)) return TimeUnknown{unknown->reason};
            const Run& run = std::get<Reachable>(a).run;
            const auto goes_on = add_way_after(run);
            if (!goes_on) return TimeUnknown{"the solver gave up at the end of a run"};
            if (!*goes_on) return dead_end(with_last_scan_apart(run));
        }
        return TimeUnknown{"too many different ways on"};
    }

    // Whether some mode of the engine lets time go on after the run; nothing if that was not settled.
    std::optional<bool> add_way_after(const Run& run) {
        bool settled = true;
        for (const Run& r : each_next_mode(question_, run)) {
            const auto state = end_of(r);
            if (state && add_way(*state)) return true;
            settled = settled && state && blocked_;
        }
        if (!settled) return std::nullopt;
        return false;
    }

    void keep(const std::vector<Obligation>& all) {
        for (const auto& o : all) evidence_.push_back({"time-" + o.name, o.text, o.satisfiable});
    }
    bool confirmed(const std::vector<Obligation>& all) {
        const CheckResult r = check_obligations(all, check_budget);
        if (r.check == Check::fails)
            throw InternalError{"two answers about whether time goes on differ (" + r.where + ")"};
        if (r.check == Check::holds) keep(all);
        return r.check == Check::holds;
    }
    // Said only after a second, fresh solver has found no scan that follows either.
    TimeVerdict dead_end(const Run& run) {
        std::vector<Obligation> all{stuck(question_, run, true)};
        if (!run.segments.empty()) all.push_back(alive(question_, run));
        if (!confirmed(all)) return TimeUnknown{"it was not settled whether a run is a dead end"};
        return TimeStops{run, evidence_, !begun(run), standstill_words(question_, run)};
    }
    // Whether what follows the run is the claim's second part, or its only one.
    bool begun(const Run& run) const {
        if (!question_.claim || !question_.model->claims[question_.claim].reached_under) return true;
        Interpreter played(*question_.model, question_.condition, question_.claim);
        play(played, run);
        return played.machine().state().monitor.begun;
    }

    // The state after a run.
    std::optional<std::vector<z3::expr>> end_of(const Run& run) {
        Question plain = question_;
        plain.extra.clear();
        plain.any_mode = false;
        const auto there = behind(plain, run);
        if (!there) return std::nullopt;
        const System s = system_of(ctx_, *there, false);
        std::vector<z3::expr> out;
        for (const auto& v : s.state) out.push_back(v.init);
        return out;
    }

    JudgeOptions options_;
    Question question_;
    Timing timing_;
    z3::context ctx_;
    System system_;
    std::vector<z3::expr> ways_;
    bool blocked_ = false;
    std::vector<CheckedText> evidence_;
};

}  // namespace

TimeVerdict time_goes_on(const Model& model, ConditionId condition, ClaimId claim, const JudgeOptions& options) {
    const logging::About about([&] { return "time under " + model.conditions[condition].name; });
    try {
        return TimeJudge(model, condition, claim, options).run();
    } catch (const Unsupported& u) {
        return TimeUnknown{std::string("not covered: ") + u.what()};
    } catch (const z3::exception& e) {
        return TimeUnknown{std::string("the solver gave up: ") + e.msg()};
    }
}

Vacuous vacuous_because(const Model& model, ClaimId claim, const TimeStops& stops) {
    const bool two_parts{model.claims[claim].reached_under};
    std::string who = "the assumptions ";
    if (two_parts) who = stops.in_first_part ? "the first condition (reached_under) " : "the second condition (under) ";
    const bool contradiction = stops.run.segments.empty();
    const std::string what = contradiction ? (two_parts ? "contradicts itself: " : "contradict each other: ")
                                           : (two_parts ? "stops time: " : "stop time: ");
    // Where there is no scan at all, there is no run to show.
    return Vacuous{who + what + stops.why, std::nullopt, contradiction ? std::nullopt : std::optional<Run>(stops.run),
                   stops.evidence};
}

}  // namespace lanyard::prove
