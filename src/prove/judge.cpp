// What it decides: a claim. Each kind is one or two questions of reachability: can it be broken (`possible`: can the
// goal be reached), and, if not, does it ever demand anything. A claim that cannot be broken because nothing it waits
// for can happen is vacuous, never proved.
#include "prove/judge.hpp"

#include "base/log.hpp"
#include "certify/rests_on.hpp"
#include "claims/bounds.hpp"
#include "encode/solver.hpp"
#include "prove/known.hpp"
#include "prove/ordinary.hpp"
#include "prove/recover.hpp"
#include "prove/settle.hpp"

namespace lanyard::prove {

namespace {

class Judge {
 public:
    Judge(const Model& m, ClaimId claim, const JudgeOptions& o)
        : model_(m), options_(o), question_(question_about(m, claim)) {
        result_.claim = claim;
    }

    ClaimResult run() {
        try {
            settle_leaps(question_, options_, result_.timing);
            result_.leaps = question_.leaps;
            decide();
        } catch (const Unsupported& u) {
            result_.verdict = Undecided{std::string("not covered: ") + u.what(), 0};
        } catch (const z3::exception& e) {
            if (!options_.stopped()) throw InternalError{std::string("the solver failed: ") + e.msg()};
            result_.verdict = Undecided{options_.why_stopped(), 0};
        }
        return std::move(result_);
    }

 private:
    const Claim& claim() const { return model_.claims[result_.claim]; }

    Answered answer(Target target, std::string& prover) {
        question_.target = target;
        return ask(question_, options_, result_.timing, prover);
    }

    // The run that is shown, of all that answer the question.
    Run told(const Run& found) const {
        if (options_.any_run) return found;
        const auto answers = [&](const Run& run) {
            const auto end = up_to_answer(question_, run);
            return end && end->scans() == run.scans();
        };
        return *shown_run(question_, options_, "told", answers,
                          [&] { return std::optional(ordinary_run(question_, found, options_)); });
    }

    void decide() {
        if (std::holds_alternative<Recoverable>(claim().body)) {
            result_.verdict = recover(question_, options_, result_.timing, result_.prover);
            return;
        }
        const Answered bad = answer(Target::bad, result_.prover);
        if (const auto* unknown = std::get_if<Unknown>(&bad)) {
            result_.verdict = Undecided{unknown->reason, static_cast<long>(unknown->depth)};
        } else if (std::holds_alternative<Possible>(claim().body)) {
            if (const auto* hit = std::get_if<Reachable>(&bad))
                result_.verdict = Proved{std::nullopt, told(hit->run), nullptr};
            else
                result_.verdict = Refuted{std::nullopt, std::get<Unreachable>(bad).certificate, ""};
        } else if (const auto* hit = std::get_if<Reachable>(&bad)) {
            Refuted r{told(hit->run), std::nullopt, ""};
            if (const auto* response = std::get_if<Response>(&claim().body))
                if (response_is_too_fast(*response, model_.scan))
                    r.remark = "no controller with this scan period can meet the bound: it is shorter than two scans";
            result_.verdict = std::move(r);
        } else {
            confirm(std::get<Unreachable>(bad).certificate);
        }
    }

    void confirm(const Certificate& certificate) {
        std::string finder;
        const Answered demand = answer(Target::demand, finder);
        if (const auto* hit = std::get_if<Reachable>(&demand)) {
            result_.verdict = Proved{certificate, hit->run, nullptr};
        } else if (const auto* none = std::get_if<Unreachable>(&demand)) {
            result_.verdict = Vacuous{"what the claim waits for cannot happen under this condition", none->certificate};
        } else {
            const auto& unknown = std::get<Unknown>(demand);
            result_.verdict =
                Undecided{"no violation is possible, but no run was found that exercises it: " + unknown.reason,
                          static_cast<long>(unknown.depth), true};
        }
    }

    const Model& model_;
    const JudgeOptions& options_;
    Question question_;
    ClaimResult result_;
};

void tell(const Model& m, ClaimId claim, Target target, bool leaps, Certificate& c, const Run* example,
          const JudgeOptions& o, bool one_by_one = false) {
    Question q = question_about(m, claim);
    q.target = target;
    q.leaps = leaps;
    const std::uint64_t budget = o.stopped() ? 0 : rests_on_budget;
    if (o.known == nullptr) {
        tell_what_it_rests_on(q, c, example, budget, one_by_one);
        return;
    }
    const QuestionKey key = key_of(q, o).beside("rests on");
    const auto known = o.known->look_up(key, m);
    const auto* names = known ? std::get_if<RestsOn>(&known->finding) : nullptr;
    const bool settled = tell_what_it_rests_on(q, c, example, budget, one_by_one, names);
    RestsOn found{c.elements, c.parts, c.assumptions};
    const bool is_kept = names != nullptr && !known->of_another_model && *names == found;
    if (settled && !is_kept && !o.stopped()) o.known->keep(key, {std::move(found), "directed"}, m);
}

void add_what_it_rests_on(const Model& m, ClaimResult& r, const JudgeOptions& o) {
    if (auto* proved = std::get_if<Proved>(&r.verdict); proved != nullptr && proved->certificate) {
        const Model& of = proved->playbook ? *proved->playbook : m;
        const ClaimId claim = proved->playbook ? of.claims.last() : r.claim;
        // A playbook's leaps are its certificate's.
        tell(of, claim, Target::bad, proved->playbook ? proved->certificate->leaps : r.leaps, *proved->certificate,
             &proved->example, o);
    } else if (auto* refuted = std::get_if<Refuted>(&r.verdict); refuted != nullptr && refuted->certificate) {
        tell(m, r.claim, Target::bad, r.leaps, *refuted->certificate, nullptr, o, !refuted->run);
    } else if (auto* vacuous = std::get_if<Vacuous>(&r.verdict); vacuous != nullptr && vacuous->certificate) {
        tell(m, r.claim, Target::demand, r.leaps, *vacuous->certificate, nullptr, o, true);
    }
}

const char* word_of(const Verdict& v) {
    static constexpr const char* words[] = {"proved", "refuted", "vacuous", "undecided"};
    static_assert(std::size(words) == std::variant_size_v<Verdict>);
    return words[v.index()];
}

}  // namespace

ClaimResult judge(const Model& model, ClaimId claim, const JudgeOptions& options) {
    const logging::About about([&] { return "claim '" + model.claims[claim].id + "'"; });
    const logging::Stopwatch watch;
    ClaimResult result = Judge(model, claim, options).run();
    if (!options.any_run) add_what_it_rests_on(model, result, options);
    LANYARD_LOG(info, "{}, {:.3f} s: finding {:.3f}, minimising {:.3f}, re-checking {:.3f}, replaying {:.3f}; {} MB",
                word_of(result.verdict), watch.seconds(), result.timing.finding, result.timing.minimising,
                result.timing.rechecking, result.timing.replaying, logging::resident_mb());
    return result;
}

void tell_tautology(ClaimResult& r) {
    auto* proved = std::get_if<Proved>(&r.verdict);
    if (proved == nullptr || !proved->certificate || proved->playbook) return;
    const Certificate& c = *proved->certificate;
    if (!c.elements.empty() || !c.parts.empty() || !c.assumptions.empty()) return;
    r.verdict = Vacuous{"true whatever the logic does: the claim says nothing about this car",
                        std::move(proved->certificate),
                        std::nullopt,
                        {},
                        true};
}

}  // namespace lanyard::prove
