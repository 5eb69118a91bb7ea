#include "encode/solver.hpp"

#include <climits>
#include <utility>

#include "base/log.hpp"

namespace lanyard::encode {

namespace {

Answer translate(z3::check_result r) {
    switch (r) {
        case z3::sat:
            return Answer::satisfiable;
        case z3::unsat:
            return Answer::unsatisfiable;
        case z3::unknown:
            return Answer::unknown;
    }
    return Answer::unknown;
}

unsigned clip(std::uint64_t budget) { return budget > UINT_MAX ? UINT_MAX : static_cast<unsigned>(budget); }

const char* word(Answer a) {
    switch (a) {
        case Answer::satisfiable:
            return "sat";
        case Answer::unsatisfiable:
            return "unsat";
        case Answer::unknown:
            return "unknown";
    }
    return "";
}

std::string of_budget(std::uint64_t budget) { return budget == 0 ? "" : fmt::format(" of {}", budget); }

Answer told(Answer truth) {
    AnswerFilter* filter = AnswerFilter::installed;
    return filter ? filter->answer(truth) : truth;
}

}  // namespace

z3::expr all_of(const z3::expr_vector& parts) {
    if (parts.empty()) return parts.ctx().bool_val(true);
    return parts.size() == 1 ? parts[0] : z3::mk_and(parts);
}

z3::expr any_of(const z3::expr_vector& parts) {
    if (parts.empty()) return parts.ctx().bool_val(false);
    return parts.size() == 1 ? parts[0] : z3::mk_or(parts);
}

std::uint64_t work_of(z3::context& ctx) {
    z3::solver probe(ctx, z3::solver::simple());
    z3::stats st = probe.statistics();
    for (unsigned i = 0; i < st.size(); ++i)
        if (st.key(i) == "rlimit count")
            return st.is_uint(i) ? st.uint_value(i) : static_cast<std::uint64_t>(st.double_value(i));
    return 0;
}

// The incremental core always: Z3's default picks a strategy that has said `unknown` where the core says sat.
Solver::Solver(z3::context& ctx) : ctx_(&ctx), solver_(ctx, z3::solver::simple()) {}

void Solver::add(const z3::expr& e) {
    solver_.add(e);
    asserted_.push_back(e);
}

void Solver::push() {
    solver_.push();
    levels_.push_back(std::ssize(asserted_));
}

void Solver::pop() {
    solver_.pop();
    asserted_.erase(asserted_.begin() + levels_.back(), asserted_.end());
    levels_.pop_back();
}

// Z3 4.8.12 that runs out of budget while it takes assertions in forgets some of them: its next answer may be a `sat`
// that is none. So a solver that gave up is thrown away and made anew from what was asserted.
void Solver::start_anew() {
    solver_ = z3::solver(*ctx_, z3::solver::simple());
    auto level = levels_.begin();
    for (std::ptrdiff_t count = 0; const z3::expr& e : asserted_) {
        for (; level != levels_.end() && *level == count; ++level) solver_.push();
        solver_.add(e);
        ++count;
    }
    for (; level != levels_.end(); ++level) solver_.push();
}

Answer Solver::check(const std::vector<z3::expr>& assumptions, std::uint64_t budget) {
    z3::params p(*ctx_);
    p.set("rlimit", clip(budget));
    p.set("ctrl_c", false);  // Z3 would put its own handler in the place of ours, and it is not safe with threads
    solver_.set(p);
    const logging::Stopwatch watch;
    const std::uint64_t before = work_of(*ctx_);
    z3::expr_vector given(*ctx_);
    for (const auto& a : assumptions) given.push_back(a);
    model_.reset();
    Answer answer = Answer::unknown;
    try {
        answer = translate(solver_.check(given));
    } catch (const z3::exception&) {
        answer = Answer::unknown;  // interrupted or out of memory: no answer
    }
    const std::uint64_t after = work_of(*ctx_);
    work_ = after > before ? after - before : 0;
    LANYARD_LOG(trace, "query: {}, {}{} units, {:.3f} s, {} assertions and {} assumptions", word(answer), work_,
                of_budget(budget), watch.seconds(), asserted_.size(), assumptions.size());
    if (answer == Answer::unknown) start_anew();
    const Answer truth = std::exchange(answer, told(answer));
    if (answer == Answer::satisfiable) {
        try {
            model_ = solver_.get_model();
        } catch (const z3::exception&) {
            // Of a model that a filter made up every constant has its default value: it fits no question.
            if (truth == answer)
                answer = Answer::unknown;
            else
                model_ = z3::model(*ctx_);
        }
    }
    return answer;
}

bool Solver::add_if_possible(const z3::expr& e, std::uint64_t budget) {
    const std::optional<z3::model> before = model_;
    push();
    add(e);
    const bool possible = check({}, budget) == Answer::satisfiable;
    pop();
    if (possible)
        add(e);
    else
        model_ = before;
    return possible;
}

z3::expr Solver::value(const z3::expr& e) {
    if (!model_) throw z3::exception("no model to read from");
    z3::expr v = model_->eval(e, true);
    AnswerFilter* filter = AnswerFilter::installed;
    return filter ? filter->value(v) : v;
}

std::vector<z3::expr> Solver::core() {
    std::vector<z3::expr> out;
    for (const auto& e : solver_.unsat_core()) out.push_back(e);
    return out;
}

bool Solver::holds(const z3::expr& boolean) { return value(boolean).is_true(); }

HornAnswer ask_horn(z3::context& ctx, const std::vector<z3::expr>& rules, const z3::func_decl& relation,
                    const z3::func_decl& query, const std::vector<z3::expr>& arguments, std::uint64_t budget) {
    HornAnswer out;
    const logging::Stopwatch watch;
    const std::uint64_t before = work_of(ctx);
    z3::fixedpoint fp(ctx);
    z3::params p(ctx);
    p.set("engine", ctx.str_symbol("spacer"));
    p.set("ctrl_c", false);
    // With its default preprocessing this engine has given wrong answers; without it, none known.
    p.set("xform.slice", false);
    p.set("xform.inline_linear", false);
    p.set("xform.inline_eager", false);
    p.set("spacer.random_seed", 0U);
    fp.set(p);
    // This engine takes its budget from the context; the context is used for nothing else afterwards.
    Z3_update_param_value(ctx, "rlimit", std::to_string(clip(budget)).c_str());
    z3::func_decl rel = relation;
    z3::func_decl goal = query;
    fp.register_relation(rel);
    fp.register_relation(goal);
    for (const auto& r : rules) {
        z3::expr rule = r;
        fp.add_rule(rule, z3::symbol(ctx, Z3_mk_string_symbol(ctx, "r")));
    }
    try {
        z3::expr q = goal();
        out.answer = told(translate(fp.query(q)));
        if (out.answer == Answer::unsatisfiable) {
            z3::expr cover = fp.get_cover_delta(-1, rel);
            z3::expr_vector actual(ctx);
            for (const auto& a : arguments) actual.push_back(a);
            out.invariant = cover.substitute(actual);
            if (AnswerFilter* filter = AnswerFilter::installed) out.invariant = filter->invariant(*out.invariant);
        }
    } catch (const z3::exception&) {
        out.answer = Answer::unknown;
        out.invariant.reset();
    }
    const std::uint64_t after = work_of(ctx);
    out.work = after > before ? after - before : 0;
    LANYARD_LOG(trace, "query to the Horn engine: {}, {}{} units, {:.3f} s, {} rules", word(out.answer), out.work,
                of_budget(budget), watch.seconds(), rules.size());
    return out;
}

}  // namespace lanyard::encode
