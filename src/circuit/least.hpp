// The least solution of Boolean equations x_n = own_n or OR_m (c_mn and x_m), over any terms that have "and" and "or".
//
// What it decides: where plus or ground gets to, for all positions of what switches at once.
// Why it is sound: elimination of one unknown after the other is exact, whatever the order: in a Boolean algebra the
// star of any term is true, so that a node's own loop drops out (S. C. Kleene 1956; R. E. Tarjan, "A unified approach
// to path problems", J. ACM 28, 1981). The order is that of the fewest neighbours, which keeps the terms of tree-like
// wiring as small as the wiring.
// Tested by: tests/circuit/levels_test.cpp
#pragma once

#include <map>
#include <vector>

#include "base/ids.hpp"

namespace lanyard::circuit {

// Gates: Term constant(bool), both(a, b), either(a, b), negation(a); bool is(a, bool) for constants.
// Unknown: what there is an x for.
template <class Gates, class Unknown>
class LeastSolution {
 public:
    using Term = typename Gates::Term;
    using Terms = Indexed<Unknown, Term>;

    LeastSolution(Gates& gates, Terms own) : g_(gates), own_(std::move(own)), from_(like(own_)), to_(like(own_)) {}

    // x_to also holds where x_from does and `how`.
    void add(Id<Unknown> from, Id<Unknown> to, const Term& how) {
        if (from == to || g_.is(how, false) || g_.is(own_[to], true)) return;
        const auto [place, is_new] = from_[to].emplace(from, how);
        if (!is_new) place->second = g_.either(place->second, how);
        to_[from].emplace(to, true);
    }

    Terms solve() && {
        std::vector<Id<Unknown>> order;
        Indexed<Unknown, bool> gone(like(own_));
        while (order.size() < own_.size()) {
            Id<Unknown> best;
            std::size_t least = 0;
            for (const Id<Unknown> n : own_.ids()) {
                const std::size_t work = from_[n].size() * to_[n].size();
                if (gone[n] || (best && work >= least)) continue;
                best = n;
                least = work;
            }
            eliminate(best);
            gone[best] = true;
            order.push_back(best);
        }
        for (auto n = order.rbegin(); n != order.rend(); ++n)
            for (const auto& [m, how] : from_[*n]) own_[*n] = g_.either(own_[*n], g_.both(how, own_[m]));
        return std::move(own_);
    }

 private:
    // What n is made of stays, for the way back; nothing that is still there refers to it any more.
    void eliminate(Id<Unknown> n) {
        for (const auto& [m, unused] : from_[n]) to_[m].erase(n);
        for (const auto& [next, unused] : to_[n]) {
            const auto found = from_[next].find(n);
            if (found == from_[next].end()) continue;
            const Term how = found->second;
            from_[next].erase(found);
            own_[next] = g_.either(own_[next], g_.both(how, own_[n]));
            for (const auto& [m, first] : from_[n]) add(m, next, g_.both(first, how));
        }
        to_[n].clear();
    }

    Gates& g_;
    Terms own_;
    Indexed<Unknown, std::map<Id<Unknown>, Term>> from_;
    Indexed<Unknown, std::map<Id<Unknown>, bool>> to_;
};

}  // namespace lanyard::circuit
