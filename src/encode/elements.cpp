// Memory elements. What each means is said once more, in words, in `lanyard help expressions`, and once more, as a
// plain program, in the interpreter.
#include "encode/encoder.hpp"

namespace lanyard {

std::string Encoder::memory_name(const Owner& who, const Expr& e, const std::string& what) {
    std::string word = op_word(e.op);
    for (char& c : word) c = static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
    const int n = ++name_counts_[who.name + "." + word];
    return who.name + "." + word + std::to_string(n) + (what.empty() ? "" : "." + what);
}

z3::expr Encoder::with_power(const Expr& e, const Owner& who, const z3::expr& next, const z3::expr& cur,
                             const z3::expr& init) {
    if (!who.controller || !loses_power()) return next;
    const bool retained = m_.elements[static_cast<std::size_t>(e.element)].retained;
    return z3::ite(powered(), next, retained ? cur : init);
}

z3::expr Encoder::element(const Expr& e, const Owner& who) {
    const auto found = elements_.find(e.element);
    if (found != elements_.end()) return found->second;
    z3::expr value = element_body(e, who);
    elements_.emplace(e.element, value);
    return value;
}

z3::expr Encoder::element_body(const Expr& e, const Owner& who) {
    const auto arg = [&](std::size_t i) { return boolean(*e.args[i], who); };
    const auto remember = [&](bool at_start) { return state(memory_name(who, e, ""), truth(at_start), who.name); };
    const auto keep = [&](const z3::expr& q, const z3::expr& next, bool at_start) {
        state_next(q, with_power(e, who, next, q, truth(at_start)));
        return next;
    };
    switch (e.op) {
        case Op::ton:
        case Op::tof:
            return timer(e, who);
        case Op::tp:
            return pulse(e, who);
        case Op::ctu:
            return counter(e, who);
        case Op::sr: {
            const z3::expr set = arg(0), reset = arg(1), q = remember(false);
            return keep(q, set || (q && !reset), false);
        }
        case Op::rs: {
            const z3::expr set = arg(0), reset = arg(1), q = remember(false);
            return keep(q, !reset && (set || q), false);
        }
        case Op::band: {
            const z3::expr on = arg(0), off = arg(1), q = remember(false);
            return keep(q, on || (q && !off), false);
        }
        case Op::r_trig: {
            const z3::expr clk = arg(0), before = remember(false);
            keep(before, clk, false);
            return clk && !before;
        }
        case Op::f_trig: {
            const z3::expr clk = arg(0), before = remember(true);
            keep(before, clk, true);
            return !clk && before;
        }
        case Op::previous: {
            // May stand in a cycle: what it remembers is made when everything that it may read is there.
            const z3::expr before = remember(false);
            later([this, &e, who, before] {
                state_next(before, with_power(e, who, boolean(*e.args[0], who), before, truth(false)));
            });
            return before;
        }
        case Op::truth:
        case Op::number:
        case Op::mode:
        case Op::signal:
        case Op::last:
        case Op::not_:
        case Op::and_:
        case Op::or_:
        case Op::xor_:
        case Op::implies:
        case Op::vote:
        case Op::lt:
        case Op::le:
        case Op::gt:
        case Op::ge:
        case Op::eq:
        case Op::ne:
        case Op::add:
        case Op::sub:
        case Op::mul:
        case Op::div:
        case Op::neg:
        case Op::table:
        case Op::rate:
            break;
    }
    throw Unsupported{"an element without encoding"};
}

z3::expr Encoder::timer(const Expr& e, const Owner& who) {
    const z3::expr in = boolean(*e.args[0], who);
    const bool on_delay = e.op == Op::ton;
    const bool dies = who.controller && loses_power();
    const z3::expr counted = on_delay ? in : !in;
    RunClock& c = clock(memory_name(who, e, "count"), who.name, dies ? (powered() && counted) : counted, !on_delay);
    if (dies) {
        const bool retained = m_.elements[static_cast<std::size_t>(e.element)].retained;
        if (retained)
            c.holds = !powered();
        else if (!on_delay)
            c.fills = !powered();  // power-up value of an off-delay: off for long
    }
    if (on_delay) return at_least(c, e.value == 0 ? 1 : up(e.value) + 1) && in;
    if (e.value == 0) return in;
    return in || !at_least(c, up(e.value) + 1);
}

z3::expr Encoder::pulse(const Expr& e, const Owner& who) {
    const z3::expr in = boolean(*e.args[0], who);
    const z3::expr before = state(memory_name(who, e, "before"), truth(false), who.name);
    const z3::expr on = state(memory_name(who, e, "on"), truth(false), who.name);
    const z3::expr starts = !on && in && !before;
    const bool dies = who.controller && loses_power();
    z3::expr running = on || starts;
    if (dies) running = powered() && running;
    RunClock& c = clock(memory_name(who, e, "count"), who.name, running, false);
    const z3::expr ends = on && at_least(c, up(e.value) + 1);
    c.resets = ends;
    if (dies && m_.elements[static_cast<std::size_t>(e.element)].retained) c.holds = !powered();
    const z3::expr q = (on || starts) && !ends;
    state_next(before, with_power(e, who, in, before, truth(false)));
    state_next(on, with_power(e, who, q, on, truth(false)));
    return q;
}

z3::expr Encoder::counter(const Expr& e, const Owner& who) {
    const z3::expr cu = boolean(*e.args[0], who), reset = boolean(*e.args[1], who);
    const z3::expr before = state(memory_name(who, e, "before"), truth(false), who.name);
    const z3::expr n = state(memory_name(who, e, "count"), integer(0), who.name);
    const z3::expr limit = integer(e.count);
    const z3::expr counted = z3::ite(cu && !before && n < limit, n + 1, n);
    const z3::expr next = z3::ite(reset, integer(0), counted);
    state_next(before, with_power(e, who, cu, before, truth(false)));
    state_next(n, with_power(e, who, next, n, integer(0)));
    for (auto& v : s_.state)
        if (z3::eq(v.cur, n)) v.bound = e.count;
    return next >= limit;
}

Num Encoder::number_element(const Expr& e, const Owner& who) {
    const auto found = number_elements_.find(e.element);
    if (found != number_elements_.end()) return found->second;
    Num out{rational(0), rational(0), false};
    if (e.op == Op::rate) {
        out = rate(e, who);
    } else {
        const z3::expr before = state(memory_name(who, e, ""), rational(0), who.name);
        later([this, &e, who, before] {
            const Num x = number(*e.args[0], who);
            standing(x);  // else a leap could end at the remembered value and begin elsewhere
            state_next(before, with_power(e, who, x.last, before, rational(0)));
        });
        out = {before, before, false};
    }
    number_elements_.emplace(e.element, out);
    return out;
}

// The past values are kept as they are; a leap is possible only while all of them are equal.
Num Encoder::rate(const Expr& e, const Owner& who) {
    const Num x = number(*e.args[0], who);
    const long n = up(e.value);
    const std::string base = memory_name(who, e, "");
    z3::expr newer = x.last;
    z3::expr oldest = rational(0);
    for (long i = 1; i <= n; ++i) {
        const z3::expr h = state(base + ".past" + std::to_string(i), rational(0), who.name);
        state_next(h, with_power(e, who, newer, h, rational(0)));
        newer = oldest = h;
    }
    const bool dies = who.controller && loses_power();
    RunClock& c = clock(base + ".filled", who.name, dies ? powered() : truth(true), false);
    if (dies && m_.elements[static_cast<std::size_t>(e.element)].retained) c.holds = !powered();
    const z3::expr filled = at_least(c, n + 1);
    const Rational span = Rational(n) * m_.scan;
    const z3::expr value = z3::ite(filled, (x.first - oldest) / rational(span), rational(0));
    standing(x);
    return {value, value, false};
}

}  // namespace lanyard
