#include "explain/mutation.hpp"

#include <algorithm>
#include <set>

#include "base/log.hpp"
#include "claims/cone.hpp"
#include "explain/again.hpp"
#include "explain/mutants.hpp"
#include "model/make_expr.hpp"
#include "prove/pool.hpp"
#include "prove/shared_time.hpp"
#include "sim/near.hpp"

namespace lanyard::explain {

namespace {

constexpr unsigned random_runs = 4;
constexpr long random_scans = 250;
constexpr long longest_example = 2000;

// A claim that is proved of the model itself.
struct Judging {
    ClaimId claim;
    Cone cone;
    std::optional<Certificate> certificate;
    std::set<std::string> needs;  // names
    Run example;
};

bool is_broken_by_runs(const Claim& c) {
    return !std::holds_alternative<Possible>(c.body) && !std::holds_alternative<Recoverable>(c.body);
}

struct Gone {
    bool legal = false, demanded = false, broken = false, goal = false;
};

// The run gone through again in the mutant.
Gone go_through(const Model& m, const Run& run, ConditionId condition, ClaimId claim) {
    const World world(m, condition, claim);
    auto now = std::make_unique<Interpreter>(m, condition, claim);
    Gone out;
    out.legal = true;
    each_scan(run, [&](const Choices& c) {
        const auto played = step_near(m, world, now, c, exact_readings(m, c));
        out.legal = played.has_value();
        if (!played) return false;
        out.demanded = out.demanded || played->shows.demanded;
        out.broken = played->shows.violated;
        out.goal = played->shows.goal;
        return !out.broken;
    });
    return out;
}

bool some_random_run_breaks(const Model& m, ConditionId condition, ClaimId claim) {
    for (unsigned seed = 1; seed <= random_runs; ++seed) {
        const Run run = random_run(m, condition, claim, seed, random_scans);
        Interpreter interpreter(m, condition, claim);
        bool broken = false;
        play(interpreter, run, [&](const Choices&, const Scan& s) {
            broken = s.broken_rule.empty() && s.violated;
            return !broken;
        });
        if (broken) return true;
    }
    return false;
}

class Mutation {
 public:
    Mutation(const Model& m, const MutationOptions& o) : m_(m), options_(o) {}

    MutationScore run() {
        const SharedTime time(options_.driver.time_s);
        DriverOptions first = options_.driver;
        first.time_s = time.half();
        const DriverReport base = check_claims(m_, first);
        out_.interrupted = base.interrupted;
        for (const auto& r : base.results) take(r);
        for (const SignalId id : m_.order)
            if (std::none_of(judging_.begin(), judging_.end(), [&](const Judging& j) { return may_need(j, id); }))
                out_.unneeded.push_back(id);
        std::vector<Mutant> all = mutants_of(m_);
        for (std::size_t i = options_.share - 1; i < all.size(); i += options_.shares)
            out_.mutants.push_back({std::move(all[i]), MutantFate::undecided, {}, false, {}});
        if (out_.interrupted || judging_.empty()) return std::move(out_);
        PoolTasks tasks;
        tasks.count = out_.mutants.size();
        tasks.repeatable = true;
        tasks.work = [this](std::size_t i, const JudgeOptions& o) { judge_mutant(out_.mutants[i], o); };
        if (options_.on_mutant)
            tasks.on_start = [this](std::size_t done, std::size_t) { options_.on_mutant(done, out_.mutants.size()); };
        PoolOptions pool = pool_options(options_.driver);
        pool.judge.work_limit = options_.work;
        pool.time_s = time.left();
        pool.judge.any_run = true;  // nobody is shown it
        pool.judge.known = options_.driver.known;
        out_.interrupted = run_pool(tasks, pool);
        return std::move(out_);
    }

 private:
    const Model& m_;
    const MutationOptions& options_;
    std::vector<Judging> judging_;
    MutationScore out_;

    const Claim& claim(ClaimId id) const { return m_.claims[id]; }

