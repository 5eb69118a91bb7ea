// Lemmas by templates, kept by Houdini; then induction; then property-directed search with the lemmas' help.
//
// What it decides: it proves only. (1) Play random runs and collect the states they meet. (2) Fill templates with
// constants from them. (3) Houdini: drop every candidate that some step from a state satisfying all candidates breaks,
// until none is broken: the rest is inductive together. (4) Is the target excluded by them, in 1, 2 or 3 consecutive
// steps? (5) Otherwise let the property-directed prover work inside them.
// Why it is sound: it need not be; its certificate is checked. Houdini's fixed point is the greatest inductive subset,
// and dropping too much only weakens it. When it gives up: when the lemmas that a claim needs are not of the templates'
// forms. C. Flanagan, K. R. M. Leino, "Houdini, an annotation assistant for ESC/Java", FME 2001; M. Sheeran, S. Singh,
// G. Stalmarck, "Checking safety properties using induction and a SAT-solver", FMCAD 2000.
// Tested by: tests/cases_run/main.cpp, tests/lies/main.cpp

#include <algorithm>
#include <mutex>

#include "base/log.hpp"
#include "certify/obligations.hpp"
#include "prove/horn.hpp"
#include "prove/provers.hpp"
#include "prove/templates.hpp"

namespace lanyard::prove {

namespace {

class Lemmas : public Prover {
 public:
    explicit Lemmas(const Question& q, std::optional<std::vector<std::string>> given = std::nullopt)
        : question_(q), given_(std::move(given)), system_(system_of(ctx_, q, false)), target_(target_of(system_, q)) {}

    Finding work(std::uint64_t budget) override {
        std::uint64_t left = budget;
        if (!sampled_) collect();
        if (!kept_ && !houdini(left)) return Nothing{};
        for (; induction_ <= deepest_induction; ++induction_) {
            const Answer a = excluded(induction_, left);
            if (a == Answer::unsatisfiable) return InvariantFound{certificate(induction_)};
            if (a == Answer::unknown) return Nothing{};
        }
        return strengthened(budget);
    }
    void interrupt() override {
        ctx_.interrupt();
        const std::lock_guard<std::mutex> lock(mutex_);
        if (other_) other_->interrupt();
    }

 private:
    void collect() {
        const logging::Stopwatch watch;
        sampled_ = true;
        if (given_) {
            const auto lemmas = parse_lemmas(system_, *given_);
            for (const auto& e : lemmas.value_or(std::vector<z3::expr>{}))
                if (begins_with(e)) candidates_.push_back({e});
            alive_.assign(candidates_.size(), true);
            prepare();
            return;
        }
        const auto samples = sample_states(system_, question_, 10, sample_length());
        candidates_ = candidates(system_, samples);
        alive_.assign(candidates_.size(), true);
        LANYARD_LOG(debug, "{} candidates from {} states, {:.3f} s", candidates_.size(), samples.size(),
                    watch.seconds());
        prepare();
    }

    bool begins_with(z3::expr e) const {
        z3::expr_vector now(e.ctx()), first(e.ctx());
        for (const auto& v : system_.state) {
            now.push_back(v.cur);
            first.push_back(v.init);
        }
        return e.substitute(now, first).simplify().is_true();
    }

    // Long enough for the driver of a procedure to get to its end.
    long sample_length() const {
        constexpr long usual = 1200;
        if (!question_.claim) return usual;
        const Model& m = *question_.model;
        const auto* p = std::get_if<Procedure>(&m.claims[question_.claim].body);
        if (!p) return usual;
        long scans = 50;
        for (const auto& phase : p->phases) scans += scans_up(phase.limit, m.scan);
        return std::min(std::max(scans, usual), 4000L);
    }

    // before_[i] switches candidate i on before the step, broken_[i] says that it is broken after it.
    void prepare() {
        houdini_ = std::make_unique<Solver>(ctx_);
        const Renaming now(system_, "0"), then(system_, "1");
        add_rules(*houdini_, system_, now);
        add_next(*houdini_, system_, now, then);
        for (std::size_t i = 0; i < candidates_.size(); ++i) {
            const z3::expr on = ctx_.bool_const(("on!" + std::to_string(i)).c_str());
            houdini_->add(z3::implies(on, now(candidates_[i].holds)));
            before_.push_back(on);
            after_.push_back(then(candidates_[i].holds));
        }
    }

