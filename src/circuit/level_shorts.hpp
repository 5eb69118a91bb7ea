// The part of circuit/levels.hpp that says how plus and ground spread, and where they are short. Included by it alone.
#pragma once

#include "circuit/levels.hpp"

namespace lanyard {

template <class Gates>
template <class Entry>
typename Levels<Gates>::Level Levels<Gates>::spread(Level has, Sign sign, const Level& conducts, Sources sources,
                                                    const Entry& entry) {
    LeastSolution<Gates> system(g_, std::move(has));
    for (std::size_t i = 0; i < circuit_.branches.size(); ++i) {
        const Branch& b = circuit_.branches[i];
        if (g_.is(conducts[i], false)) continue;
        const auto pass = [&](int here, int there) {
            const Term backwards = passes_diode(b, here, sign) ? g_.constant(true) : any(b.closed_by);
            system.add(slot(here), slot(there),
                       g_.both(g_.both(conducts[i], backwards), entry(static_cast<int>(i), there)));
        };
        pass(b.from, b.to);
        pass(b.to, b.from);
    }
    if (sources == Sources::stop) return std::move(system).solve();
    for_each_passage(circuit_, sign, [&](std::size_t s, int here, int there, bool upwards) {
        if (sources == Sources::sure && !upwards) return;
        const Term passes = sources == Sources::sure ? but_not(alive_[s], dead_[s]) : g_.constant(true);
        system.add(slot(here), slot(there), g_.both(passes, entry(-1, there)));
    });
    return std::move(system).solve();
}

template <class Gates>
template <class Counts>
typename Levels<Gates>::Level Levels<Gates>::heights(int root, Sign sign, const Counts& counts) {
    Level own(heights_ * circuit_.nodes.size(), none());
    if (sign == Sign::ground)
        for (std::size_t h = 0; h < heights_; ++h) own[at_height(h, root)] = g_.constant(true);
    for (std::size_t s = 0; sign == Sign::plus && s < circuit_.sources.size(); ++s)
        if (circuit_.sources[s].minus == root) {
            Term& to = own[slot(circuit_.sources[s].plus)];
            to = g_.either(to, alive_[s]);
        }
    LeastSolution<Gates> system(g_, std::move(own));
    const auto add = [&](std::size_t from, int here, std::size_t to, int there, const Term& how) {
        if (sign == Sign::plus && there == root) return;
        system.add(at_height(from, here), at_height(to, there), how);
    };
    for (std::size_t h = 0; h < heights_; ++h) {
        for (std::size_t i = 0; i < circuit_.branches.size(); ++i) {
            const Branch& b = circuit_.branches[i];
            if (is_consumer(b) || !counts(i) || g_.is(conducts_[i], false)) continue;
            for (const auto& [here, there] : {std::pair(b.from, b.to), std::pair(b.to, b.from)}) {
                const Term backwards = passes_diode(b, here, sign) ? g_.constant(true) : any(b.closed_by);
                add(h, here, h, there, g_.both(conducts_[i], backwards));
            }
        }
        if (!in_series()) continue;
        for_each_passage(circuit_, sign, [&](std::size_t, int here, int there, bool upwards) {
            for (const std::size_t next : heights_after(h, heights_, sign, upwards))
                add(h, here, next, there, g_.constant(true));
        });
    }
    return std::move(system).solve();
}

template <class Gates>
bool Levels<Gates>::on_a_short(std::size_t fuse, int root) {
    const auto reach = [&](Sign sign) {
        NodeSet has(circuit_.nodes.size());
        if (sign == Sign::ground) has[slot(root)] = true;
        for (std::size_t s = 0; s < circuit_.sources.size(); ++s)
            if (sign == Sign::plus && circuit_.sources[s].minus == root && !g_.is(alive_[s], false))
                has[slot(circuit_.sources[s].plus)] = true;
        for (bool more = true; more;) {
            lanyard::spread(circuit_, circuit_.at, has, [&](int b, int here, int there) {
                const std::size_t i = slot(b);
                if (i == fuse || !is_copper(i) || g_.is(conducts_[i], false)) return false;
                if (sign == Sign::plus && there == root) return false;
                return passes_diode(branch(i), here, sign) || !g_.is(any(branch(i).closed_by), false);
            });
            more = false;
            if (!in_series()) break;
            for_each_passage(circuit_, sign, [&](std::size_t, int here, int there, bool) {
                if (!has[slot(here)] || has[slot(there)] || (sign == Sign::plus && there == root)) return;
                has[slot(there)] = more = true;
            });
        }
        return has;
    };
    const NodeSet plus = reach(Sign::plus), ground = reach(Sign::ground);
    const Branch& f = branch(fuse);
    return (plus[slot(f.from)] && ground[slot(f.to)]) || (plus[slot(f.to)] && ground[slot(f.from)]);
}

template <class Gates>
void Levels<Gates>::find_shorts() {
    dead_.assign(alive_.size(), none());
    sure_ = maybe_ = conducts_;
    for (const int root : roots_) {
        const Level leads_back = heights(root, Sign::ground, [&](std::size_t b) { return !is_fuse(b); });
        for (std::size_t s = 0; s < dead_.size(); ++s)
            if (circuit_.sources[s].minus == root)
                dead_[s] = g_.both(alive_[s], leads_back[at_height(0, circuit_.sources[s].plus)]);
    }
    for (const Term& d : dead_) dead_short_ = g_.either(dead_short_, d);
    for (std::size_t b = 0; b < conducts_.size(); ++b) {
        if (is_consumer(branch(b))) sure_[b] = none();
        if (is_fuse(b)) judge_fuse(b);
    }
}

template <class Gates>
void Levels<Gates>::judge_fuse(std::size_t fuse) {
    const Branch& f = branch(fuse);
    const auto meets = [&](std::size_t most, const Level& plus, const Level& ground) {
        Term found = none();
        for (std::size_t h = 0; h < most; ++h)
            for (const auto& [from, to] : {std::pair(f.from, f.to), std::pair(f.to, f.from)})
                found = g_.either(found, g_.both(plus[at_height(h, from)], ground[at_height(h, to)]));
        return found;
    };
    Term may_blow = none(), blows = none();
    for (const int root : roots_) {
        if (!on_a_short(fuse, root)) continue;
        const auto others = [&](std::size_t b) { return b != fuse; };
        may_blow = g_.either(may_blow,
                             meets(heights_, heights(root, Sign::plus, others), heights(root, Sign::ground, others)));
        const auto bare = [&](int b, int) { return g_.constant(is_copper(slot(b)) && !is_fuse(slot(b))); };
        Level plus = level(), ground = level();
        for (std::size_t s = 0; s < alive_.size(); ++s)
            if (circuit_.sources[s].minus == root)
                plus[slot(circuit_.sources[s].plus)] = g_.either(plus[slot(circuit_.sources[s].plus)], alive_[s]);
        ground[slot(root)] = g_.constant(true);
        blows = g_.either(blows, meets(1, spread(std::move(plus), Sign::plus, conducts_, Sources::stop, bare),
                                       spread(std::move(ground), Sign::ground, conducts_, Sources::stop, bare)));
    }
    sure_[fuse] = but_not(conducts_[fuse], may_blow);
    maybe_[fuse] = but_not(conducts_[fuse], but_not(blows, dead_short_));
}

}  // namespace lanyard
