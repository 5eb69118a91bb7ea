// What it decides: whether every leap of the encoding is a run of single scans with the same outputs and the same end.
//
// Why it is sound: induction over k. What is shown is that a legal step of k >= 2 scans is one legal scan followed by a
// legal step of k - 1 scans with the same signals and the same next state. A quantity that moves has a straight path;
// where it stands after the first scan is any value between its ends that its slopes allow on both sides, and the
// straight path is one of those. Where several move, the numbers made of them that are compared, remembered or looked
// up are kept between their ends as well.
//
// How: the first scan and the rest are copies of the step, made from the leaves up. A truth of the copy that is shown
// to be that of the step is the step's own term from there on, and stands in further questions for itself, whatever is
// inside it; so each question is about one comparison and never about the formula as a whole (A. Kuehlmann, F. Krohm,
// "Equivalence checking using cuts and heaps", DAC 1997). Putting a term aside in this way only forgets what is known
// of it: what follows without that follows. What cannot be shown so is asked with everything.
//
// When it gives up: when the solver does; then leaps are not used.
// Tested by: tests/encode/lemma_test.cpp
#include "encode/leap.hpp"

#include <algorithm>
#include <map>

namespace lanyard::encode {

namespace {

// By the term's id; the terms are kept, so that ids stay taken.
class TermMap {
 public:
    const z3::expr* find(const z3::expr& e) const {
        const auto found = map_.find(e.id());
        return found == map_.end() ? nullptr : &found->second.second;
    }
    void put(const z3::expr& e, const z3::expr& to) { map_.insert_or_assign(e.id(), std::make_pair(e, to)); }

 private:
    std::map<unsigned, std::pair<z3::expr, z3::expr>> map_;
};

// Rebuilds a term from its leaves up, without recursion. `leaf(e)` is an answer for a term as it stands, or null;
// `made(e, arguments)` what becomes of it otherwise.
template <class Leaf, class Made>
z3::expr rebuilt(const z3::expr& e, TermMap& done, const Leaf& leaf, const Made& made) {
    std::vector<z3::expr> open{e};
    while (!open.empty()) {
        const z3::expr next = open.back();
        if (done.find(next)) {
            open.pop_back();
            continue;
        }
        if (const std::optional<z3::expr> as_is = leaf(next)) {
            done.put(next, *as_is);
            continue;
        }
        const std::size_t before = open.size();
        for (unsigned i = 0; i < next.num_args(); ++i)
            if (!done.find(next.arg(i))) open.push_back(next.arg(i));
        if (open.size() > before) continue;
        z3::expr_vector args(e.ctx());
        bool same = true;
        for (unsigned i = 0; i < next.num_args(); ++i) {
            args.push_back(*done.find(next.arg(i)));
            same = same && z3::eq(args.back(), next.arg(i));
        }
        done.put(next, same ? next : made(next, args));
    }
    return *done.find(e);
}

// A copy of the step in which some of its constants stand for something else, and the others for themselves.
class Copy {
 public:
    Copy(const System& s, const std::vector<z3::expr>& known, const std::string& suffix)
        : ctx_(*s.ctx), known_(known), suffix_(suffix) {
        for (const auto& d : s.definitions) put(d.constant, fresh(d.constant));
    }
    void put(const z3::expr& constant, const z3::expr& by) {
        images_.put(constant, by);
        untouched_.insert_or_assign(constant.id(), false);
    }
    // A constant of the copy alone.
    z3::expr fresh(const z3::expr& constant) {
        const std::string name = constant.decl().name().str() + "@" + suffix_;
        kept_.push_back(ctx_.constant(name.c_str(), constant.get_sort()));
        untouched_.insert_or_assign(kept_.back().id(), false);
        return kept_.back();
    }
    z3::expr operator()(const z3::expr& e) {
        const auto no_leaf = [](const z3::expr&) { return std::optional<z3::expr>(); };
        return rebuilt(e, images_, no_leaf, [&](const z3::expr& original, const z3::expr_vector& args) {
            const z3::expr copy = original.decl()(args);
            const auto kind = original.decl().decl_kind();
            const bool joins = kind == Z3_OP_AND || kind == Z3_OP_OR || kind == Z3_OP_ITE;
            return original.is_bool() && joins && follows(original == copy) ? original : copy;
        });
    }

    // Whether it follows from what is known, terms that are the same in both put aside.
    bool follows(const z3::expr& what) { return follow({what}); }
    bool follow(const std::vector<z3::expr>& all) {
        for (const int depth : {0, 3}) {
            Solver solver(ctx_);
            TermMap done;
            std::vector<z3::expr> put_aside;
            const auto aside = [&](const z3::expr& e) { return without_details(e, done, put_aside); };
            z3::expr_vector asked(ctx_);
            for (const auto& what : all) asked.push_back(aside(what));
            solver.add(!all_of(asked));
            for (const auto& k : known_) solver.add(aside(k));
            // What they are made of, as deep as that.
            std::size_t begin = 0;
            for (int i = 0; i < depth; ++i) {
                const std::size_t end = put_aside.size();
                for (; begin < end; ++begin) {
                    const z3::expr e = put_aside[begin];
                    z3::expr_vector args(ctx_);
                    for (unsigned j = 0; j < e.num_args(); ++j) args.push_back(aside(e.arg(j)));
                    solver.add(*done.find(e) == e.decl()(args));
                }
            }
            if (solver.check({}, little) == Answer::unsatisfiable) return true;
        }
        return false;
    }

 private:
    static constexpr std::uint64_t little = 1'000'000;

