#include "explain/mutants.hpp"

#include <functional>

#include "model/make_expr.hpp"

namespace lanyard::explain {

namespace {

using Around = std::function<ExprPtr(const ExprPtr&)>;  // the definition with something else in the place of a part

std::shared_ptr<Expr> copy_of(const ExprPtr& e) { return std::make_shared<Expr>(*e); }

class Maker {
 public:
    explicit Maker(const Model& m) : m_(m) {}

    std::vector<Mutant> make() {
        for (const SignalId id : m_.order) {
            signal_ = id;
            const ExprPtr& whole = definition(m_, id);
            const Around around = [](const ExprPtr& e) { return e; };
            if (whole->type.kind == TypeKind::boolean) {
                add(MutantKind::stuck_on, whole, truth_expr(true, whole->place), around);
                add(MutantKind::stuck_off, whole, truth_expr(false, whole->place), around);
            }
            parts(whole, around);
        }
        return std::move(out_);
    }

 private:
    const Model& m_;
    SignalId signal_;
    std::vector<Mutant> out_;

    void add(MutantKind kind, const ExprPtr& part, const ExprPtr& instead, const Around& around) {
        out_.push_back({kind, signal_, part, instead, around(instead)});
    }

    static Around within(const ExprPtr& e, std::size_t k, const Around& around) {
        return [e, k, around](const ExprPtr& part) {
            auto changed = copy_of(e);
            changed->args[k] = part;
            return around(changed);
        };
    }

    void parts(const ExprPtr& e, const Around& around) {
        const bool leaf =
            e->type.kind == TypeKind::boolean && (e->op == Op::signal || e->op == Op::last || is_comparison(e->op));
        if (leaf) add(MutantKind::negated, e, boolean_expr(Op::not_, {e}, e->place), around);
        if (e->op == Op::and_ || e->op == Op::or_) connective(e, around);
        if (e->op == Op::vote) vote(e, around);
        if (is_comparison(e->op)) thresholds(e, around);
        if (is_clock(e->op)) timer(e, around);
        if (e->op == Op::band) return band(e, around);
        for (std::size_t k = 0; k < e->args.size(); ++k) parts(e->args[k], within(e, k, around));
    }

    void connective(const ExprPtr& e, const Around& around) {
        auto other = copy_of(e);
        other->op = e->op == Op::and_ ? Op::or_ : Op::and_;
        add(MutantKind::swapped, e, other, around);
        for (std::size_t k = 0; k < e->args.size(); ++k) {
            auto fewer = copy_of(e);
            fewer->args.erase(fewer->args.begin() + static_cast<std::ptrdiff_t>(k));
            const ExprPtr left = fewer->args.size() == 1 ? fewer->args[0] : ExprPtr(fewer);
            // What is dropped is what a reader looks for.
            add(MutantKind::dropped, e->args[k], left, around);
        }
    }

    void vote(const ExprPtr& e, const Around& around) {
        for (const long count : {e->count - 1, e->count + 1}) {
            if (count < 1 || count > std::ssize(e->args)) continue;
            auto other = copy_of(e);
            other->count = count;
            add(MutantKind::swapped, e, other, around);
        }
    }

    void timer(const ExprPtr& e, const Around& around) {
        add(MutantKind::instant, e, e->args[0], around);
        auto longer = copy_of(e);
        longer->value = e->value * 2;
        longer->written.clear();
        add(MutantKind::doubled, e, longer, around);
    }

    // Of the quantity that a constant is compared with; null where it is something else.
    const Interval* range_of(const Expr& beside) const {
        if (beside.op != Op::signal && beside.op != Op::last) return nullptr;
        const Signal& s = m_.signal(beside.signal);
        if (s.kind == SignalKind::quantity) return &m_.quantities[s.index].range;
        if (s.kind == SignalKind::reading) return &m_.quantities[m_.sensors[s.index].quantity].range;
        return nullptr;
    }

    // A twentieth of the range; of anything else a tenth of the constant.
    static Rational step(const Interval* range, const Rational& value) {
        if (range != nullptr) return (range->hi - range->lo) / 20;
        return value == 0 ? Rational(1) : Rational(abs(value) / 10);
    }

    void thresholds(const ExprPtr& e, const Around& around) {
        for (std::size_t k = 0; k < e->args.size(); ++k) {
            const ExprPtr& c = e->args[k];
            if (c->op != Op::number) continue;
            const Interval* range = range_of(*e->args[1 - k]);
            const Rational by = step(range, c->value);
            for (const int way : {-1, 1}) {
                auto moved = copy_of(c);
                moved->value = c->value + by * way;
                // Nobody writes a threshold that is never passed; being stuck is a mutant of its own.
                if (range != nullptr && (moved->value < range->lo || moved->value > range->hi)) continue;
                moved->written.clear();
                auto comparison = copy_of(e);
                comparison->args[k] = moved;
                add(MutantKind::moved, e, comparison, around);
            }
        }
    }

    // Two thresholds of one expression: they may be moved, but not past each other.
    void band(const ExprPtr& e, const Around& around) {
        const auto limit = [](const ExprPtr& comparison) -> const Rational* {
            for (const auto& a : comparison->args)
                if (a->op == Op::number) return &a->value;
            return nullptr;
        };
        const std::size_t before = out_.size();
        for (std::size_t k = 0; k < 2; ++k) thresholds(e->args[k], within(e, k, around));
        const Rational* on = limit(e->args[0]);
        const Rational* off = limit(e->args[1]);
        if (on == nullptr || off == nullptr) return out_.resize(before);
        std::erase_if(out_, [&](const Mutant& m) {
            if (m.signal != signal_ || m.kind != MutantKind::moved) return false;
            const bool is_on = m.part == e->args[0];
            if (!is_on && m.part != e->args[1]) return false;
            const Rational* here = limit(m.instead);
            return sgn(Rational(*on - *off)) != sgn(is_on ? Rational(*here - *off) : Rational(*on - *here));
        });
    }
};

}  // namespace

std::vector<Mutant> mutants_of(const Model& model) { return Maker(model).make(); }

Model mutated(const Model& model, const Mutant& mutant) {
    Model out = model;
    const Signal& s = out.signal(mutant.signal);
    out.made_into += "\nmutant: " + s.name + " is " + text_of(model, *mutant.definition);
    if (s.kind == SignalKind::logic)
        out.logic[s.index].is = mutant.definition;
    else
        out.outputs[s.index].on = mutant.definition;
    return out;
}

}  // namespace lanyard::explain
