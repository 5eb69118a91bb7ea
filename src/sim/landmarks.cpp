#include "sim/landmarks.hpp"

#include <algorithm>
#include <set>

namespace lanyard::sim {

namespace {

std::optional<Affine> affine_signal(const Model& model, SignalId id) {
    const Signal& s = model.signal(id);
    if (s.kind == SignalKind::quantity) return Affine{s.index.to<Quantity>(), 1, 0};
    if (s.kind == SignalKind::reading) return Affine{model.sensors[s.index].quantity, 1, 0};
    if (s.kind == SignalKind::logic) return affine(model, model.logic[s.index].is);
    if (s.kind == SignalKind::output) return affine(model, model.outputs[s.index].on);
    return {};
}

Affine scaled(const Affine& a, const Rational& by) { return {a.quantity, a.slope * by, a.offset * by}; }

std::optional<Affine> sum(const Affine& a, const Affine& b) {
    if (a.quantity && b.quantity && a.quantity != b.quantity) return {};
    return Affine{std::max(a.quantity, b.quantity), a.slope + b.slope, a.offset + b.offset};
}

std::optional<Affine> combine(Op op, const Affine& a, const Affine& b) {
    if (op == Op::add) return sum(a, b);
    if (op == Op::sub) return sum(a, scaled(b, -1));
    if (op == Op::mul && !b.quantity) return scaled(a, b.offset);
    if (op == Op::mul && !a.quantity) return scaled(b, a.offset);
    if (op == Op::div && !b.quantity && sgn(b.offset) != 0) return scaled(a, 1 / b.offset);
    return {};
}

}  // namespace

std::optional<Affine> affine(const Model& model, const ExprPtr& e) {
    if (e->type.kind != TypeKind::number) return {};
    if (e->op == Op::number) return Affine{{}, 0, e->value};
    if (e->op == Op::signal || e->op == Op::last) return affine_signal(model, e->signal);
    if (!is_arithmetic(e->op)) return {};
    auto value = affine(model, e->args[0]);
    if (e->op == Op::neg) return value ? std::optional(scaled(*value, -1)) : value;
    for (std::size_t k = 1; k < e->args.size() && value; ++k) {
        const auto next = affine(model, e->args[k]);
        value = next ? combine(e->op, *value, *next) : std::nullopt;
    }
    return value;
}

std::vector<HalfLine> half_lines(const Model& model, const Expr& c) {
    const bool below = c.op == Op::lt || c.op == Op::le;
    const bool above = c.op == Op::gt || c.op == Op::ge;
    if (!below && !above && c.op != Op::eq) return {};
    const auto left = affine(model, c.args[0]);
    const auto right = affine(model, c.args[1]);
    const auto d = left && right ? sum(*left, scaled(*right, -1)) : std::nullopt;
    if (!d || !d->quantity || sgn(d->slope) == 0) return {};
    HalfLine h{d->quantity, -d->offset / d->slope, above == (sgn(d->slope) > 0), c.op == Op::lt || c.op == Op::gt};
    if (c.op != Op::eq) return {h};
    HalfLine other = h;
    other.above = !h.above;
    return {h, other};
}

namespace {

class Points {
 public:
    explicit Points(const Model& model) : model_(model), found_(like(model.quantities)) {}

    void add(QuantityId quantity, const Rational& point) {
        const Interval& range = model_.quantities[quantity].range;
        const Rational near = (range.hi - range.lo) / 1024;
        for (const Rational& x : {Rational(point - near), point, Rational(point + near)}) {
            if (range.lo <= x && x <= range.hi) found_[quantity].insert(x);
        }
    }
    void add(QuantityId quantity, const Interval& i) {
        add(quantity, i.lo);
        add(quantity, i.hi);
    }
    void add_table(const Table& t, const Expr& e) {
        for (std::size_t k = 0; k < e.args.size(); ++k) {
            const auto a = affine(model_, e.args[k]);
            if (!a || !a->quantity || sgn(a->slope) == 0) continue;
            for (const auto& x : k == 0 ? t.rows : t.columns) add(a->quantity, (x - a->offset) / a->slope);
        }
    }
    void add_expression(const ExprPtr& e) {
        visit(e, [this](const Expr& x) {
            if (x.op == Op::table) add_table(model_.tables[x.table], x);
            if (x.args.size() != 2) return;
            for (const auto& h : half_lines(model_, x)) add(h.quantity, h.point);
        });
    }
    Indexed<Quantity, std::vector<Rational>> lists() const {
        Indexed<Quantity, std::vector<Rational>> out;
        for (const auto& set : found_) out.emplace_back(set.begin(), set.end());
        return out;
    }

 private:
    const Model& model_;
    Indexed<Quantity, std::set<Rational>> found_;
};

}  // namespace

Indexed<Quantity, std::vector<Rational>> turning_points(const Model& model) {
    Points points(model);
    for (const QuantityId q : model.quantities.ids()) {
        const Quantity& quantity = model.quantities[q];
        points.add(q, quantity.range);
        for (const auto& b : quantity.healthy) {
            if (b) points.add(q, b->within);
        }
        for (const auto& l : quantity.lines) {
            if (!l.is_change) points.add(q, l.band);
        }
        if (model.engine && model.engine->speed == q) points.add(q, model.engine->catches_above);
    }
    each_expression(model, [&](const ExprPtr& e) { points.add_expression(e); });
    return points.lists();
}

std::vector<long> clock_times(const Model& model, const std::set<ElementId>* elements) {
    std::set<long> found{1};
    const auto add = [&](const Rational& time) { found.insert(std::max(1L, scans_up(time, model.scan))); };
    each_expression(model, [&](const ExprPtr& e) {
        visit(e, [&](const Expr& x) {
            if (has_time(x.op) && (!elements || elements->contains(x.element))) add(x.value);
        });
    });
    if (model.engine) {
        for (const auto& i : {model.engine->firing_time, model.engine->coast_down, model.engine->run_on}) {
            add(i.lo);
            add(i.hi);
        }
    }
    for (const auto& q : model.quantities) {
        for (const auto& b : q.healthy) {
            if (b && b->after) add(*b->after);
        }
    }
    for (const auto& r : model.relays) add(r.pulls_in.hi), add(r.drops_out.hi);
    for (const auto& c : model.claims) {
        if (const auto* r = std::get_if<Response>(&c.body)) add(r->for_time + r->within);
    }
    return {found.begin(), found.end()};
}

}  // namespace lanyard::sim
