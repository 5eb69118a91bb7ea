#include "sim/element.hpp"

#include <algorithm>

namespace lanyard::sim {

ElementState power_up(const Operation& n) {
    ElementState s;
    const Expr& e = *n.expr;
    // The standard's body of F_TRIG: CLK off at the first scan pulses.
    s.before = e.op == Op::f_trig;
    // As if the input had been off for ever: no pulse at a cold start.
    if (e.op == Op::tof) s.count = n.scans + 1;
    if (e.op == Op::previous && e.type.kind == TypeKind::number) s.value = Rational(0);
    if (e.op == Op::previous && e.type.kind == TypeKind::mode) s.value = Mode::stopped;
    return s;
}

namespace {

// An element without its rule does not compile: dispatch() below asks for each of them.
template <Op op>
bool rule(ElementState& s, const Given& in) = delete;

template <>
bool rule<Op::ton>(ElementState& s, const Given& in) {
    const long needed = in.scans > 0 ? in.scans + 1 : 1;
    s.count = in.first ? std::min(s.count + 1, needed) : 0;
    return s.count >= needed;
}

template <>
bool rule<Op::tof>(ElementState& s, const Given& in) {
    s.count = in.first ? 0 : std::min(s.count + 1, in.scans + 1);
    return in.first || s.count <= in.scans;
}

template <>
bool rule<Op::tp>(ElementState& s, const Given& in) {
    const bool edge = in.first && !s.before;
    s.before = in.first;
    if (s.on) {
        // An edge in the very scan in which the pulse ends is lost.
        s.on = s.count < in.scans;
        s.count = s.on ? s.count + 1 : 0;
    } else if (edge) {
        s.on = true;
        s.count = 1;
    }
    return s.on;
}

template <>
bool rule<Op::sr>(ElementState& s, const Given& in) {
    return s.on = in.first || (s.on && !in.second);
}

template <>
bool rule<Op::rs>(ElementState& s, const Given& in) {
    return s.on = !in.second && (in.first || s.on);
}

template <>
bool rule<Op::r_trig>(ElementState& s, const Given& in) {
    const bool q = in.first && !s.before;
    s.before = in.first;
    return q;
}

template <>
bool rule<Op::f_trig>(ElementState& s, const Given& in) {
    const bool q = !in.first && s.before;
    s.before = in.first;
    return q;
}

template <>
bool rule<Op::ctu>(ElementState& s, const Given& in) {
    const bool edge = in.first && !s.before;
    s.before = in.first;
    s.count = in.second ? 0 : std::min(s.count + (edge ? 1 : 0), in.count);
    return s.count >= in.count;
}

template <>
bool rule<Op::band>(ElementState& s, const Given& in) {
    return s.on = in.first || (s.on && !in.second);
}

}  // namespace

bool step(Op op, ElementState& s, const Given& in) {
    return dispatch<bool, is_switching>(op, [&]<Op known>() { return rule<known>(s, in); });
}

void step_rate(ElementState& s, const Rational& x, const Operation& n, Rational& out) {
    const auto length = static_cast<std::size_t>(n.scans);
    if (s.past.size() < length) {
        out = 0;
    } else {
        out = x - s.past.front();
        out /= n.span;
        s.past.erase(s.past.begin());
    }
    s.past.push_back(x);
}

void append_text(std::string& text, const Value& v) {
    if (const auto* b = std::get_if<bool>(&v)) {
        text += *b ? '1' : '0';
    } else if (const auto* m = std::get_if<Mode>(&v)) {
        text += mode_name(*m);
    } else {
        text += std::get<Rational>(v).get_str();
    }
    text += ' ';
}

void append_text(std::string& text, const ElementState& s, Op op) {
    if (op == Op::previous) return append_text(text, s.value);
    if (op == Op::rate) {
        for (const auto& x : s.past) text += x.get_str() + ',';
        text += ' ';
        return;
    }
    // While a pulse lasts its input does not matter: it is read again before the pulse can end.
    const bool before = s.before && !(op == Op::tp && s.on);
    text += s.on ? '1' : '0';
    text += before ? '1' : '0';
    text += std::to_string(s.count) + ' ';
}

}  // namespace lanyard::sim
