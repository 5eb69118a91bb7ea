// Ways of power: over what plus and ground come, written as a wire is written in the model; or what is in their way.
#include <algorithm>

#include "base/slot.hpp"
#include "circuit/gap.hpp"
#include "report/explainer.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

// A live source that says so by the engine's mode alone.
bool speaks_of_modes_only(const Expr& e) {
    if (e.op == Op::or_ || e.op == Op::and_ || e.op == Op::not_)
        return std::all_of(e.args.begin(), e.args.end(), [](const ExprPtr& a) { return speaks_of_modes_only(*a); });
    return (e.op == Op::eq || e.op == Op::ne) && e.args[0]->type.kind == TypeKind::mode;
}

}  // namespace

// Names of ends have a point in them.
bool Explainer::is_splice(int node) const {
    return node > 0 && m_.circuit.nodes[slot(node)].name.find('.') == std::string::npos;
}

std::vector<Reason> Explainer::why_fed(const Ends& e, int without, const std::string& name, const View& v) {
    const auto sure = [&](int node, Sign s) { return node < 0 || v.flow.has(node, s); };
    const auto weak = [&](int node, Sign s) { return node < 0 || v.flow.weak_way(node, s, without).has_value(); };
    if (sure(e.plus, Sign::plus) && sure(e.minus, Sign::ground)) return {way(e, without, name, true, v)};
    const bool plus = weak(e.plus, Sign::plus), ground = weak(e.minus, Sign::ground);
    if (plus && ground) {
        for (const int node : {e.plus, e.minus})
            if (node >= 0 && v.flow.in_doubt(node)) return {short_at(node, v)};
        return {way(e, without, name, false, v)};
    }
    List out;
    if (!plus) out = what_is_open(e.plus, Sign::plus, without, v);
    if (!ground)
        for (auto& r : what_is_open(e.minus, Sign::ground, without, v)) out.push_back(std::move(r));
    return out;
}

// "alternator (engine running) - bus - ign - coil - coils": poles, contacts, outputs, splices. A way that begins like
// one that has been told begins where they part.
Reason Explainer::way(const Ends& e, int without, const std::string& name, bool sure, const View& v) {
    const auto find = [&](int node, Sign s) { return sure ? v.flow.way(node, s) : v.flow.weak_way(node, s, without); };
    ++depth_;
    ++count_;
    std::vector<std::string> items;
    Reason r;
    if (e.plus >= 0) along(*find(e.plus, Sign::plus), Sign::plus, v, items, r.because);
    if (items.empty() || items.back() != name) items.push_back(name);
    if (e.minus >= 0) {
        std::vector<std::string> back;
        along(*find(e.minus, Sign::ground), Sign::ground, v, back, r.because);
        if (e.plus < 0) items.clear();
        const bool told = e.plus < 0 || back.size() > 1;
        if (told && e.plus >= 0) std::reverse(back.begin(), back.end());
        if (told) items.insert(items.end(), back.begin(), back.end());
        if (e.plus < 0 && items.back() != name) items.push_back(name);
    }
    --depth_;
    r.text = joined(items, " - ") + (sure ? "" : " (weak: may or may not work)");
    return r;
}

// Where a dead short meets what hangs on it: a splice on the short's way, the nearest to its middle that has a name.
Reason Explainer::short_at(int node, const View& v) {
    const auto loop = v.flow.dead_short(node);
    if (!loop) return {"a short (may or may not work)", {}};
    int at = loop->begin, meet = -1;
    for (const int b : loop->branches) {
        at = other_end(m_.circuit.branches[slot(b)], at);
        if (is_splice(at) && (meet < 0 || at == node)) meet = at;
    }
    if (meet < 0) meet = node > 0 ? node : loop->begin;
    Reason r{"plus and ground meet at " + m_.circuit.nodes[slot(meet)].name + " (may or may not work)", {}};
    round(*loop, v, r.because);
    return r;
}

void Explainer::round(const Way& loop, const View& v, List& because) {
    std::vector<std::string> unused;
    along(loop, Sign::plus, v, unused, because);
}

void Explainer::along(const Way& w, Sign sign, const View& v, std::vector<std::string>& items, List& because) {
    const auto& branches = m_.circuit.branches;
    int node = w.begin;
    std::vector<int> nodes{node};
    for (const int b : w.branches) nodes.push_back(node = other_end(branches[slot(b)], node));
    std::size_t from = 0;
    for (std::size_t k = 1; k < nodes.size(); ++k)
        if (sign == Sign::plus && is_splice(nodes[k]) && told_nodes_.contains({v.scan, nodes[k]})) from = k;
    if (from > 0) {
        items.push_back(m_.circuit.nodes[slot(nodes[from])].name);
    } else if (sign == Sign::ground || w.source < 0) {  // without a source: it goes on from one in series
        items.push_back(m_.circuit.nodes[slot(w.begin)].name);
    } else {
        items.push_back(source_words(w.source, v));
        for (auto& r : why_source(w.source, true, v)) because.push_back(std::move(r));
    }
    for (std::size_t k = from; k < w.branches.size(); ++k) {
        const Branch& b = branches[slot(w.branches[k])];
        const bool passive = b.kind == BranchKind::wire || b.kind == BranchKind::fuse ||
                             b.kind == BranchKind::terminal || b.kind == BranchKind::diode;
        if (!passive && items.back() != b.name) items.push_back(b.name);
        for (auto& r : switched(w.branches[k], v)) because.push_back(std::move(r));
        if (v.flow.may_blow(w.branches[k]) && told_shorts_.insert({v.scan, w.branches[k]}).second)
            because.push_back(blown(w.branches[k], v));
        const int there = nodes[k + 1];
        const std::string& name = m_.circuit.nodes[slot(there)].name;
        if (is_splice(there) && items.back() != name) items.push_back(name);
        if (sign == Sign::plus && is_splice(there)) told_nodes_.insert({v.scan, there});
    }
}

