#include "encode/thresholds.hpp"

#include <algorithm>

#include "claims/cone.hpp"
#include "encode/linear.hpp"

namespace lanyard::encode {

namespace {

class Collector {
 public:
    Collector(const Model& m, SignalId signal) : m_(m), signal_(signal) {}

    void walk(const ExprPtr& e) {
        if (!e) return;
        if (is_comparison(e->op) && e->args[0]->type.kind == TypeKind::number && comparison(*e)) return;
        if (e->op == Op::signal && e->signal == signal_) cuts_.other_use = true;
        // A named number is looked through where it is compared; here it is used as such.
        if (e->op == Op::signal && m_.signal(e->signal).kind == SignalKind::logic &&
            m_.signal(e->signal).type.kind == TypeKind::number)
            walk(m_.logic[m_.signal(e->signal).index].is);
        for (const auto& a : e->args) walk(a);
    }
    Cuts take() {
        std::sort(cuts_.list.begin(), cuts_.list.end());
        cuts_.list.erase(std::unique(cuts_.list.begin(), cuts_.list.end()), cuts_.list.end());
        return std::move(cuts_);
    }

 private:
    // True when the comparison is one of a multiple of a single leaf (whichever) with a constant.
    bool comparison(const Expr& e) {
        const auto a = linear(*e.args[0], m_, true);
        const auto b = linear(*e.args[1], m_, true);
        if (!a || !b) return false;
        if (a->leaf && b->leaf && a->leaf != b->leaf) return false;
        const SignalId leaf = a->leaf ? a->leaf : b->leaf;
        const Rational coefficient = a->coefficient - b->coefficient;
        if (leaf != signal_ || coefficient == 0) return leaf != signal_;
        const Rational at = (b->constant - a->constant) / coefficient;
        // coefficient * x op c: "above" means the point itself belongs to the lower cell.
        const bool upward = coefficient > 0;
        if (e.op == Op::gt || e.op == Op::le) {
            cut(at, upward);
        } else if (e.op == Op::lt || e.op == Op::ge) {
            cut(at, !upward);
        } else {
            cut(at, true);
            cut(at, false);
        }
        return true;
    }
    void cut(const Rational& at, bool above) { cuts_.list.push_back({at, above}); }

    const Model& m_;
    SignalId signal_;
    Cuts cuts_;
};

}  // namespace

Cuts cuts_of(const Model& model, SignalId signal) {
    Collector c(model, signal);
    for (const auto& l : model.logic)
        if (l.is->type.kind == TypeKind::boolean) c.walk(l.is);
    for (const auto& o : model.outputs) c.walk(o.on);
    if (model.supply.on) c.walk(model.supply.on);
    for (const auto& s : model.circuit.sources)
        if (s.live) c.walk(s.live);
    for (const auto& q : model.quantities)
        for (const auto& line : q.lines) c.walk(line.when);
    for (const auto& condition : model.conditions)
        for (const auto& e : condition.holds) c.walk(e);
    for (const auto& claim : model.claims)
        for (const auto& e : expressions_of(claim)) c.walk(e);
    return c.take();
}

}  // namespace lanyard::encode
