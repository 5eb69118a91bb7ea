#include "card/points.hpp"

#include <algorithm>
#include <set>

#include "card/expressions.hpp"
#include "lang/print.hpp"
#include "sim/landmarks.hpp"

namespace lanyard::card {

namespace {

class Lifter {
 public:
    explicit Lifter(const Bench& bench) { p_.bench = bench; }

    Points lift() {
        const std::vector<SignalId> before = m().order;
        for (const SignalId id : before) {
            owner_ = id;
            count_ = 0;
            retained_ = m().signal(id).kind == SignalKind::logic && m().logic[m().signal(id).index].retained;
            const ExprPtr is = definition(m(), id);  // naming parts moves the list that it stands in
            if (!m().name_of(id).ends_with(".plug")) define(m(), id, whole(is));
            order_.push_back(id);
        }
        m().order = order_;
        find_looks();
        add_flips();
        return std::move(p_);
    }

 private:
    Model& m() { return p_.bench.model; }

    ExprPtr whole(const ExprPtr& e) {
        if (e->type.kind != TypeKind::boolean) return e;
        if (!is_structure(*e) && e->op != Op::signal) return leaf(e, owner_);
        return decision(e, owner_, "");
    }

    // The structure with its leaves named.
    ExprPtr decision(const ExprPtr& e, SignalId outcome, const std::string& role) {
        Decision d;
        d.outcome = outcome;
        d.owner = owner_;
        d.role = role;
        d.text = text(e);
        d.formula = structure(e);
        visit(d.formula, [&](const Expr& x) {
            if (x.op != Op::signal) return;
            if (std::find(d.conditions.begin(), d.conditions.end(), x.signal) == d.conditions.end())
                d.conditions.push_back(x.signal);
        });
        const ExprPtr formula = d.formula;
        if (!d.conditions.empty()) p_.decisions.push_back(std::move(d));
        return formula;
    }

    ExprPtr structure(const ExprPtr& e) {
        if (e->op == Op::signal || e->op == Op::truth) return e;
        if (!is_structure(*e)) return named(e, [&](SignalId id) { return leaf(e, id); });
        auto out = std::make_shared<Expr>(*e);
        for (auto& a : out->args) a = structure(a);
        return out;
    }

    // The same text means the same condition, unless it remembers something of its own.
    template <class F>
    ExprPtr named(const ExprPtr& e, F&& inside) {
        const std::string written = text(e);
        const auto known = known_.find(written);
        if (!has_memory(e->op) && known != known_.end()) return signal_expr(m(), known->second);
        const std::string name = m().name_of(owner_) + "." + std::to_string(++count_);
        const SignalId id = add_logic(m(), name, e, retained_);
        p_.texts[id] = written;
        define(m(), id, inside(id));
        order_.push_back(id);
        known_[written] = id;
        return signal_expr(m(), id);
    }

    // A comparison, a memory element, or something else that is taken as it is.
    ExprPtr leaf(const ExprPtr& e, SignalId id) {
        const bool compares = e->args.size() == 2 && !has_memory(e->op) && e->args[0]->type.kind == TypeKind::number;
        if (e->op == Op::band || compares) note_comparison(e, id);
        if (!is_clock(e->op) && !is_latch(e->op)) return e;
        const std::string written = text(e);
        auto out = std::make_shared<Expr>(*e);
        for (std::size_t k = 0; k < out->args.size(); ++k) out->args[k] = input(e->args[k], role_of(e->op, k));
        p_.memories.push_back({id, owner_, out, retained_, written});
        return out;
    }

    static std::string role_of(Op op, std::size_t k) {
        if (!is_latch(op)) return std::string("input of ") + op_word(op);
        return std::string(k == 0 ? "set of " : "reset of ") + op_word(op);
    }

    ExprPtr input(const ExprPtr& e, const std::string& role) {
        if (e->op == Op::signal || e->op == Op::truth) return e;
        return named_input(e, [&](SignalId id) { return is_structure(*e) ? decision(e, id, role) : leaf(e, id); });
    }
    // Inputs are never shared: turning one over must not turn another.
    template <class F>
    ExprPtr named_input(const ExprPtr& e, F&& inside) {
        known_.erase(text(e));
        return named(e, inside);
    }

    void note_comparison(const ExprPtr& e, SignalId id) {
        Comparison c;
        c.value = id;
        c.owner = owner_;
        c.is = e;
        c.text = text(e);
        c.has_band = e->op == Op::band;
        const auto on = sim::half_lines(m(), c.has_band ? *e->args[0] : *e);
        const auto off = c.has_band ? sim::half_lines(m(), *e->args[1]) : on;
        if (on.size() == 1 && off.size() == 1) {
            c.on = on[0].point;
            c.off = off[0].point;
            c.above = on[0].above;
            c.strict_on = on[0].strict;
            c.strict_off = c.has_band ? off[0].strict : !on[0].strict;
            for (const InputId k : p_.bench.inputs.ids())
                if (p_.bench.inputs[k].kind == InputKind::sensor && p_.bench.inputs[k].index == on[0].quantity)
                    c.input = k;
        }
        p_.comparisons.push_back(std::move(c));
    }

    std::string text(const ExprPtr& e) {
        return print(
            *e, [&](SignalId id) { return p_.text_of(id); }, [&](TableId t) { return m().tables[t].name; });
    }

    // Outputs, and loads that show something which no single output does.
    void find_looks() {
        for (const auto& o : m().outputs) p_.looks.push_back(o.signal);
        for (const auto& l : m().loads) {
            const bool fed_by_output =
                !l.probe && l.feeders.size() == 1 && m().signal(l.feeders[0]).kind == SignalKind::output;
            if (!fed_by_output && !l.is_free()) p_.looks.push_back(l.signal);
        }
    }

    void add_flips() {
        p_.flipped = m();
        const auto add = [&](SignalId id) {
            if (p_.flips.contains(id)) return;
            const SwitchId s = add_switch(p_.flipped, p_.flipped.name_of(id) + ".flip");
            p_.flips[id] = s;
            const SignalId seen = p_.flipped.switches[s].seen;
            define(p_.flipped, id, boolean_expr(Op::xor_, {definition(p_.flipped, id), signal_expr(p_.flipped, seen)}));
        };
        for (const auto& d : p_.decisions) add(d.outcome);
        for (const auto& c : p_.comparisons) add(c.value);
        for (const auto& e : p_.memories) add(e.value);
    }

    Points p_;
    SignalId owner_;
    int count_ = 0;
    bool retained_ = false;
    std::vector<SignalId> order_;
    std::map<std::string, SignalId> known_;
};

}  // namespace

std::string Points::text_of(SignalId id) const {
    const auto known = texts.find(id);
    if (known != texts.end()) return known->second;
    const std::string& name = bench.model.name_of(id);
    for (const std::string end : {".plug", ".box"})
        if (name.ends_with(end)) return name.substr(0, name.size() - end.size());
    return name;
}

std::vector<SignalId> Points::watched() const {
    std::set<SignalId> all(looks.begin(), looks.end());
    for (const auto& d : decisions) all.insert(d.conditions.begin(), d.conditions.end());
    for (const auto& e : memories) {
        all.insert(e.value);
        for (const auto& input : e.is->args)
            if (input->op == Op::signal) all.insert(input->signal);
    }
    for (const auto& l : bench.model.loads) all.insert(l.signal);
    return {all.begin(), all.end()};
}

Points points_of(const Bench& bench) { return Lifter(bench).lift(); }

}  // namespace lanyard::card
