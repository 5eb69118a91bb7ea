// The part of circuit/levels.hpp that says how plus and ground spread, and where they are short. Included by it alone.
#pragma once

#include "circuit/levels.hpp"

namespace lanyard::circuit {

template <class Gates>
template <class Entry>
typename Levels<Gates>::Level Levels<Gates>::spread(Level has, Sign sign, const Indexed<Branch, Term>& conducts,
                                                    Sources sources, const Entry& entry) {
    LeastSolution<Gates, Node> system(g_, std::move(has));
    for (const BranchId i : circuit_.branches.ids()) {
        const Branch& b = circuit_.branches[i];
        if (g_.is(conducts[i], false)) continue;
        const auto pass = [&](NodeId here, NodeId there) {
            const Term backwards = passes_diode(b, here, sign) ? g_.constant(true) : any(b.closed_by);
            system.add(here, there, g_.both(g_.both(conducts[i], backwards), entry(i, there)));
        };
        pass(b.from, b.to);
        pass(b.to, b.from);
    }
    if (sources == Sources::stop) return std::move(system).solve();
    for_each_passage(circuit_, sign, [&](SourceId s, NodeId here, NodeId there, bool upwards) {
        if (sources == Sources::sure && !upwards) return;
        const Term passes = sources == Sources::sure ? but_not(alive_[s], dead_[s]) : g_.constant(true);
        system.add(here, there, g_.both(passes, entry({}, there)));
    });
    return std::move(system).solve();
}

template <class Gates>
template <class Counts>
typename Levels<Gates>::Heights Levels<Gates>::heights(NodeId root, Sign sign, const Counts& counts) {
    Heights own(heights_ * circuit_.nodes.size(), none());
    if (sign == Sign::ground)
        for (std::size_t h = 0; h < heights_; ++h) own[at_height(h, root)] = g_.constant(true);
    for (const SourceId s : circuit_.sources.ids())
        if (sign == Sign::plus && circuit_.sources[s].minus == root) {
            Term& to = own[at_height(0, circuit_.sources[s].plus)];
            to = g_.either(to, alive_[s]);
        }
    LeastSolution<Gates, Raised> system(g_, std::move(own));
    const auto add = [&](std::size_t from, NodeId here, std::size_t to, NodeId there, const Term& how) {
        if (sign == Sign::plus && there == root) return;
        system.add(at_height(from, here), at_height(to, there), how);
    };
    for (std::size_t h = 0; h < heights_; ++h) {
        for (const BranchId i : circuit_.branches.ids()) {
            const Branch& b = circuit_.branches[i];
            if (is_consumer(b) || !counts(i) || g_.is(conducts_[i], false)) continue;
            for (const auto& [here, there] : {std::pair(b.from, b.to), std::pair(b.to, b.from)}) {
                const Term backwards = passes_diode(b, here, sign) ? g_.constant(true) : any(b.closed_by);
                add(h, here, h, there, g_.both(conducts_[i], backwards));
            }
        }
        if (!in_series()) continue;
        for_each_passage(circuit_, sign, [&](SourceId, NodeId here, NodeId there, bool upwards) {
            for (const std::size_t next : heights_after(h, heights_, sign, upwards))
                add(h, here, next, there, g_.constant(true));
        });
    }
    return std::move(system).solve();
}

template <class Gates>
bool Levels<Gates>::on_a_short(BranchId fuse, NodeId root) {
    const auto reach = [&](Sign sign) {
        NodeSet has(like(circuit_.nodes));
        if (sign == Sign::ground) has[root] = true;
        for (const SourceId s : circuit_.sources.ids())
            if (sign == Sign::plus && circuit_.sources[s].minus == root && !g_.is(alive_[s], false))
                has[circuit_.sources[s].plus] = true;
        for (bool more = true; more;) {
            lanyard::circuit::spread(circuit_, has, [&](BranchId b, NodeId here, NodeId there) {
                if (b == fuse || !is_copper(b) || g_.is(conducts_[b], false)) return false;
                if (sign == Sign::plus && there == root) return false;
                return passes_diode(branch(b), here, sign) || !g_.is(any(branch(b).closed_by), false);
            });
            more = false;
            if (!in_series()) break;
            for_each_passage(circuit_, sign, [&](SourceId, NodeId here, NodeId there, bool) {
                if (!has[here] || has[there] || (sign == Sign::plus && there == root)) return;
                has[there] = more = true;
            });
        }
        return has;
    };
    const NodeSet plus = reach(Sign::plus), ground = reach(Sign::ground);
    const Branch& f = branch(fuse);
    return (plus[f.from] && ground[f.to]) || (plus[f.to] && ground[f.from]);
}

template <class Gates>
void Levels<Gates>::find_shorts() {
    dead_ = Indexed<Source, Term>(alive_.size(), none());
    sure_ = maybe_ = conducts_;
    for (const NodeId root : roots_) {
        const Heights leads_back = heights(root, Sign::ground, [&](BranchId b) { return !is_fuse(b); });
        for (const SourceId s : dead_.ids())
            if (circuit_.sources[s].minus == root)
                dead_[s] = g_.both(alive_[s], leads_back[at_height(0, circuit_.sources[s].plus)]);
    }
    for (const Term& d : dead_) dead_short_ = g_.either(dead_short_, d);
    for (const BranchId b : conducts_.ids()) {
        if (is_consumer(branch(b))) sure_[b] = none();
        if (is_fuse(b)) judge_fuse(b);
    }
}

template <class Gates>
void Levels<Gates>::judge_fuse(BranchId fuse) {
    const Branch& f = branch(fuse);
    const auto meets = [&](std::size_t most, const auto& plus, const auto& ground, const auto& at) {
        Term found = none();
        for (std::size_t h = 0; h < most; ++h)
            for (const auto& [from, to] : {std::pair(f.from, f.to), std::pair(f.to, f.from)})
                found = g_.either(found, g_.both(plus[at(h, from)], ground[at(h, to)]));
        return found;
    };
    Term may_blow = none(), blows = none();
    for (const NodeId root : roots_) {
        if (!on_a_short(fuse, root)) continue;
        const auto others = [&](BranchId b) { return b != fuse; };
        may_blow =
            g_.either(may_blow, meets(heights_, heights(root, Sign::plus, others), heights(root, Sign::ground, others),
                                      [this](std::size_t h, NodeId node) { return at_height(h, node); }));
        const auto bare = [&](BranchId b, NodeId) { return g_.constant(is_copper(b) && !is_fuse(b)); };
        Level plus = level(), ground = level();
        for (const SourceId s : alive_.ids())
            if (circuit_.sources[s].minus == root)
                plus[circuit_.sources[s].plus] = g_.either(plus[circuit_.sources[s].plus], alive_[s]);
        ground[root] = g_.constant(true);
        blows = g_.either(blows, meets(1, spread(std::move(plus), Sign::plus, conducts_, Sources::stop, bare),
                                       spread(std::move(ground), Sign::ground, conducts_, Sources::stop, bare),
                                       [](std::size_t, NodeId node) { return node; }));
    }
    sure_[fuse] = but_not(conducts_[fuse], may_blow);
    maybe_[fuse] = but_not(conducts_[fuse], but_not(blows, dead_short_));
}

}  // namespace lanyard::circuit