    void take(const ClaimResult& r) {
        const auto* proved = std::get_if<Proved>(&r.verdict);
        (proved != nullptr ? out_.judges : out_.silent).push_back(r.claim);
        if (proved == nullptr) return;
        Judging j;
        j.claim = r.claim;
        j.cone = cone_of(m_, claim(r.claim).condition, r.claim);
        // A playbook's certificate speaks of a claim of its own.
        if (!proved->playbook) j.certificate = proved->certificate;
        if (j.certificate) j.needs.insert(proved->certificate->elements.begin(), proved->certificate->elements.end());
        if (!proved->playbook) j.example = proved->example;
        judging_.push_back(std::move(j));
    }

    bool may_need(const Judging& j, SignalId id) const {
        return j.cone.has(id) && (!j.certificate || j.needs.contains(m_.name_of(id)));
    }

    void judge_mutant(JudgedMutant& out, const JudgeOptions& o) const {
        const logging::About about([&] { return "mutant of " + m_.name_of(out.mutant.signal); });
        out.open.clear();  // it may be begun anew
        const Model changed = mutated(m_, out.mutant);
        std::vector<Left> left;
        for (const auto& j : judging_) {
            if (!j.cone.has(out.mutant.signal)) continue;
            if (o.stopped()) return;
            const ConditionId condition = claim(j.claim).condition;
            const bool runs = is_broken_by_runs(claim(j.claim));
            Gone gone;
            if (!j.example.segments.empty() && j.example.scans() <= longest_example)
                gone = go_through(changed, j.example, condition, j.claim);
            if ((runs && gone.broken) || (runs && some_random_run_breaks(changed, condition, j.claim))) {
                out.fate = MutantFate::killed;
                out.claim = j.claim;
                return;
            }
            const bool gets_there = std::holds_alternative<Possible>(claim(j.claim).body) && gone.legal && gone.goal;
            const bool demands = gone.legal && gone.demanded;
            const bool as_proved = demands && !may_need(j, out.mutant.signal);
            if (!gets_there && !as_proved) left.push_back({&j, demands});
        }
        search(out, changed, left, o);
    }

    // Claims that no run broke, and whether it is known of the mutant that they demand something.
    struct Left {
        const Judging* judging;
        bool demands;
    };

    void search(JudgedMutant& out, const Model& changed, const std::vector<Left>& left, const JudgeOptions& o) const {
        for (const auto& [j, demands] : left) {
            // Most changes that survive leave the model's own invariant one.
            if (demands && j->certificate && proves_still(changed, j->claim, *j->certificate, o)) continue;
            const Verdict verdict = verdict_of(changed, j->claim, o);
            if (std::holds_alternative<Undecided>(verdict)) out.open.push_back(j->claim);
            if (!std::holds_alternative<Refuted>(verdict) && !std::holds_alternative<Vacuous>(verdict)) continue;
            out.fate = MutantFate::killed;
            out.claim = j->claim;
            out.by_search = true;
            out.open.clear();
            return;
        }
        if (!out.open.empty()) return;
        out.fate = is_equivalent(out.mutant, o) ? MutantFate::equivalent : MutantFate::survived;
    }

    bool is_equivalent(const Mutant& mutant, const JudgeOptions& o) const {
        const ExprPtr& whole = definition(m_, mutant.signal);
        bool plain = whole->type.kind == TypeKind::boolean;
        visit(whole, [&plain](const Expr& e) { plain = plain && !has_memory(e.op); });
        if (!plain) return false;
        const ExprPtr differ = boolean_expr(Op::xor_, {whole, mutant.definition});
        Model asked = m_;
        asked.made_into += "\nthe same: " + m_.name_of(mutant.signal) + " and " + text_of(m_, *mutant.definition);
        Claim c;
        c.id = "the same";
        c.body = Always{boolean_expr(Op::not_, {differ})};
        const ClaimId same = asked.claims.add(std::move(c));
        return std::holds_alternative<Proved>(verdict_of(asked, same, o));
    }
};

}  // namespace

MutationScore mutation_score(const Model& model, const MutationOptions& options) {
    return Mutation(model, options).run();
}

}  // namespace lanyard::explain
