#include "sim/element.hpp"

#include <algorithm>

namespace lanyard::sim {

ElementState power_up(const Node& n) {
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

bool step_ton(ElementState& s, bool in, long preset) {
    const long needed = preset > 0 ? preset + 1 : 1;
    s.count = in ? std::min(s.count + 1, needed) : 0;
    return s.count >= needed;
}

bool step_tof(ElementState& s, bool in, long preset) {
    s.count = in ? 0 : std::min(s.count + 1, preset + 1);
    return in || s.count <= preset;
}

bool step_tp(ElementState& s, bool in, long preset) {
    const bool edge = in && !s.before;
    s.before = in;
    if (s.on) {
        // An edge in the very scan in which the pulse ends is lost.
        s.on = s.count < preset;
        s.count = s.on ? s.count + 1 : 0;
    } else if (edge) {
        s.on = true;
        s.count = 1;
    }
    return s.on;
}

bool step_sr(ElementState& s, bool set, bool reset) { return s.on = set || (s.on && !reset); }

bool step_rs(ElementState& s, bool set, bool reset) { return s.on = !reset && (set || s.on); }

bool step_r_trig(ElementState& s, bool clk) {
    const bool q = clk && !s.before;
    s.before = clk;
    return q;
}

bool step_f_trig(ElementState& s, bool clk) {
    const bool q = !clk && s.before;
    s.before = clk;
    return q;
}

bool step_ctu(ElementState& s, bool up, bool reset, long preset) {
    const bool edge = up && !s.before;
    s.before = up;
    s.count = reset ? 0 : std::min(s.count + (edge ? 1 : 0), preset);
    return s.count >= preset;
}

bool step_band(ElementState& s, bool on, bool off) { return s.on = on || (s.on && !off); }

void step_rate(ElementState& s, const Rational& x, const Node& n, Rational& out) {
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
