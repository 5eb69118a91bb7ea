#include "certify/closed_set.hpp"

#include <algorithm>

#include "certify/obligations.hpp"
#include "sim/interpreter.hpp"

namespace lanyard::certify {

Run in_steps(const Model& m, const Question& q, const Run& run) {
    Run out;
    Interpreter now(m, q.condition, q.claim);
    Indexed<Signal, Value> before;
    bool quiet = false;
    play(now, run, [&](const Choices& c, const Scan& shows) {
        const bool same = shows.signals == before;
        if (quiet && same && out.segments.back().first == c) {
            ++out.segments.back().scans;
        } else {
            Segment one;
            one.first = c;
            out.segments.push_back(std::move(one));
        }
        quiet = same;
        before = shows.signals;
        return true;
    });
    return out;
}

bool lies_inside(const Question& here, const Certificate& closed) {
    z3::context context;
    const System s = system_of(context, here, true);
    const auto lemmas = parse_lemmas(s, closed.lemmas);
    if (!lemmas) return false;
    z3::expr_vector names(context), values(context);
    for (const auto& v : s.state) {
        names.push_back(v.cur);
        values.push_back(v.init);
    }
    return std::all_of(lemmas->begin(), lemmas->end(),
                       [&](z3::expr lemma) { return lemma.substitute(names, values).simplify().is_true(); });
}

}  // namespace lanyard::certify
