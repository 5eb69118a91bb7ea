#include "model/ranges.hpp"

#include <algorithm>

namespace lanyard::model {

namespace {

Interval hull(const Interval& a, const Interval& b) { return {std::min(a.lo, b.lo), std::max(a.hi, b.hi)}; }

Interval product(const Interval& a, const Interval& b) {
    const Rational corners[] = {a.lo * b.lo, a.lo * b.hi, a.hi * b.lo, a.hi * b.hi};
    return {*std::min_element(std::begin(corners), std::end(corners)),
            *std::max_element(std::begin(corners), std::end(corners))};
}

Interval negated(const Interval& a) { return {-a.hi, -a.lo}; }
Interval sum(const Interval& a, const Interval& b) { return {a.lo + b.lo, a.hi + b.hi}; }

std::optional<bool> decide(Op op, const Interval& a, const Interval& b) {
    const bool apart = a.hi < b.lo || a.lo > b.hi;
    const bool same_point = a.lo == a.hi && b.lo == b.hi && a.lo == b.lo;
    if (op == Op::lt && a.hi < b.lo) return true;
    if (op == Op::lt && a.lo >= b.hi) return false;
    if (op == Op::le && a.hi <= b.lo) return true;
    if (op == Op::le && a.lo > b.hi) return false;
    if (op == Op::eq && (apart || same_point)) return same_point;
    if (op == Op::ne && (apart || same_point)) return apart;
    return std::nullopt;
}

bool is_allowed(const Model& m, FaultId fault) {
    return std::any_of(m.conditions.begin(), m.conditions.end(),
                       [&](const Condition& c) { return std::binary_search(c.faults.begin(), c.faults.end(), fault); });
}

// Faults count where the file says what the sensor then reads, or where a condition allows them.
std::optional<Interval> of_sensor(const Model& m, const Sensor& s) {
    const Interval& r = m.quantities[s.quantity].range;
    Interval all{r.lo - s.accuracy, r.hi + s.accuracy};
    for (const FaultId id : s.faults) {
        const Fault& f = m.faults[id];
        if (f.kind == FaultKind::sensor_drift && f.value)
            all = hull(all, {r.lo - s.accuracy - *f.value, r.hi + s.accuracy + *f.value});
        else if (f.value)
            all = hull(all, {*f.value, *f.value});
        else if (f.kind != FaultKind::sensor_frozen && is_allowed(m, id))
            return std::nullopt;  // it may read anything
    }
    return all;
}

std::optional<bool> inverted(std::optional<bool> b) { return b ? std::optional<bool>(!*b) : std::nullopt; }

}  // namespace

Ranges::Ranges(const Model& m) : m_(m), numbers_(like(m.signals)), truths_(like(m.signals)) {
    for (const auto& q : m.quantities) numbers_[q.signal] = q.range;
    for (const auto& s : m.sensors) {
        if (!s.quantity) continue;
        numbers_[s.signal] = of_sensor(m, s);
    }
    for (const SignalId id : m.order) {
        const ExprPtr& e = definition(m, id);
        if (e == nullptr) continue;
        if (e->type.kind == TypeKind::number) numbers_[id] = of(*e, false);
        if (e->type.kind == TypeKind::boolean) truths_[id] = truth(*e, false);
    }
}

std::optional<Interval> Ranges::of_signal(const Expr& e, bool outside) const {
    auto known = numbers_[e.signal];
    const SignalKind kind = m_.signal(e.signal).kind;
    const bool of_controller = kind == SignalKind::logic || kind == SignalKind::output;
    if (known && of_controller && (outside || e.op == Op::last)) known = hull(*known, {0, 0});
    return known;
}

std::optional<Interval> Ranges::of_table(const Expr& e) const {
    const Table& t = m_.tables[e.table];
    std::optional<Interval> all;
    for (const auto& row : t.cells)
        for (const auto& cell : row) all = all ? hull(*all, {cell, cell}) : Interval{cell, cell};
    return all;
}

std::optional<Interval> Ranges::of_rate(const Expr& e, bool outside) const {
    const auto x = of(*e.args[0], outside);
    if (!x || e.value <= 0) return std::nullopt;
    const Rational time = m_.scan * scans_up(e.value, m_.scan);
    const Rational most = (x->hi - x->lo) / time;
    return Interval{-most, most};
}

std::optional<Interval> Ranges::of(const Expr& e, bool outside) const {
    if (e.type.kind != TypeKind::number) return std::nullopt;
    if (e.op == Op::number) return Interval{e.value, e.value};
    if (e.op == Op::signal || e.op == Op::last) return of_signal(e, outside);
    if (e.op == Op::table) return of_table(e);
    if (e.op == Op::rate) return of_rate(e, outside);
    if (e.args.empty()) return std::nullopt;
    const auto a = of(*e.args[0], outside);
    if (!a) return std::nullopt;
    if (e.op == Op::neg) return negated(*a);
    if (e.op == Op::previous) return hull(*a, {0, 0});
    const auto b = e.args.size() > 1 ? of(*e.args[1], outside) : std::nullopt;
    if (!b) return std::nullopt;
    if (e.op == Op::add) return sum(*a, *b);
    if (e.op == Op::sub) return sum(*a, negated(*b));
    if (e.op == Op::mul) return product(*a, *b);
    if (e.op == Op::div && b->lo == b->hi && b->lo != 0) return product(*a, {1 / b->lo, 1 / b->lo});
    return std::nullopt;
}

std::optional<bool> Ranges::of_comparison(const Expr& e, bool outside) const {
    const auto a = of(*e.args[0], outside);
    const auto b = of(*e.args[1], outside);
    if (!a || !b) return std::nullopt;
    if (e.op == Op::gt) return decide(Op::lt, *b, *a);
    if (e.op == Op::ge) return decide(Op::le, *b, *a);
    return decide(e.op, *a, *b);
}

std::optional<bool> Ranges::of_connective(const Expr& e, bool outside) const {
    std::size_t on = 0;
    std::size_t off = 0;
    for (const auto& a : e.args) {
        const auto t = truth(*a, outside);
        if (t) ++(*t ? on : off);
    }
    const std::size_t all = e.args.size();
    if (e.op == Op::vote) {
        const auto wanted = static_cast<std::size_t>(e.count);
        if (on >= wanted) return true;
        if (all - off < wanted) return false;
        return std::nullopt;
    }
    if (e.op == Op::and_ && off > 0) return false;
    if (e.op == Op::or_ && on > 0) return true;
    if (on + off < all) return std::nullopt;
    return e.op == Op::xor_ ? on % 2 == 1 : e.op == Op::and_;
}

// Elements that never get an input stay as they are at power-up: off.
std::optional<bool> Ranges::truth(const Expr& e, bool outside) const {
    if (e.op == Op::truth) return e.flag;
    if (e.op == Op::signal && e.type.kind == TypeKind::boolean) {
        const auto known = truths_[e.signal];
        return known && (!*known || !outside) ? known : std::nullopt;
    }
    if (e.op == Op::not_) return inverted(truth(*e.args[0], outside));
    if (e.op == Op::and_ || e.op == Op::or_ || e.op == Op::xor_ || e.op == Op::vote) return of_connective(e, outside);
    if (is_comparison(e.op)) return of_comparison(e, outside);
    if (row_of(e.op).off_before_input && truth(*e.args[0], outside) == std::optional<bool>(false)) return false;
    return std::nullopt;
}

}  // namespace lanyard::model