    z3::expr without_details(const z3::expr& term, TermMap& done, std::vector<z3::expr>& put_aside) {
        const auto leaf = [&](const z3::expr& e) -> std::optional<z3::expr> {
            if (e.num_args() == 0) return e;
            if (!e.is_bool() || !stands_for_itself(e)) return std::nullopt;
            put_aside.push_back(e);
            return ctx_.bool_const(("aside." + std::to_string(e.id())).c_str());
        };
        return rebuilt(term, done, leaf, [](const z3::expr& e, const z3::expr_vector& args) { return e.decl()(args); });
    }
    bool stands_for_itself(const z3::expr& e) {
        const z3::expr* image = images_.find(e);
        return image ? z3::eq(*image, e) : untouched(e);
    }
    // Nothing in it has been replaced.
    bool untouched(const z3::expr& e) {
        std::vector<z3::expr> open{e};
        while (!open.empty()) {
            const z3::expr next = open.back();
            bool all = true, ready = true;
            for (unsigned i = 0; i < next.num_args(); ++i) {
                const auto found = untouched_.find(next.arg(i).id());
                if (found == untouched_.end()) {
                    open.push_back(next.arg(i));
                    ready = false;
                } else {
                    all = all && found->second;
                }
            }
            if (!ready) continue;
            open.pop_back();
            untouched_.emplace(next.id(), all);
            kept_.push_back(next);
        }
        return untouched_.at(e.id());
    }

    z3::context& ctx_;
    const std::vector<z3::expr>& known_;
    std::string suffix_;
    TermMap images_;
    std::map<unsigned, bool> untouched_;  // by the term's id
    std::vector<z3::expr> kept_;
};

class Lemma {
 public:
    explicit Lemma(const System& s) : s_(s), ctx_(*s.ctx), first_(s, known_, "first"), rest_(s, known_, "rest") {}

    LeapLemma run(std::uint64_t budget) {
        for (const auto& d : s_.definitions) known_.push_back(d.constant == d.value);
        for (const auto& r : s_.rules) known_.push_back(r.holds);
        known_.push_back(s_.k >= 2);
        first_.put(s_.k, ctx_.int_val(1));
        rest_.put(s_.k, s_.k - 1);
        quantities();
        states();
        paths();
        for (const auto& d : s_.definitions) {
            known_.push_back(first_(d.constant == d.value));
            known_.push_back(rest_(d.constant == d.value));
        }
        const z3::expr_vector open = demands();
        if (open.empty()) return LeapLemma::holds;
        Solver solver(ctx_);
        for (const auto& k : known_) solver.add(k);
        solver.add(!all_of(open));
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

 private:
    void quantities() {
        std::vector<z3::expr> starts;  // where the rest begins
        for (std::size_t i = 0; i < s_.moving.size(); ++i) {
            const z3::expr &a = s_.inputs[s_.moving[i].first].var, &b = s_.inputs[s_.moving[i].second].var;
            const z3::expr next = rest_.fresh(a);
            starts.push_back(next);
            first_.put(b, a);
            rest_.put(a, next);
            known_.push_back((a <= next && next <= b) || (b <= next && next <= a));
            for (const auto& slope : s_.slopes) {
                if (slope.moving != i) continue;
                const z3::expr more = z3::to_real(s_.k - 2);
                const z3::expr up = next - a >= slope.lo && b - next >= slope.lo * more;
                const z3::expr down = next - a <= slope.hi && b - next <= slope.hi * more;
                known_.push_back(z3::implies(slope.guard, (up || slope.stays_up) && (down || slope.stays_down)));
            }
        }
        // A reading keeps its error while its quantity moves.
        for (const auto& [reading, quantity] : s_.followers) {
            const z3::expr &r = s_.inputs[reading].var, &a = s_.inputs[s_.moving[quantity].first].var;
            rest_.put(r, r + (starts[quantity] - a));
        }
    }

    // What a leap leaves as it was, the rest begins with.
    void states() {
        std::vector<z3::expr> stays;
        for (const auto& v : s_.state)
            if (z3::eq(first_(v.next), v.next)) stays.push_back(v.next == v.cur);
        const bool kept = first_.follow(stays);
        for (const auto& v : s_.state) {
            if (kept && z3::eq(first_(v.next), v.next)) continue;
            const z3::expr then = rest_.fresh(v.cur);
            known_.push_back(then == first_(v.next));
            rest_.put(v.cur, then);
        }
    }

    // Several that move are all the same part of their ways along, which is no linear rule; but then so is every
    // number that is linear in them, and that is what counts.
    void paths() {
        if (s_.moving.size() < 2) return;
        for (const auto& p : s_.paths) {
            const z3::expr &a = p.first, &b = p.last, next = rest_(p.first);
            known_.push_back((a <= next && next <= b) || (b <= next && next <= a));
        }
    }

    // What is left to show.
    z3::expr_vector demands() {
        z3::expr_vector open(ctx_);
        const auto demand = [&](Copy& copy, const z3::expr& what) {
            if (!copy.follows(what)) open.push_back(what);
        };
        const auto same = [&](Copy& copy, const z3::expr& image, const z3::expr& original) {
            if (!z3::eq(image, original)) demand(copy, image == original);
        };
        for (const auto& v : s_.state) same(rest_, rest_(v.next), v.next);
        for (const auto& o : s_.outputs) {
            same(first_, first_(o), o);
            same(rest_, rest_(o), o);
        }
        for (const auto& r : s_.rules)
            for (Copy* copy : {&first_, &rest_}) {
                const z3::expr image = (*copy)(r.holds);
                if (!z3::eq(image, r.holds)) demand(*copy, image);
            }
        return open;
    }

    const System& s_;
    z3::context& ctx_;
    std::vector<z3::expr> known_;
    Copy first_, rest_;
};

}  // namespace

LeapLemma leap_lemma(const System& s, std::uint64_t budget) { return Lemma(s).run(budget); }

}  // namespace lanyard::encode
