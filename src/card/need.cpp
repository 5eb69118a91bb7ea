#include "card/need.hpp"

#include <algorithm>

#include "card/expressions.hpp"
#include "sim/landmarks.hpp"

namespace lanyard::card {

namespace {

constexpr int deepest = 30;
constexpr long guess_steps = 2'000;  // of one guess: where much hangs on much, it knows less
constexpr long blackout = 20;

Need far() { return {out_of_reach, {}}; }

// Of two that are equally near, what helps either of them.
Need nearer(Need a, Need b) {
    if (a.cost != b.cost || a.cost >= out_of_reach) return a.cost <= b.cost ? std::move(a) : std::move(b);
    a.wants.insert(a.wants.end(), b.wants.begin(), b.wants.end());
    return a;
}

bool compare_numbers(Op op, const Rational& x, const Rational& y) {
    if (op == Op::lt) return x < y;
    if (op == Op::le) return x <= y;
    if (op == Op::gt) return x > y;
    if (op == Op::ge) return x >= y;
    return (op == Op::eq) == (x == y);
}

}  // namespace

void Need::add(const Need& other) {
    cost = std::min(out_of_reach, cost + other.cost);
    wants.insert(wants.end(), other.wants.begin(), other.wants.end());
}

Distance::Distance(const Points& points, const Indexed<BenchInput, std::vector<Rational>>& values)
    : points_(points), m_(points.bench.model), values_(values) {
    for (const SignalId id : m_.order)
        visit(definition(m_, id), [&](const Expr& x) {
            if (x.op == Op::signal) readers_[x.signal].push_back(id);
        });
    for (const auto& l : m_.loops) readers_[l.output].push_back(l.signal);
    for (const InputId k : points.bench.inputs.ids()) {
        const BenchInput& in = points.bench.inputs[k];
        if (in.is_number()) continue;
        const Switch& s = m_.switches[in.index];
        input_of_[s.seen] = input_of_[s.position] = k;
    }
}

Need Distance::to(const Rest& here, SignalId signal, bool value) const {
    steps_ = 0;
    return make_signal({here}, signal, value);
}

Need Distance::to_show(const Rest& here, SignalId signal) const {
    steps_ = 0;
    return show({here}, signal);
}

Need Distance::to_power(const Rest& here) const {
    if (here.is_on(m_.powered)) return {};
    steps_ = 0;
    Need out = m_.supply.on ? make({here}, *m_.supply.on, true) : some_switch();
    out.cost += blackout;  // without power nothing looks as it should, and nothing else is worth a guess
    return out;
}

Need Distance::to_lose_power(const Rest& here) const {
    steps_ = 0;
    return m_.supply.on ? make({here}, *m_.supply.on, false) : some_switch();
}

bool Distance::truth(const Rest& here, const Expr& e) {
    return value_of(e, [&](const Expr& x) { return (x.op == Op::signal || x.op == Op::last) && here.is_on(x.signal); });
}

Need Distance::make_signal(const At& at, SignalId id, bool value) const {
    if (at.here.is_on(id) == value) return {};
    if (at.depth > deepest || ++steps_ > guess_steps) return far();
    const At below{at.here, at.depth + 1};
    const Signal& s = m_.signal(id);
    if (s.kind == SignalKind::position) return {1, {{input_of_.at(id), value, {}}}};
    if (s.kind == SignalKind::seen) return {1, {{input_of_.at(id), value != m_.switches[s.index].normally_closed, {}}}};
    if (s.kind == SignalKind::loop) return make_signal(below, m_.loops[s.index].output, value);
    if (s.kind == SignalKind::logic || s.kind == SignalKind::output) return make(below, *definition(m_, id), value);
    return some_switch();
}

// Something that the wiring decides: some switch in it, then.
Need Distance::some_switch() const {
    Need out{1, {}};
    for (const InputId k : points_.bench.inputs.ids()) {
        const BenchInput& in = points_.bench.inputs[k];
        if (in.kind != InputKind::hand_switch) continue;
        if (m_.switches[in.index].seen_by_controller) continue;
        out.wants.push_back({k, true, {}});
        out.wants.push_back({k, false, {}});
    }
    return out;
}

Need Distance::make(const At& at, const Expr& e, bool value) const {
    const bool all = (e.op == Op::and_ && value) || (e.op == Op::or_ && !value);
    const bool one = (e.op == Op::and_ && !value) || (e.op == Op::or_ && value);
    if (e.op == Op::truth) return e.flag == value ? Need{} : far();
    if (e.op == Op::signal || e.op == Op::last) return make_signal(at, e.signal, value);
    if (e.op == Op::not_) return make(at, *e.args[0], !value);
    if (all || one) {
        Need out = all ? Need{} : far();
        for (const auto& a : e.args) {
            Need n = make(at, *a, value);
            if (all)
                out.add(n);
            else
                out = nearer(std::move(out), std::move(n));
        }
        return out;
    }
    if (e.op == Op::vote) return vote(at, e, value);
    if (is_structure(e)) return odd(at, e);
    if (is_latch(e.op)) return make_latch(at, e, value);
    if (e.op == Op::band) return compared(at, *e.args[value ? 0 : 1], true);
    if (has_memory(e.op)) {
        if (e.args[0]->type.kind != TypeKind::boolean) return far();
        const bool now = truth(at.here, *e.args[0]);
        Need out = make(at, *e.args[0], e.op == Op::f_trig ? !now : value);
        if (out.cost == 0) {  // it has run out: once more
            out = make(at, *e.args[0], !now);
            out.cost += 1;
        }
        return out;
    }
    return compared(at, e, value);
}

// XOR and equality of Booleans: any one operand turns them.
Need Distance::odd(const At& at, const Expr& e) const {
    Need out = far();
    for (const auto& a : e.args) out = nearer(std::move(out), make(at, *a, !truth(at.here, *a)));
    return out;
}

Need Distance::vote(const At& at, const Expr& e, bool value) const {
    std::vector<Need> needs;
    for (const auto& a : e.args) needs.push_back(make(at, *a, value));
    std::stable_sort(needs.begin(), needs.end(), [](const Need& a, const Need& b) { return a.cost < b.cost; });
    long missing = value ? e.count : std::ssize(e.args) - e.count + 1;
    Need out;
    for (const Need& n : needs)
        if (missing-- > 0) out.add(n);
    return out;
}

Need Distance::make_latch(const At& at, const Expr& e, bool value) const {
    static_assert(size_of(OpClass::latch) == 2);
    const bool set_wins = e.op == Op::sr;
    Need out = make(at, *e.args[value ? 0 : 1], true);
    if (value != set_wins) out.add(make(at, *e.args[value ? 1 : 0], false));
    return out;
}

Need Distance::compared(const At& at, const Expr& e, bool value) const {
    if (e.args.size() != 2) return far();
    const auto left = sim::affine(m_, e.args[0]), right = sim::affine(m_, e.args[1]);
    if (!left || !right) return far();
    Need out = far();
    for (const InputId k : points_.bench.inputs.ids()) {
        const BenchInput& in = points_.bench.inputs[k];
        if (!in.is_number() || (in.index != left->quantity && in.index != right->quantity)) continue;
        const auto at_value = [&](const sim::Affine& a, const Rational& x) -> Rational {
            if (!a.quantity) return a.offset;
            return a.slope * (a.quantity == in.index ? x : at.here.set.quantities[a.quantity]) + a.offset;
        };
        for (const Rational& x : values_[k]) {
            if (compare_numbers(e.op, at_value(*left, x), at_value(*right, x)) != value) continue;
            out.cost = 1;
            out.wants.push_back({k, false, x});
        }
    }
    return out;
}

bool Distance::mentions(const Expr& e, SignalId id) const {
    if (e.op == Op::signal && e.signal == id) return true;
    return std::any_of(e.args.begin(), e.args.end(), [&](const auto& a) { return mentions(*a, id); });
}

Need Distance::show(const At& at, SignalId id) const {
    if (std::find(points_.looks.begin(), points_.looks.end(), id) != points_.looks.end()) return {};
    const auto readers = readers_.find(id);
    if (at.depth > deepest || readers == readers_.end() || ++steps_ > guess_steps) return far();
    Need best = far();
    for (const SignalId r : readers->second) {
        const Signal& s = m_.signal(r);
        const At below{at.here, at.depth + 1};
        Need n = s.kind == SignalKind::loop ? Need{} : show_in(below, r, id);
        if (n.cost >= best.cost) continue;
        n.add(show(below, r));
        best = nearer(std::move(best), std::move(n));
    }
    return best;
}

// What sets a latch shows while it is off, what resets it while it is on; the other side leaves it alone.
Need Distance::show_in(const At& at, SignalId reader, SignalId id) const {
    const Expr& e = *definition(m_, reader);
    if (!is_latch(e.op)) return show_through(at, e, id);
    const bool sets = mentions(*e.args[0], id);
    Need n = show_through(at, *e.args[sets ? 0 : 1], id);
    n.add(make_signal(at, reader, !sets));
    n.add(make(at, *e.args[sets ? 1 : 0], false));
    return n;
}

Need Distance::show_through(const At& at, const Expr& e, SignalId id) const {
    if (e.op == Op::signal) return e.signal == id ? Need{} : far();
    Need best = far();
    for (std::size_t k = 0; k < e.args.size(); ++k) {
        if (!mentions(*e.args[k], id)) continue;
        Need n = show_through(at, *e.args[k], id);
        for (std::size_t j = 0; j < e.args.size(); ++j)
            if (j != k && (e.op == Op::and_ || e.op == Op::or_)) n.add(make(at, *e.args[j], e.op == Op::and_));
        best = nearer(std::move(best), std::move(n));
    }
    return best;
}

}  // namespace lanyard::card
