// The least solution of Boolean equations x_n = own_n or OR_m (c_mn and x_m), as formulas (encode/wiring.cpp).
#pragma once

#include <map>
#include <vector>

#include "encode/folded.hpp"

namespace lanyard {

class LeastSolution {
 public:
    explicit LeastSolution(std::vector<z3::expr> own) : own_(std::move(own)), from_(own_.size()), to_(own_.size()) {}

    // x_to also holds where x_from does and `how`.
    void add(std::size_t from, std::size_t to, const z3::expr& how) {
        if (from == to || how.is_false() || own_[to].is_true()) return;
        const auto [place, is_new] = from_[to].emplace(from, how);
        if (!is_new) place->second = folded_or(place->second, how);
        to_[from].emplace(to, true);
    }

    std::vector<z3::expr> solve() && {
        std::vector<std::size_t> order;
        std::vector<bool> gone(own_.size());
        while (order.size() < own_.size()) {
            std::size_t best = own_.size(), least = 0;
            for (std::size_t n = 0; n < own_.size(); ++n) {
                const std::size_t work = from_[n].size() * to_[n].size();
                if (!gone[n] && (best == own_.size() || work < least)) {
                    best = n;
                    least = work;
                }
            }
            eliminate(best);
            gone[best] = true;
            order.push_back(best);
        }
        for (auto n = order.rbegin(); n != order.rend(); ++n)
            for (const auto& [m, how] : from_[*n]) own_[*n] = folded_or(own_[*n], folded_and(how, own_[m]));
        return std::move(own_);
    }

 private:
    // What n is made of stays, for the way back; nothing that is still there refers to it any more.
    void eliminate(std::size_t n) {
        for (const auto& [m, unused] : from_[n]) to_[m].erase(n);
        for (const auto& [next, unused] : to_[n]) {
            const auto found = from_[next].find(n);
            if (found == from_[next].end()) continue;
            const z3::expr how = found->second;
            from_[next].erase(found);
            own_[next] = folded_or(own_[next], folded_and(how, own_[n]));
            for (const auto& [m, first] : from_[n]) add(m, next, folded_and(first, how));
        }
        to_[n].clear();
    }

    std::vector<z3::expr> own_;
    std::vector<std::map<std::size_t, z3::expr>> from_;
    std::vector<std::map<std::size_t, bool>> to_;
};

}  // namespace lanyard