std::string Explainer::source_words(int source, const View& v) const {
    const Source& s = m_.circuit.sources[slot(source)];
    if (!s.live || !speaks_of_modes_only(*s.live)) return s.name;
    return s.name + " (" + state_words(m_, m_.mode, report::at(film_.at(v.scan).signals, m_.mode)) + ")";
}

std::vector<Reason> Explainer::why_source(int source, bool gives, const View& v) {
    const Source& s = m_.circuit.sources[slot(source)];
    List out;
    if (!gives && there(s.dead_by, v.scan)) return of_faults(s.dead_by, v.scan);
    const bool live = !s.live || film_.truth(*s.live, film_.at(v.scan));
    if (s.live && !speaks_of_modes_only(*s.live) && live == gives) out = truth(*s.live, v.scan);
    if (s.field < 0 || (!gives && !live)) return out;
    if (gives && there(s.excited_by, v.scan)) return of_faults(s.excited_by, v.scan);
    const std::string name = s.name + ".field";
    if (v.scan == 0) return one(name + " was not fed before the first scan");
    const long then = v.scan - 1;  // it counts one scan later
    out.push_back({name + (gives ? " fed" : " not fed") + when(then), {}});
    ++depth_;
    ++count_;
    if (!tired() && told_fields_.emplace(source, gives).second) out.back().because = why_probe(s.field, then);
    --depth_;
    return out;
}

std::vector<Reason> Explainer::what_is_open(int node, Sign sign, int without, const View& v) {
    auto g = gap(m_.circuit, v.flow, v.live, node, sign, without, false);
    if (!g) g = gap(m_.circuit, v.flow, v.live, node, sign, without, true);
    if (!g) return one(std::string("nothing connects it to ") + (sign == Sign::plus ? "plus" : "ground"));
    List out;
    const auto add = [&](List more) {
        for (auto& r : more) {
            told_open_.insert(r.text);
            // One fault may open several pieces of a wire.
            const auto same = [&r](const Reason& other) { return other.text == r.text; };
            if (std::none_of(out.begin(), out.end(), same)) out.push_back(std::move(r));
        }
    };
    if (g->gives_nothing) add(one(source_words(g->source, v) + " supplies nothing", why_source(g->source, false, v)));
    for (const int b : g->ungrounded) add(opened(b, v));
    for (const int b : g->in_the_way) add(opened(b, v));
    return out;
}

std::vector<Reason> Explainer::opened(int branch, const View& v) {
    if (!v.flow.closed(branch)) return switched(branch, v);
    return {blown(branch, v)};
}

// All fuses of the short, since any of them may be the one.
Reason Explainer::blown(int fuse, const View& v) {
    const auto loop = v.flow.short_through(fuse);
    std::vector<std::string> names;
    for (const int b : loop ? loop->branches : std::vector<int>{fuse}) {
        if (!v.flow.may_blow(b)) continue;
        told_shorts_.insert({v.scan, b});
        names.push_back(m_.circuit.branches[slot(b)].name);
    }
    Reason r{joined(names, " or ") + (v.flow.blows(fuse) ? " blows: a short" : " may blow: a short"), {}};
    if (loop) round(*loop, v, r.because);
    return r;
}

// Why something on the way conducts or not.
std::vector<Reason> Explainer::switched(int branch, const View& v) {
    const Branch& b = m_.circuit.branches[slot(branch)];
    const bool closed = v.flow.closed(branch);
    List broken = of_faults(closed ? b.closed_by : b.opened_by, v.scan);
    if (broken.empty() && !closed) broken = of_faults(b.bounced_by, v.scan);
    if (!broken.empty()) return broken;
    const std::string state = b.name + (closed ? " closed" : " open");
    if (b.kind == BranchKind::pole) {
        const SignalId id = m_.switches[slot(b.index)].position;
        if (!closed && on(id, v.scan) == b.makes)
            return one(state + ": between its two positions", {signal(id, v.scan)});
        return b.name == m_.name_of(id) ? List{signal(id, v.scan)} : one(state, {signal(id, v.scan)});
    }
    if (b.kind == BranchKind::contact) {
        const SignalId id = m_.relays[slot(b.index)].contact;
        const long then = v.look == sim::Look::rest ? v.scan : v.scan - 1;
        if (then < 0) return one(state + " before the first scan");
        if (!closed && on(id, then) == b.makes) return one(state + ": between its two positions" + when(then));
        return b.makes ? List{signal(id, then)} : one(state, {signal(id, then)});
    }
    if (b.kind == BranchKind::output) {
        const SignalId id = m_.outputs[slot(b.index)].signal;
        const long then = v.look == sim::Look::before_controller ? v.scan - 1 : v.scan;
        if (then < 0) return one(m_.name_of(id) + " off before the first scan");
        return {signal(id, then)};
    }
    return {};
}

}  // namespace lanyard::report
