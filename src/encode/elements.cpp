// Memory elements. What each means is said once more, in words, in `lanyard help expressions`, and once more, as a
// plain program, in the interpreter.
#include "encode/elements.hpp"

namespace lanyard::encode {

z3::expr Elements::with_power(const Expr& e, const Owner& who, const z3::expr& next, const z3::expr& cur,
                              const z3::expr& init) {
    if (!who.controller || !power_.may_be_lost()) return next;
    const bool retained = m_.elements[e.element].retained;
    return z3::ite(power_.powered(), next, retained ? cur : init);
}

z3::expr Elements::bit(const Expr& e, const Owner& who, StateRole role, bool at_start) {
    return s_.state({role, e.element}, truth(at_start), who.name);
}

z3::expr Elements::keep(const Expr& e, const Owner& who, const z3::expr& cur, const z3::expr& next, bool at_start) {
    s_.state_next(cur, with_power(e, who, next, cur, truth(at_start)));
    return next;
}

RunClock& Elements::count(const Expr& e, const Owner& who, const z3::expr& running, bool starts_full) {
    const bool dies = who.controller && power_.may_be_lost();
    RunClock& c =
        s_.clock({StateRole::count, e.element}, who.name, dies ? (power_.powered() && running) : running, starts_full);
    if (!dies) return c;
    if (m_.elements[e.element].retained)
        c.holds = !power_.powered();
    else if (starts_full)
        c.fills = !power_.powered();  // as at power-up
    return c;
}

template <>
z3::expr Elements::truth_of<Op::ton>(const Expr& e, const Owner& who) {
    const z3::expr in = arg(e, who, 0);
    return s_.at_least(count(e, who, in, false), e.value == 0 ? 1 : s_.up(e.value) + 1) && in;
}

template <>
z3::expr Elements::truth_of<Op::tof>(const Expr& e, const Owner& who) {
    const z3::expr in = arg(e, who, 0);
    RunClock& c = count(e, who, !in, true);  // at power-up: off for long
    return e.value == 0 ? in : in || !s_.at_least(c, s_.up(e.value) + 1);
}

template <>
z3::expr Elements::truth_of<Op::tp>(const Expr& e, const Owner& who) {
    const z3::expr in = arg(e, who, 0), before = bit(e, who, StateRole::before, false),
                   on = bit(e, who, StateRole::on, false);
    const z3::expr starts = !on && in && !before;
    RunClock& c = count(e, who, on || starts, false);
    const z3::expr ends = on && s_.at_least(c, s_.up(e.value) + 1);
    c.resets = ends;
    keep(e, who, before, in, false);
    return keep(e, who, on, (on || starts) && !ends, false);
}

template <>
z3::expr Elements::truth_of<Op::sr>(const Expr& e, const Owner& who) {
    const z3::expr set = arg(e, who, 0), reset = arg(e, who, 1), q = bit(e, who, StateRole::remembered, false);
    return keep(e, who, q, set || (q && !reset), false);
}

template <>
z3::expr Elements::truth_of<Op::rs>(const Expr& e, const Owner& who) {
    const z3::expr set = arg(e, who, 0), reset = arg(e, who, 1), q = bit(e, who, StateRole::remembered, false);
    return keep(e, who, q, !reset && (set || q), false);
}

template <>
z3::expr Elements::truth_of<Op::band>(const Expr& e, const Owner& who) {
    const z3::expr on = arg(e, who, 0), off = arg(e, who, 1), q = bit(e, who, StateRole::remembered, false);
    return keep(e, who, q, on || (q && !off), false);
}

template <>
z3::expr Elements::truth_of<Op::r_trig>(const Expr& e, const Owner& who) {
    const z3::expr clk = arg(e, who, 0), before = bit(e, who, StateRole::remembered, false);
    return keep(e, who, before, clk, false) && !before;
}

template <>
z3::expr Elements::truth_of<Op::f_trig>(const Expr& e, const Owner& who) {
    const z3::expr clk = arg(e, who, 0), before = bit(e, who, StateRole::remembered, true);
    return !keep(e, who, before, clk, true) && before;
}

template <>
z3::expr Elements::truth_of<Op::ctu>(const Expr& e, const Owner& who) {
    const z3::expr cu = arg(e, who, 0), reset = arg(e, who, 1), before = bit(e, who, StateRole::before, false);
    const z3::expr n = s_.state({StateRole::count, e.element}, integer(0), who.name);
    const z3::expr limit = integer(e.count);
    const z3::expr counted = z3::ite(cu && !before && n < limit, n + 1, n);
    const z3::expr next = z3::ite(reset, integer(0), counted);
    keep(e, who, before, cu, false);
    s_.state_next(n, with_power(e, who, next, n, integer(0)));
    s_.saturates_at(n, e.count);
    return next >= limit;
}

// May stand in a cycle: what it remembers is made when everything that it may read is there.
template <>
z3::expr Elements::truth_of<Op::previous>(const Expr& e, const Owner& who) {
    const z3::expr before = bit(e, who, StateRole::remembered, false);
    s_.later([this, &e, who, before] { keep(e, who, before, arg(e, who, 0), false); });
    return before;
}

template <>
Num Elements::number_of<Op::previous>(const Expr& e, const Owner& who) {
    const z3::expr before = s_.state({StateRole::remembered, e.element}, rational(0), who.name);
    s_.later([this, &e, who, before] {
        const Num x = meaning_.number(*e.args[0], who);
        s_.standing(x);  // else a leap could end at the remembered value and begin elsewhere
        s_.state_next(before, with_power(e, who, x.last, before, rational(0)));
    });
    return {before, before, false};
}

// The past values are kept as they are; a leap is possible only while all of them are equal.
template <>
Num Elements::number_of<Op::rate>(const Expr& e, const Owner& who) {
    const Num x = meaning_.number(*e.args[0], who);
    const long n = s_.up(e.value);
    z3::expr newer = x.last;
    z3::expr oldest = rational(0);
    for (long i = 1; i <= n; ++i) {
        const z3::expr h = s_.state({StateRole::past, e.element, static_cast<std::size_t>(i)}, rational(0), who.name);
        s_.state_next(h, with_power(e, who, newer, h, rational(0)));
        newer = oldest = h;
    }
    const bool dies = who.controller && power_.may_be_lost();
    RunClock& c = s_.clock({StateRole::filled, e.element}, who.name, dies ? power_.powered() : truth(true), false);
    if (dies && m_.elements[e.element].retained) c.holds = !power_.powered();
    const z3::expr filled = s_.at_least(c, n + 1);
    const Rational span = Rational(n) * m_.scan;
    const z3::expr value = z3::ite(filled, (x.first - oldest) / rational(span), rational(0));
    s_.standing(x);
    return {value, value, false};
}

namespace {

constexpr bool gives_number(Op op) { return class_of(op) == OpClass::rate || class_of(op) == OpClass::previous; }
constexpr bool gives_truth(Op op) { return has_memory(op) && class_of(op) != OpClass::rate; }

}  // namespace

z3::expr Elements::element(const Expr& e, const Owner& who) {
    if (const auto* known = find(elements_, e.element)) return *known;
    const auto value = dispatch<z3::expr, gives_truth>(e.op, [&]<Op op>() { return truth_of<op>(e, who); });
    elements_.emplace(e.element, value);
    return value;
}

Num Elements::number_element(const Expr& e, const Owner& who) {
    if (const auto* known = find(number_elements_, e.element)) return *known;
    const auto value = dispatch<Num, gives_number>(e.op, [&]<Op op>() { return number_of<op>(e, who); });
    number_elements_.emplace(e.element, value);
    return value;
}

}  // namespace lanyard::encode
