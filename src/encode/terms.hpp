// Going through terms, which share what is equal.
#pragma once

#include <z3++.h>

#include <set>
#include <vector>

#include "base/layers.hpp"

namespace lanyard::encode {

// Calls f with each part of the term that is not in `seen` yet, by its number there, once; parents before their parts.
template <class F>
void each_part(const z3::expr& term, std::set<unsigned>& seen, const F& f) {
    std::vector<z3::expr> open{term};
    while (!open.empty()) {
        const z3::expr next = open.back();
        open.pop_back();
        if (!seen.insert(next.id()).second) continue;
        for (unsigned i = 0; i < next.num_args(); ++i) open.push_back(next.arg(i));
        f(next);
    }
}

}  // namespace lanyard::encode
