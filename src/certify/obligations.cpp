#include "certify/obligations.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <sstream>

#include "base/log.hpp"
#include "base/overloaded.hpp"
#include "claims/binding.hpp"
#include "encode/terms.hpp"

namespace lanyard::certify {

namespace {

// Declarations and assertions of one file.
class File {
 public:
    explicit File(std::string title) : title_(std::move(title)) {}
    void add(const z3::expr& e) {
        declare(e);
        asserts_ << "(assert " << e.to_string() << ")\n";
    }
    bool speaks_only_of(const std::set<std::string>& known) const {
        return std::all_of(names_.begin(), names_.end(), [&](const auto& name) { return known.contains(name.first); });
    }
    std::string text(bool satisfiable) const {
        std::ostringstream out;
        out << "; " << title_ << "\n(set-info :smt-lib-version 2.6)\n(set-logic ALL)\n(set-info :status "
            << (satisfiable ? "sat" : "unsat") << ")\n";
        for (const auto& [name, sort] : names_) out << "(declare-fun " << name << " () " << sort << ")\n";
        out << asserts_.str() << "(check-sat)\n";
        return out.str();
    }

 private:
    void declare(const z3::expr& root) {
        each_part(root, seen_, [this](const z3::expr& e) {
            kept_.push_back(e);  // its number stays taken
            if (e.is_const() && e.decl().decl_kind() == Z3_OP_UNINTERPRETED)
                names_.emplace(e.decl().name().str(), e.get_sort().to_string());
        });
    }
    std::string title_;
    std::map<std::string, std::string> names_;
    std::set<unsigned> seen_;
    std::vector<z3::expr> kept_;
    std::ostringstream asserts_;
};

// What a file about so many steps may speak of.
std::set<std::string> names_in(const System& s, int steps) {
    std::set<std::string> out;
    for (int n = 0; n < steps; ++n) {
        const Renaming at(s, std::to_string(n));
        for (const z3::expr& e : at.constants()) out.insert(e.decl().name().str());
    }
    return out;
}

z3::expr conjunction(z3::context& ctx, const std::vector<z3::expr>& all, const Renaming& at) {
    z3::expr_vector v(ctx);
    for (const auto& e : all) v.push_back(at(e));
    return all_of(v);
}

}  // namespace

namespace {

System encoded(z3::context& ctx, const Question& q, EncodeOptions options) {
    options.no_leaps = !q.leaps;
    options.tangents = q.tangents;
    if (q.with_binding_quantities) options.with = binding_quantities(*q.model, q.condition, q.claim);
    return encode::encode(ctx, *q.model, q.condition, q.claim, options);
}

}  // namespace

System system_in_parts(z3::context& ctx, const Question& q) {
    EncodeOptions options;
    options.named = options.parts = true;
    return encoded(ctx, q, options);
}

System system_of(z3::context& ctx, const Question& q, bool named) {
    EncodeOptions options;
    options.named = named;
    System s = encoded(ctx, q, options);
    for (std::size_t i = 0; i < q.start.size(); ++i) {
        StateVar& v = s.state[i];
        if (v.cur.is_bool())
            v.init = ctx.bool_val(q.start[i] == "true");
        else if (v.cur.is_int())
            v.init = ctx.int_val(q.start[i].c_str());
        else
            v.init = ctx.real_val(q.start[i].c_str());
    }
    return s;
}

namespace {

// The step is one scan, and `into` holds after it for every mode that the engine may go to. Which one it goes to is no
// part of the scan: a condition that forbids it at the next one does not forbid the others.
z3::expr for_every_mode(const System& s, const z3::expr& into) {
    z3::context& ctx = *s.ctx;
    z3::expr_vector bits(ctx), all(ctx);
    bits.push_back(s.readback.next_mode->first);
    bits.push_back(s.readback.next_mode->second);
    all.push_back(s.k == 1);
    for (const Mode m : all_modes) {
        z3::expr_vector mode(ctx), legal(ctx);
        mode.push_back(ctx.bool_val((ordinal(m) & 2) != 0));
        mode.push_back(ctx.bool_val((ordinal(m) & 1) != 0));
        for (const auto& r : s.rules) {
            z3::expr rule = r.holds;
            const z3::expr then = rule.substitute(bits, mode);
            if (!z3::eq(then, r.holds)) legal.push_back(then);
        }
        z3::expr there = into;
        all.push_back(z3::implies(all_of(legal), there.substitute(bits, mode)));
    }
    return all_of(all);
}

}  // namespace

z3::expr target_of(const System& s, const Question& q) {
    if (!q.extra.empty()) {
        const auto parsed = parse_lemmas(s, {q.extra});
        if (!parsed) throw Unsupported{"a question that cannot be read"};
        z3::expr_vector before(*s.ctx), after(*s.ctx);
        for (const auto& v : s.state) {
            before.push_back(v.cur);
            after.push_back(v.next);
        }
        z3::expr into = parsed->front();
        into = into.substitute(before, after);
        return q.any_mode && s.readback.next_mode ? for_every_mode(s, into) : into;
    }
    return q.target == Target::bad ? s.bad : s.demand;
}

std::vector<Obligation> obligations(const Question& asked, const Certificate& c) {
    z3::context ctx;
    Question q = c.with_binding_quantities ? with_binding_quantities(asked) : asked;
    q.tangents = c.tangents;
    q.leaps = asked.leaps && c.leaps;
    const System s = system_of(ctx, q, true);
    const z3::expr target = target_of(s, q);
    const auto lemmas = parse_lemmas(s, c.lemmas);
    if (!lemmas) return {};
    std::vector<Obligation> out;
    const std::set<std::string> known = names_in(s, std::max(2, c.induction));
    bool foreign = false;
    const auto keep = [&](const std::string& name, const File& f) {
        foreign = foreign || !f.speaks_only_of(known);
        out.push_back({name, f.text(false), false});
    };

    const Renaming now(s, "0"), then(s, "1");
    {
        File f("start: an initial state outside the invariant");
        add_initial(f, s, now);
        f.add(!conjunction(ctx, *lemmas, now));
        keep("start", f);
    }
    {
        File f("step: a legal step from inside the invariant to outside");
        for (const auto& l : *lemmas) f.add(now(l));
        add_rules(f, s, now);
        add_next(f, s, now, then);
        f.add(!conjunction(ctx, *lemmas, then));
        keep("step", f);
    }
    // `count` consecutive steps, the last of them hitting and none before.
    const auto path = [&](File& f, int count, bool from_start) {
        for (int n = 0; n < count; ++n) {
            const Renaming here(s, std::to_string(n));
            if (n == 0 && from_start) add_initial(f, s, here);
            if (!from_start)
                for (const auto& l : *lemmas) f.add(here(l));
            if (n > 0) add_next(f, s, Renaming(s, std::to_string(n - 1)), here);
            add_rules(f, s, here);
            f.add(n + 1 == count ? here(target) : !here(target));
        }
    };
    {
        File f("safe: legal steps inside the invariant, the last one hitting");
        path(f, c.induction, false);
        keep("safe", f);
    }
    for (int n = 1; n < c.induction; ++n) {
        File f("base: a hit in step " + std::to_string(n));
        path(f, n, true);
        keep("base" + std::to_string(n), f);
    }
    if (foreign) return {};
    if (!q.start.empty()) out.push_back(reached(q));
    return out;
}

CheckResult check_obligations(const std::vector<Obligation>& all, std::uint64_t budget) {
    if (all.empty()) return {Check::unknown, "the invariant cannot be read"};
    for (const auto& o : all) {
        z3::context ctx;
        Solver solver(ctx);
        try {
            const z3::expr_vector parsed = ctx.parse_string(o.text.c_str());
            for (const auto& e : parsed) solver.add(e);
        } catch (const z3::exception& e) {
            return {Check::fails, o.name + ": " + e.msg()};
        }
        const logging::Stopwatch watch;
        const Answer a = solver.check({}, budget);
        LANYARD_LOG(debug, "obligation {}: {}, {:.3f} s", o.name,
                    a == Answer::unknown                          ? "not settled"
                    : (a == Answer::satisfiable) == o.satisfiable ? "holds"
                                                                  : "fails",
                    watch.seconds());
        if (a == Answer::unknown) return {Check::unknown, o.name};
        if ((a == Answer::satisfiable) != o.satisfiable) return {Check::fails, o.name};
    }
    return {Check::holds, ""};
}

namespace {

z3::expr value_of(z3::context& ctx, const Rational& r) { return ctx.real_val(r.get_str().c_str()); }

template <class Sink>
void fix(Sink& f, z3::context& ctx, const System& s, const Renaming& at, const Segment& segment, bool any_mode) {
    const Readback& rb = s.readback;
    const Choices& c = segment.first;
    const auto pin = Overloaded{
        [&](const z3::expr& truth, bool value, const auto&) { f.add(at(truth) == ctx.bool_val(value)); },
        [&](const Num& number, const Rational& value, auto id) {
            f.add(at(number.first) == value_of(ctx, value));
            if constexpr (std::is_same_v<decltype(id), QuantityId>)
                if (number.moving)
                    f.add(at(number.last) ==
                          value_of(ctx, segment.last_quantities.empty() ? value : segment.last_quantities[id]));
        },
    };
    const auto pin_each = [&](const auto& names, const auto& values) {
        for (const auto i : names.ids())
            if (names[i]) pin(*names[i], values[i], i);
    };
    each_choice(pin_each, rb, c);
    if (rb.booted) f.add(at(*rb.booted) == ctx.bool_val(c.booted));
    if (rb.claim_moves_on) f.add(at(*rb.claim_moves_on) == ctx.bool_val(c.claim_moves_on));
    if (rb.next_mode && !any_mode) {
        const std::size_t m = ordinal(c.next_mode);
        f.add(at(rb.next_mode->first) == ctx.bool_val((m & 2) != 0));
        f.add(at(rb.next_mode->second) == ctx.bool_val((m & 1) != 0));
    }
}

// A legal step in its place: the first, or behind the one before.
template <class Sink>
Renaming add_step(Sink& f, const System& s, std::size_t n) {
    Renaming at(s, std::to_string(n));
    if (n == 0)
        add_initial(f, s, at);
    else
        add_next(f, s, Renaming(s, std::to_string(n - 1)), at);
    add_rules(f, s, at);
    return at;
}

// The steps of a run, every choice fixed; with `any_mode` all but the engine's move after the last of them.
template <class Sink>
void add_steps(Sink& f, z3::context& ctx, const System& s, const Run& run, bool any_mode = false) {
    for (std::size_t n = 0; n < run.segments.size(); ++n) {
        const Renaming at = add_step(f, s, n);
        f.add(at.k() == ctx.int_val(static_cast<int64_t>(run.segments[n].scans)));
        fix(f, ctx, s, at, run.segments[n], any_mode && n + 1 == run.segments.size());
    }
}

}  // namespace

void add_run(Solver& to, const System& s, const Run& run) { add_steps(to, *s.ctx, s, run); }

Run scan_by_scan(const Run& run) {
    Run out;
    each_scan(run, [&](const Choices& c) {
        Segment one;
        one.first = c;
        out.segments.push_back(std::move(one));
        return true;
    });
    return out;
}

Obligation reached(const Question& q) {
    Question from_start = q;
    from_start.start.clear();
    z3::context ctx;
    const System s = system_of(ctx, from_start, true), there = system_of(ctx, q, true);
    File f("reached: the run ends in the state that is started from");
    add_steps(f, ctx, s, q.before);
    const std::size_t n = q.before.segments.size();
    const Renaming at(s, std::to_string(n));
    add_next(f, s, Renaming(s, std::to_string(n - 1)), at);
    for (std::size_t i = 0; i < s.state.size(); ++i) f.add(at.state(i) == there.state[i].init);
    return {"reached", f.text(true), true};
}

namespace {

constexpr std::uint64_t unrolling_budget = 50'000'000;

// The values of the state behind a run; nothing if these segments are none of the system.
std::vector<std::string> state_behind(const Question& q, const Run& run) {
    z3::context ctx;
    const System s = system_of(ctx, q, true);
    Solver solver(ctx);
    add_steps(solver, ctx, s, run);
    if (solver.check({}, unrolling_budget) != Answer::satisfiable) return {};
    const Renaming last(s, std::to_string(run.segments.size() - 1));
    std::vector<std::string> out;
    for (const auto& v : s.state) {
        const z3::expr value = solver.value(last(v.next));
        out.push_back(value.is_bool() ? (value.is_true() ? "true" : "false") : Z3_get_numeral_string(ctx, value));
    }
    return out;
}

}  // namespace

std::optional<Question> behind(const Question& q, const Run& run) {
    if (run.segments.empty()) return std::nullopt;
    Question out = q;
    out.before = {};
    out.start.clear();
    for (const Run& r : {run, scan_by_scan(run)}) {
        const auto state = state_behind(out, r);
        if (state.empty()) continue;
        out.before = r;
        out.start = state;
        return out;
    }
    return std::nullopt;
}

Question with_binding_quantities(const Question& q) {
    if (q.with_binding_quantities) return q;
    Question out = q;
    out.with_binding_quantities = true;
    if (q.start.empty()) return out;
    const auto there = behind(out, q.before);
    if (!there) throw Unsupported{"a state whose quantities outside the claim's cone cannot be determined"};
    return *there;
}

Obligation alive(const Question& q, const Run& run) {
    z3::context ctx;
    const System s = system_of(ctx, q, true);
    File f("alive: the run at which the claim demands something");
    add_steps(f, ctx, s, run);
    if (!run.segments.empty()) f.add(Renaming(s, std::to_string(run.segments.size() - 1))(target_of(s, q)));
    return {"alive", f.text(true), true};
}

Run with_last_scan_apart(const Run& run) {
    Run out = run;
    if (out.segments.empty() || out.segments.back().scans == 1) return out;
    const Segment end = out.segments.back();
    out.segments.back() = first_scans(end, end.scans - 1);
    Segment last;
    last.first = choices_at(end, end.scans - 1);
    out.segments.push_back(std::move(last));
    return out;
}

Obligation stuck(const Question& q, const Run& run, bool any_mode) {
    z3::context ctx;
    const System s = system_of(ctx, q, true);
    File f("stuck: one more legal scan after the run");
    add_steps(f, ctx, s, run, any_mode);
    f.add(add_step(f, s, run.segments.size()).k() == ctx.int_val(1));
    return {"stuck", f.text(false), false};
}

Obligation apart(const std::string& name, const std::string& title, const std::vector<z3::expr>& truths) {
    File f(name + ": " + title);
    for (const auto& t : truths) f.add(t);
    return {name, f.text(false), false};
}

}  // namespace lanyard::certify
