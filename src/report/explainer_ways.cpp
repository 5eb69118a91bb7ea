// Ways of power: over what plus and ground come, written as a wire is written in the model; or what is in their way.
#include <algorithm>

#include "circuit/gap.hpp"
#include "report/explainer_ways.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

// A live source that says so by the engine's mode alone.
bool speaks_of_modes_only(const Expr& e) {
    if (e.op == Op::or_ || e.op == Op::and_ || e.op == Op::not_)
        return std::all_of(e.args.begin(), e.args.end(), [](const ExprPtr& a) { return speaks_of_modes_only(*a); });
    return (e.op == Op::eq || e.op == Op::ne) && e.args[0]->type.kind == TypeKind::mode;
}

struct PowerWalker : Walker {
    List fed(const PowerEnds& e, BranchId without, const std::string& name, const WiringView& v) {
        const auto sure = [&](NodeId node, Sign s) { return !node || v.flow.has(node, s); };
        const auto weak = [&](NodeId node, Sign s) { return !node || v.flow.weak_way(node, s, without).has_value(); };
        if (sure(e.plus, Sign::plus) && sure(e.minus, Sign::ground)) return {way(e, without, name, true, v)};
        const bool plus = weak(e.plus, Sign::plus), ground = weak(e.minus, Sign::ground);
        if (plus && ground) {
            for (const NodeId node : {e.plus, e.minus})
                if (node && v.flow.in_doubt(node)) return {short_at(node, v)};
            return {way(e, without, name, false, v)};
        }
        List out;
        if (!plus) out = what_is_open(e.plus, Sign::plus, without, v);
        if (!ground)
            for (auto& r : what_is_open(e.minus, Sign::ground, without, v)) out.push_back(std::move(r));
        return out;
    }

    // Names of ends have a point in them.
    bool is_splice(NodeId node) const {
        return node != ground_node && m_.circuit.nodes[node].name.find('.') == std::string::npos;
    }

    // "alternator (engine running) - bus - ign - coil - coils": poles, contacts, outputs, splices. A way that begins
    // like one that has been told begins where they part.
    Reason way(const PowerEnds& e, BranchId without, const std::string& name, bool sure, const WiringView& v) {
        const auto find = [&](NodeId node, Sign s) {
            return sure ? v.flow.way(node, s) : v.flow.weak_way(node, s, without);
        };
        const Deeper deeper(told_);
        std::vector<std::string> items;
        Reason r;
        if (e.plus) along(*find(e.plus, Sign::plus), Sign::plus, v, items, r.because);
        if (items.empty() || items.back() != name) items.push_back(name);
        if (e.minus) {
            std::vector<std::string> back;
            along(*find(e.minus, Sign::ground), Sign::ground, v, back, r.because);
            if (!e.plus) items.clear();
            const bool told = !e.plus || back.size() > 1;
            if (told && e.plus) std::reverse(back.begin(), back.end());
            if (told) items.insert(items.end(), back.begin(), back.end());
            if (!e.plus && items.back() != name) items.push_back(name);
        }
        r.text = joined(items, " - ") + (sure ? "" : " (weak: may or may not work)");
        return r;
    }

    // Where a dead short meets what hangs on it: a splice on the short's way, the nearest to its middle that has a
    // name.
    Reason short_at(NodeId node, const WiringView& v) {
        const auto loop = v.flow.dead_short(node);
        if (!loop) return {"a short (may or may not work)", {}};
        NodeId at = loop->begin, meet;
        for (const BranchId b : loop->branches) {
            at = other_end(m_.circuit.branches[b], at);
            if (is_splice(at) && (!meet || at == node)) meet = at;
        }
        if (!meet) meet = node != ground_node ? node : loop->begin;
        Reason r{"plus and ground meet at " + m_.circuit.nodes[meet].name + " (may or may not work)", {}};
        round(*loop, v, r.because);
        return r;
    }

    // What a short passes.
    void round(const Way& loop, const WiringView& v, List& because) {
        std::vector<std::string> unused;
        along(loop, Sign::plus, v, unused, because);
    }

    void along(const Way& w, Sign sign, const WiringView& v, std::vector<std::string>& items, List& because) {
        const auto& branches = m_.circuit.branches;
        NodeId node = w.begin;
        std::vector<NodeId> nodes{node};
        for (const BranchId b : w.branches) nodes.push_back(node = other_end(branches[b], node));
        std::size_t from = 0;
        for (std::size_t k = 1; k < nodes.size(); ++k)
            if (sign == Sign::plus && is_splice(nodes[k]) && told_.nodes.contains({v.scan, nodes[k]})) from = k;
        if (from > 0) {
            items.push_back(m_.circuit.nodes[nodes[from]].name);
        } else if (sign == Sign::ground || !w.source) {  // without a source: it goes on from one in series
            items.push_back(m_.circuit.nodes[w.begin].name);
        } else {
            items.push_back(source_words(w.source, v));
            for (auto& r : why_source(w.source, true, v)) because.push_back(std::move(r));
        }
        for (std::size_t k = from; k < w.branches.size(); ++k) {
            const Branch& b = branches[w.branches[k]];
            const bool passive = b.kind == BranchKind::wire || b.kind == BranchKind::fuse ||
                                 b.kind == BranchKind::terminal || b.kind == BranchKind::diode;
            if (!passive && items.back() != b.name) items.push_back(b.name);
            for (auto& r : switched(w.branches[k], v)) because.push_back(std::move(r));
            if (v.flow.may_blow(w.branches[k]) && told_.shorts.insert({v.scan, w.branches[k]}).second)
                because.push_back(blown(w.branches[k], v));
            const NodeId there = nodes[k + 1];
            const std::string& name = m_.circuit.nodes[there].name;
            if (is_splice(there) && items.back() != name) items.push_back(name);
            if (sign == Sign::plus && is_splice(there)) told_.nodes.insert({v.scan, there});
        }
    }

