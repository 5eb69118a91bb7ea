// What it decides: whether every leap of the encoding is a run of single scans with the same outputs and the same end.
//
// Why it is sound: induction over k. The query below asks for a legal step of k >= 2 scans that is not one legal scan
// followed by a legal step of k - 1 scans with the same signals, the same next state; unsatisfiable means there is
// none. A quantity that moves has a straight path; where it stands after the first scan is any value between its
// ends that its slopes allow on both sides, and the straight path is one of those. Where several move, the numbers made
// of them that are compared, remembered or looked up are kept between their ends as well.
//
// When it gives up: when the solver does; then leaps are not used.
#include "encode/leap.hpp"

namespace lanyard {

LeapLemma leap_lemma(const System& s, std::uint64_t budget) {
    z3::context& ctx = *s.ctx;
    const Renaming whole(s, "whole"), first(s, "first"), rest(s, "rest");
    Solver solver(ctx);
    solver.add(whole(s.all_rules()));
    solver.add(whole.k() >= 2);
    solver.add(first.k() == 1);
    solver.add(rest.k() == whole.k() - 1);
    // The definitions of named signals hold everywhere; rules are what has to be shown.
    for (const auto& d : s.definitions) {
        solver.add(first(d.constant == d.value));
        solver.add(rest(d.constant == d.value));
    }
    std::vector<bool> moves(s.inputs.size(), false);
    for (std::size_t i = 0; i < s.moving.size(); ++i) {
        const auto [begin, end] = s.moving[i];
        moves[begin] = moves[end] = true;
        const z3::expr a = whole.input(begin), b = whole.input(end), next = rest.input(begin);
        solver.add(first.input(begin) == a && first.input(end) == a && rest.input(end) == b);
        solver.add((a <= next && next <= b) || (b <= next && next <= a));
        for (const auto& slope : s.slopes) {
            if (slope.moving != i) continue;
            const z3::expr more = z3::to_real(whole.k() - 2);
            solver.add(z3::implies(whole(slope.guard), next - a >= slope.lo && next - a <= slope.hi &&
                                                           b - next >= slope.lo * more && b - next <= slope.hi * more));
        }
    }
    // Several that move are all the same part of their ways along, which is no linear rule; but then so is every number
    // that is linear in them, and that is what counts.
    if (s.moving.size() > 1)
        for (const auto& p : s.paths) {
            const z3::expr a = whole(p.first), b = whole(p.last), next = rest(p.first);
            solver.add((a <= next && next <= b) || (b <= next && next <= a));
        }
    // A reading keeps its error while its quantity moves.
    for (const auto& [reading, quantity] : s.followers) {
        const std::size_t begin = s.moving[quantity].first;
        moves[reading] = true;
        solver.add(first.input(reading) == whole.input(reading));
        solver.add(rest.input(reading) - rest.input(begin) == whole.input(reading) - whole.input(begin));
    }
    for (std::size_t i = 0; i < s.inputs.size(); ++i) {
        if (moves[i]) continue;
        solver.add(first.input(i) == whole.input(i) && rest.input(i) == whole.input(i));
    }
    z3::expr_vector same(ctx);
    for (std::size_t i = 0; i < s.state.size(); ++i) {
        solver.add(first.state(i) == whole.state(i));
        solver.add(rest.state(i) == first(s.state[i].next));
        same.push_back(rest(s.state[i].next) == whole(s.state[i].next));
    }
    for (const auto& o : s.outputs) {
        same.push_back(first(o) == whole(o));
        same.push_back(rest(o) == whole(o));
    }
    for (const auto& r : s.rules) {
        same.push_back(first(r.holds));
        same.push_back(rest(r.holds));
    }
    solver.add(!all_of(same));
    switch (solver.check({}, budget)) {
        case Answer::unsatisfiable:
            return LeapLemma::holds;
        case Answer::satisfiable:
            return LeapLemma::refuted;
        case Answer::unknown:
            break;
    }
    return LeapLemma::unknown;
}

}  // namespace lanyard