    bool houdini(std::uint64_t& left) {
        while (left > 0) {
            std::vector<z3::expr> on;
            z3::expr_vector all(ctx_);
            for (std::size_t i = 0; i < alive_.size(); ++i)
                if (alive_[i]) {
                    on.push_back(before_[i]);
                    all.push_back(after_[i]);
                }
            // Retracted by its switch, so that the solver keeps what it has learnt.
            const z3::expr round = ctx_.bool_const(("round!" + std::to_string(rounds_++)).c_str());
            houdini_->add(z3::implies(round, !all_of(all)));
            on.push_back(round);
            const Answer a = houdini_->check(on, left);
            left -= std::min(left, houdini_->work() + 1000);
            if (a == Answer::unknown) return false;
            if (a == Answer::unsatisfiable) {
                kept_ = true;
                LANYARD_LOG(debug, "{} of {} candidates kept as inductive, {} rounds", on.size() - 1, alive_.size(),
                            rounds_);
                return true;
            }
            for (std::size_t i = 0; i < alive_.size(); ++i)
                if (alive_[i] && !houdini_->holds(after_[i])) alive_[i] = false;
            houdini_->add(!round);
        }
        return false;
    }

    Answer excluded(int steps, std::uint64_t& left) {
        Solver solver(ctx_);
        for (int n = 0; n < steps; ++n) {
            const Renaming at(system_, std::to_string(n));
            for (std::size_t i = 0; i < alive_.size(); ++i)
                if (alive_[i]) solver.add(at(candidates_[i].holds));
            add_rules(solver, system_, at);
            if (n > 0) {
                const Renaming from(system_, std::to_string(n - 1));
                add_next(solver, system_, from, at);
            }
            solver.add(n + 1 == steps ? at(target_) : !at(target_));
        }
        const Answer a = solver.check({}, std::max<std::uint64_t>(left, 10'000));
        left -= std::min(left, solver.work());
        LANYARD_LOG(debug, "{} within {} steps inside the lemmas",
                    a == Answer::unsatisfiable ? "excluded"
                    : a == Answer::unknown     ? "not settled"
                                               : "not excluded",
                    steps);
        return a;
    }

    Certificate certificate(int induction) {
        Certificate c;
        c.induction = induction;
        for (std::size_t i = 0; i < alive_.size(); ++i)
            if (alive_[i]) c.lemmas.push_back(candidates_[i].holds.to_string());
        return c;
    }

    Finding strengthened(std::uint64_t budget) {
        const Certificate help = certificate(1);
        auto ctx = std::make_unique<z3::context>();
        {
            const std::lock_guard<std::mutex> lock(mutex_);
            other_ = ctx.get();
        }
        Finding out = Nothing{};
        {
            const System s = system_of(*ctx, question_, false);
            const auto lemmas = parse_lemmas(s, help.lemmas);
            if (lemmas) {
                const Horn h = horn_of(s, target_of(s, question_), *lemmas);
                const HornAnswer a = ask_horn(*ctx, h.rules, h.invariant, h.goal, h.arguments, budget);
                if (a.answer == Answer::unsatisfiable && a.invariant) {
                    Certificate c = help;
                    for (auto& text : conjuncts(*a.invariant)) c.lemmas.push_back(std::move(text));
                    out = InvariantFound{std::move(c)};
                }
            }
        }
        const std::lock_guard<std::mutex> lock(mutex_);
        other_ = nullptr;
        return out;
    }

    Question question_;
    std::optional<std::vector<std::string>> given_;
    z3::context ctx_;
    System system_;
    z3::expr target_;
    std::vector<Candidate> candidates_;
    std::vector<bool> alive_;
    std::vector<z3::expr> before_, after_;
    std::unique_ptr<Solver> houdini_;
    bool sampled_ = false, kept_ = false;
    int induction_ = 1;
    long rounds_ = 0;
    std::mutex mutex_;
    z3::context* other_ = nullptr;
};

}  // namespace

std::unique_ptr<Prover> make_lemmas(const Question& q) { return std::make_unique<Lemmas>(q); }

std::unique_ptr<Prover> make_lemmas_of(const Question& q, std::vector<std::string> lemmas) {
    return std::make_unique<Lemmas>(q, std::move(lemmas));
}

}  // namespace lanyard::prove