    std::string source_words(SourceId source, const WiringView& v) const {
        const Source& s = m_.circuit.sources[source];
        if (!s.live || !speaks_of_modes_only(*s.live)) return s.name;
        return s.name + " (" + state_words(m_, m_.mode, film_.at(v.scan).signals[m_.mode]) + ")";
    }

    List why_source(SourceId source, bool gives, const WiringView& v) {
        const Source& s = m_.circuit.sources[source];
        List out;
        if (!gives && there(s.dead_by, v.scan)) return of_faults(s.dead_by, v.scan);
        const bool live = !s.live || film_.truth(*s.live, film_.at(v.scan));
        if (s.live && !speaks_of_modes_only(*s.live) && live == gives) out = truth(*s.live, v.scan);
        if (!s.field || (!gives && !live)) return out;
        if (gives && there(s.excited_by, v.scan)) return of_faults(s.excited_by, v.scan);
        const std::string name = s.name + ".field";
        if (v.scan == 0) return one(name + " was not fed before the first scan");
        const long then = v.scan - 1;  // it counts one scan later
        out.push_back({name + (gives ? " fed" : " not fed") + when(then), {}});
        const Deeper deeper(told_);
        if (!told_.budget_exhausted() && told_.fields.emplace(source, gives).second)
            out.back().because = ask_.probe(s.field, then);
        return out;
    }

    List what_is_open(NodeId node, Sign sign, BranchId without, const WiringView& v) {
        auto g = gap(m_.circuit, v.flow, v.live, node, sign, without, false);
        if (!g) g = gap(m_.circuit, v.flow, v.live, node, sign, without, true);
        if (!g) return one(std::string("nothing connects it to ") + (sign == Sign::plus ? "plus" : "ground"));
        List out;
        const auto add = [&](List more) {
            for (auto& r : more) {
                told_.open.insert(r.text);
                // One fault may open several pieces of a wire.
                const auto same = [&r](const Reason& other) { return other.text == r.text; };
                if (std::none_of(out.begin(), out.end(), same)) out.push_back(std::move(r));
            }
        };
        if (g->gives_nothing)
            add(one(source_words(g->source, v) + " supplies nothing", why_source(g->source, false, v)));
        for (const BranchId b : g->ungrounded) add(opened(b, v));
        for (const BranchId b : g->in_the_way) add(opened(b, v));
        return out;
    }

    List opened(BranchId branch, const WiringView& v) {
        if (!v.flow.closed(branch)) return switched(branch, v);
        return {blown(branch, v)};
    }

    // All fuses of the short, since any of them may be the one.
    Reason blown(BranchId fuse, const WiringView& v) {
        const auto loop = v.flow.short_through(fuse);
        std::vector<std::string> names;
        for (const BranchId b : loop ? loop->branches : std::vector<BranchId>{fuse}) {
            if (!v.flow.may_blow(b)) continue;
            told_.shorts.insert({v.scan, b});
            names.push_back(m_.circuit.branches[b].name);
        }
        Reason r{joined(names, " or ") + (v.flow.blows(fuse) ? " blows: a short" : " may blow: a short"), {}};
        if (loop) round(*loop, v, r.because);
        return r;
    }

    // Why something on the way conducts or not.
    List switched(BranchId branch, const WiringView& v) {
        const Branch& b = m_.circuit.branches[branch];
        const bool closed = v.flow.closed(branch);
        List broken = of_faults(closed ? b.closed_by : b.opened_by, v.scan);
        if (broken.empty() && !closed) broken = of_faults(b.bounced_by, v.scan);
        if (!broken.empty()) return broken;
        const std::string state = b.name + (closed ? " closed" : " open");
        if (b.kind == BranchKind::pole) {
            const SignalId id = m_.switches[b.index].position;
            if (!closed && on(id, v.scan) == b.makes)
                return one(state + ": between its two positions", {signal(id, v.scan)});
            return b.name == m_.name_of(id) ? List{signal(id, v.scan)} : one(state, {signal(id, v.scan)});
        }
        if (b.kind == BranchKind::contact) {
            const SignalId id = m_.relays[b.index].contact;
            const long then = v.look == sim::Look::rest ? v.scan : v.scan - 1;
            if (then < 0) return one(state + " before the first scan");
            if (!closed && on(id, then) == b.makes) return one(state + ": between its two positions" + when(then));
            return b.makes ? List{signal(id, then)} : one(state, {signal(id, then)});
        }
        if (b.kind == BranchKind::output) {
            const SignalId id = m_.outputs[b.index].signal;
            const long then = v.look == sim::Look::before_controller ? v.scan - 1 : v.scan;
            if (then < 0) return one(m_.name_of(id) + " off before the first scan");
            return {signal(id, then)};
        }
        return {};
    }
};

}  // namespace

std::vector<Reason> why_fed(const Walker& w, const PowerEnds& ends, BranchId without, const std::string& name,
                            const WiringView& v) {
    return PowerWalker{w}.fed(ends, without, name, v);
}

}  // namespace lanyard::report
