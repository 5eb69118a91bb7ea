// What it decides: which lemmas, rules and definitions one proof needs.
// Why it is sound: it need not be; the result goes through the same obligations as every certificate.
// How: every lemma, rule, definition and next-state equation gets a switch; the core of the `safe` query names the
// lemmas that exclude the target; each of those must follow from lemmas before the step, whose core names more; until
// closed. A core need not be minimal; where that is wanted, each name is tried without it afterwards (deletion, the
// plainest way to an irreducible unsatisfiable core: J. Marques-Silva, "Minimal Unsatisfiability: Models, Algorithms
// and Applications", ISMVL 2010, from memory).
#include "certify/minimise.hpp"

#include <algorithm>
#include <map>
#include <set>

namespace lanyard {

namespace {

class Minimiser {
 public:
    Minimiser(const Question& q, const Certificate& c, std::uint64_t budget, bool one_by_one)
        : question_(q), given_(c), budget_(budget), one_by_one_(one_by_one), system_(system_of(ctx_, q, true)) {}

    Certificate run() {
        const auto lemmas = parse_lemmas(system_, given_.lemmas);
        if (!lemmas) return given_;
        lemmas_ = *lemmas;
        if (!needed_lemmas() || !dependencies()) return everything();
        Certificate out = given_;
        out.lemmas.clear();
        for (std::size_t i : needed_) out.lemmas.push_back(given_.lemmas[i]);
        sort_labels(out);
        return out;
    }

 private:
    // Where the solver gave up, a proof is said to rest on all that it may have used.
    Certificate everything() {
        used_.clear();
        for (const auto& d : system_.definitions) used_.insert("=" + d.label);
        for (const auto& r : system_.rules) used_.insert(r.label);
        for (const auto& v : system_.state) used_.insert("=" + v.element);
        Certificate out = given_;
        sort_labels(out);
        return out;
    }

    // One switchable assertion; labels name it.
    void guard(Solver& s, const z3::expr& e, const std::string& label, std::vector<z3::expr>& switches) {
        const z3::expr on = ctx_.bool_const(("on!" + std::to_string(labels_.size())).c_str());
        labels_.emplace(on.id(), label);
        kept_.push_back(on);
        s.add(z3::implies(on, e));
        switches.push_back(on);
    }
    z3::expr hit(const Renaming& at) { return at(target_of(system_, question_)); }

    void guard_rules(Solver& s, const Renaming& at, std::vector<z3::expr>& on) {
        for (const auto& d : system_.definitions) guard(s, at(d.constant == d.value), "=" + d.label, on);
        for (const auto& r : system_.rules) guard(s, at(r.holds), r.label, on);
    }
    void guard_next(Solver& s, const Renaming& from, const Renaming& then, std::vector<z3::expr>& on) {
        for (std::size_t i = 0; i < system_.state.size(); ++i)
            guard(s, then.state(i) == from(system_.state[i].next), "=" + system_.state[i].element, on);
    }

    // The steps of the `safe` obligation with a switch at each lemma or, once it is known which of them are needed, at
    // everything else.
    enum class Switched { lemmas, the_rest };
    void add_path(Solver& s, Switched what, std::vector<z3::expr>& on) {
        for (int n = 0; n < given_.induction; ++n) {
            const Renaming at(system_, std::to_string(n));
            if (what == Switched::lemmas) {
                for (std::size_t i = 0; i < lemmas_.size(); ++i) guard(s, at(lemmas_[i]), std::to_string(i), on);
                add_rules(s, system_, at);
                if (n > 0) add_next(s, system_, Renaming(system_, std::to_string(n - 1)), at);
            } else {
                for (const std::size_t i : needed_) s.add(at(lemmas_[i]));
                guard_rules(s, at, on);
                if (n > 0) guard_next(s, Renaming(system_, std::to_string(n - 1)), at, on);
            }
            s.add(n + 1 == given_.induction ? hit(at) : !hit(at));
        }
    }

