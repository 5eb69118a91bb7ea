// What it decides: which lemmas a proof needs.
// Why it is sound: it need not be; the result goes through the same obligations as every certificate.
// How: every lemma gets a switch; the core of the `safe` query names the lemmas that exclude the target; each of those
// must follow from lemmas before the step, whose core names more; until closed. What else a proof needs is told by
// rests_on.cpp.
// Tested by: tests/certify/rests_on_test.py, tests/certify/evidence_test.py
#include "certify/minimise.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "certify/facts.hpp"
#include "certify/obligations.hpp"

namespace lanyard::certify {

namespace {

class Minimiser {
 public:
    Minimiser(const Question& q, const Certificate& c, std::uint64_t budget)
        : question_(q), given_(c), budget_(budget), system_(system_of(ctx_, q, true)) {}

    Certificate run() {
        const auto lemmas = parse_lemmas(system_, given_.lemmas);
        if (!lemmas) return given_;
        lemmas_ = *lemmas;
        if (!needed_lemmas()) return given_;
        Certificate out = given_;
        out.lemmas.clear();
        for (std::size_t i : needed_) out.lemmas.push_back(given_.lemmas[i]);
        return out;
    }
    Facts facts_in(const std::vector<std::string>& texts) const {
        const auto lemmas = parse_lemmas(system_, texts);
        return lemmas ? facts_of(system_, *lemmas) : Facts{};
    }

 private:
    // One switchable assertion, with the lemma's number.
    void guard(Solver& s, const z3::expr& e, std::size_t label, std::vector<z3::expr>& switches) {
        const z3::expr on = ctx_.bool_const(("on!" + std::to_string(labels_.size())).c_str());
        labels_.emplace(on.id(), label);
        kept_.push_back(on);
        s.add(z3::implies(on, e));
        switches.push_back(on);
    }
    z3::expr hit(const Renaming& at) { return at(target_of(system_, question_)); }

    // The steps of the `safe` obligation with a switch at each lemma.
    void add_path(Solver& s, std::vector<z3::expr>& on) {
        for (int n = 0; n < given_.induction; ++n) {
            const Renaming at(system_, std::to_string(n));
            for (std::size_t i = 0; i < lemmas_.size(); ++i) guard(s, at(lemmas_[i]), i, on);
            add_rules(s, system_, at);
            if (n > 0) add_next(s, system_, Renaming(system_, std::to_string(n - 1)), at);
            s.add(n + 1 == given_.induction ? hit(at) : !hit(at));
        }
    }

    bool needed_lemmas() {
        std::vector<z3::expr> switches;
        Solver safe(ctx_);
        add_path(safe, switches);
        if (safe.check(switches, budget_) != Answer::unsatisfiable) return false;
        std::set<std::size_t> needed;
        std::vector<std::size_t> open;
        const auto take = [&](Solver& s) {
            for (const auto& e : s.core()) {
                const std::size_t i = labels_.at(e.id());
                if (needed.insert(i).second) open.push_back(i);
            }
        };
        take(safe);
        Solver step(ctx_);
        const Renaming now(system_, "0"), then(system_, "1");
        std::vector<z3::expr> before;
        for (std::size_t i = 0; i < lemmas_.size(); ++i) guard(step, now(lemmas_[i]), i, before);
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

    const Question& question_;
    const Certificate& given_;
    std::uint64_t budget_;
    z3::context ctx_;
    System system_;
    std::vector<z3::expr> lemmas_;
    std::vector<std::size_t> needed_;
    std::map<unsigned, std::size_t> labels_;
    std::vector<z3::expr> kept_;
};

}  // namespace

Certificate minimise(const Question& q, const Certificate& c, std::uint64_t budget) {
    Minimiser minimiser(q, c, budget);
    Certificate out = minimiser.run();
    if (AnswerFilter* filter = AnswerFilter::installed) filter->lemmas(out.lemmas);
    out.facts = minimiser.facts_in(out.lemmas);
    return out;
}

}  // namespace lanyard::certify