    bool needed_lemmas() {
        std::vector<z3::expr> switches;
        Solver safe(ctx_);
        add_path(safe, Switched::lemmas, switches);
        if (safe.check(switches, budget_) != Answer::unsatisfiable) return false;
        std::set<std::size_t> needed;
        std::vector<std::size_t> open;
        const auto take = [&](Solver& s) {
            for (const auto& e : s.core()) {
                const std::size_t i = std::stoul(labels_.at(e.id()));
                if (needed.insert(i).second) open.push_back(i);
            }
        };
        take(safe);
        Solver step(ctx_);
        const Renaming now(system_, "0"), then(system_, "1");
        std::vector<z3::expr> before;
        for (std::size_t i = 0; i < lemmas_.size(); ++i) guard(step, now(lemmas_[i]), std::to_string(i), before);
        add_rules(step, system_, now);
        add_next(step, system_, now, then);
        while (!open.empty()) {
            const std::size_t i = open.back();
            open.pop_back();
            step.push();
            step.add(!then(lemmas_[i]));
            // First from what is kept already, so that the set stays small.
            std::vector<z3::expr> kept;
            for (std::size_t n : needed) kept.push_back(before[n]);
            Answer a = step.check(kept, budget_);
            if (a != Answer::unsatisfiable) a = step.check(before, budget_);
            if (a != Answer::unsatisfiable) return false;
            take(step);
            step.pop();
        }
        needed_.assign(needed.begin(), needed.end());
        return true;
    }

    bool dependencies() {
        std::vector<z3::expr> on;
        Solver safe(ctx_);
        add_path(safe, Switched::the_rest, on);
        if (!collect(safe, on)) return false;
        std::vector<z3::expr> on_step;
        Solver step(ctx_);
        const Renaming now(system_, "0"), then(system_, "1");
        z3::expr_vector after(ctx_);
        for (std::size_t i : needed_) {
            step.add(now(lemmas_[i]));
            after.push_back(then(lemmas_[i]));
        }
        guard_rules(step, now, on_step);
        guard_next(step, now, then, on_step);
        step.add(!all_of(after));
        if (!collect(step, on_step)) return false;
        if (one_by_one_) spare({{&safe, on}, {&step, on_step}});
        return true;
    }

    struct Asked {
        Solver* solver;
        std::vector<z3::expr> on;
    };
    // Takes one name after the other away, wherever it stands, as long as all questions stay without an answer.
    void spare(const std::vector<Asked>& questions) {
        for (const std::string& label : std::vector<std::string>(used_.begin(), used_.end())) {
            std::set<std::string> fewer = used_;
            fewer.erase(label);
            const bool enough = std::all_of(questions.begin(), questions.end(), [&](const Asked& q) {
                std::vector<z3::expr> left;
                for (const auto& e : q.on)
                    if (fewer.contains(labels_.at(e.id()))) left.push_back(e);
                return q.solver->check(left, budget_) == Answer::unsatisfiable;
            });
            if (enough) used_ = std::move(fewer);
        }
    }
    // Twice: the core of a core is smaller.
    bool collect(Solver& s, std::vector<z3::expr> on) {
        for (int round = 0; round < 2; ++round) {
            if (s.check(on, budget_) != Answer::unsatisfiable) return round > 0;
            on = s.core();
        }
        for (const auto& e : on) used_.insert(labels_.at(e.id()));
        return true;
    }

    void sort_labels(Certificate& out) const {
        out.unused_elements.clear();
        std::set<std::string> elements, assumptions;
        for (const auto& label : used_) {
            if (label.empty() || label == "=" || label == "leap") continue;
            if (label[0] != '=')
                assumptions.insert(label);
            else if (std::binary_search(system_.cone.begin(), system_.cone.end(), label.substr(1)))
                elements.insert(label.substr(1));
        }
        out.assumptions.assign(assumptions.begin(), assumptions.end());
        out.elements.assign(elements.begin(), elements.end());
        const Model& m = *question_.model;
        for (SignalId id : m.order)
            if (!elements.contains(m.name_of(id))) out.unused_elements.push_back(m.name_of(id));
        std::sort(out.unused_elements.begin(), out.unused_elements.end());
    }

    const Question& question_;
    const Certificate& given_;
    std::uint64_t budget_;
    bool one_by_one_;
    z3::context ctx_;
    System system_;
    std::vector<z3::expr> lemmas_;
    std::vector<std::size_t> needed_;
    std::map<unsigned, std::string> labels_;
    std::vector<z3::expr> kept_;
    std::set<std::string> used_;
};

}  // namespace

Certificate minimise(const Question& q, const Certificate& c, std::uint64_t budget) {
    Certificate out = Minimiser(q, c, budget, false).run();
#ifdef LANYARD_PLANT_LIES
    distort_lemmas(out.lemmas);
#endif
    return out;
}

Certificate pared_down(const Question& q, const Certificate& c, std::uint64_t budget) {
    return Minimiser(q, c, budget, true).run();
}

}  // namespace lanyard
