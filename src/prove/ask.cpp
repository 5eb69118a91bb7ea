// What it decides: one question, with a checked answer.
// Why it is sound: whoever answers, the answer is what certify and the interpreter made of it.
// Why it is deterministic: budgets count solver work, each round has `growth` times that of the one before, and in a
// round the lowest rank wins - never the clock and never the thread.
// When it gives up: at the work limit, or when it is stopped.
// Tested by: tests/lies/main.cpp, tests/encode/clocks_test.cpp
#include "prove/ask.hpp"

#include <algorithm>
#include <chrono>
#include <utility>

#include "base/log.hpp"
#include "certify/complete.hpp"
#include "certify/minimise.hpp"
#include "certify/obligations.hpp"
#include "claims/binding.hpp"
#include "encode/leap.hpp"
#include "prove/canonical.hpp"
#include "prove/coarse.hpp"
#include "prove/known.hpp"
#include "prove/provers.hpp"
#include "sim/interpreter.hpp"
#include "sim/near.hpp"

namespace lanyard::prove {

namespace {

// First budget, growth, and shares and beginnings in the table of provers: what cost least over the questions of
// tests/bench/portfolio.py. Most of the work of slow rounds was in searches that begin anew with too little.
constexpr std::uint64_t growth = 6;
constexpr std::uint64_t patience = 3'200'000;
// A file that says that there is something to be found may lie: so much is spent on looking before the search begins.
constexpr std::uint64_t known_hit_budget = 4'000'000;
// What is tried with the lemmas of another state of the model.
constexpr std::uint64_t alike_budget = 800'000;
constexpr const char* bounded_name = "bounded";

class Watch {
 public:
    explicit Watch(double& total) : total_(total), start_(std::chrono::steady_clock::now()) {}
    ~Watch() { total_ += std::chrono::duration<double>(std::chrono::steady_clock::now() - start_).count(); }
    Watch(const Watch&) = delete;
    Watch& operator=(const Watch&) = delete;

 private:
    double& total_;
    std::chrono::steady_clock::time_point start_;
};

class QuestionSolver {
 public:
    QuestionSolver(const Question& q, const JudgeOptions& o, Timing& t, std::string& prover)
        : asked_(q), question_(q), options_(o), timing_(t), prover_(prover) {}

    // What was said before, taken as if a prover had said it now; nothing if it does not pass.
    std::optional<Answered> again(const KnownAnswer& known) {
        const bool asked_for =
            options_.prover.empty() || known.prover == options_.prover || known.prover == bounded_name;
        if (!asked_for || !can_be_kept(known)) return std::nullopt;
        try {
            auto answer = known_answer(known);
            if (answer) prover_ = known.prover;
            return answer;
        } catch (const z3::exception&) {
            return std::nullopt;
        } catch (const Unsupported&) {  // it speaks of something else
            return std::nullopt;
        }
    }

    // What the answer was made of, as far as another run of the program can make the same of it.
    const std::optional<KnownAnswer>& said() const { return said_; }

    Answered run() {
        const logging::Stopwatch watch;
        LANYARD_LOG(info, "asked, {}, at most {} units", question_.leaps ? "with leaps" : "scan by scan",
                    options_.work_limit);
        Answered out = search();
        LANYARD_LOG(info, "{}{}, {:.3f} s, {} MB", words(out), prover_.empty() ? "" : " (" + prover_ + ")",
                    watch.seconds(), logging::resident_mb());
        return out;
    }

 private:
    Answered search() {
        start();
        Unknown unknown{"the work limit was reached", 0};
        std::uint64_t spent = 0;
        for (std::uint64_t budget = options_.first_budget; spent < options_.work_limit; budget *= growth) {
            for (std::size_t next = 0; next < provers_.size();) {
                const std::size_t i = next++;
                if (options_.stopped()) return Unknown{options_.why_stopped(), unknown.depth};
                if (comes_later(*kinds_[i], budget)) continue;
                const std::uint64_t left = options_.work_limit - std::min(spent, options_.work_limit);
                const std::uint64_t share = std::min(budget / kinds_[i]->share, left);
                if (share == 0) break;
                spent += share;
                if (!provers_[i]) provers_[i] = kinds_[i]->make(question_);
                if (provers_[i]->finished()) continue;
                const Finding f = work(*provers_[i], *kinds_[i], share);
                if (const auto* n = std::get_if<Nothing>(&f)) unknown.depth = std::max(unknown.depth, n->clear_depth);
                if (const auto* c = std::get_if<TooCoarse>(&f)) {
                    refine(*c);
                    next = 0;  // the round begins anew
                    continue;
                }
                auto checked = check(f);
                if (std::exchange(binding_quantity_forbids_, false)) {
                    add_binding_quantities();
                    next = 0;
                    continue;
                }
                if (!checked) continue;
                prover_ = kinds_[i]->name;
                remember(f, *checked);
                return std::move(*checked);
            }
        }
        return unknown;
    }

    static std::string words(const Answered& a) {
        if (const auto* r = std::get_if<Reachable>(&a)) return fmt::format("reachable, {} scans", r->run.scans());
        if (const auto* u = std::get_if<Unreachable>(&a))
            return fmt::format("unreachable, {} lemmas, induction {}", u->certificate.lemmas.size(),
                               u->certificate.induction);
        const auto& unknown = std::get<Unknown>(a);
        return "unknown" + clear(unknown.depth) + ": " + unknown.reason;
    }
    static std::string words(const Finding& f) {
        if (const auto* r = std::get_if<Reached>(&f)) return fmt::format("reached in {} leaps", r->depth);
        if (const auto* i = std::get_if<InvariantFound>(&f))
            return fmt::format("an invariant of {} lemmas", i->certificate.lemmas.size());
        if (const auto* c = std::get_if<TooCoarse>(&f))
            return fmt::format("two-way tables too coarse at {} points", c->tangents.size());
        return "nothing" + clear(std::get<Nothing>(f).clear_depth);
    }
    static std::string clear(std::size_t depth) {
        return depth == 0 ? "" : fmt::format(", none within {} leaps", depth);
    }

    void start() {
        provers_.clear();
        kinds_.clear();
        for (const auto& kind : prover_table()) {
            // Bounded search always helps: it finds the example that every proof owes.
            if (!options_.prover.empty() && kind.name != options_.prover && kind.name != bounded_name) continue;
            provers_.emplace_back();
            kinds_.push_back(&kind);
        }
    }
    void refine(const TooCoarse& c) {
        for (const auto& t : c.tangents)
            if (std::find(question_.tangents.begin(), question_.tangents.end(), t) == question_.tangents.end())
                question_.tangents.push_back(t);
        question_.refined = c.tangents.empty() ? max_refinements : question_.refined + 1;
        LANYARD_LOG(debug, "two-way tables refined, time {}: {} points now", question_.refined,
                    question_.tangents.size());
        start();
    }

    void remember(const Finding& f, const Answered& checked) {
        if (const auto* u = std::get_if<InvariantFound>(&f))
            said_ = {InvariantFound{with_question(u->certificate)}, prover_};
        const auto* r = std::get_if<Reached>(&f);
        if (r == nullptr) return;
        // Of a hit that took refinements the depth alone does not tell how it was come to.
        const bool plain = question_.tangents == asked_.tangents &&
                           question_.with_binding_quantities == asked_.with_binding_quantities;
        if (can_be_played())
            said_ = {*r, prover_, std::get<Reachable>(checked).run};
        else if (plain)
            said_ = {*r, prover_};
    }
    // Whether it is an answer can be seen by playing a run from the beginning.
    bool can_be_played() const { return asked_.extra.empty() && asked_.start.empty(); }

    std::optional<Answered> known_answer(const KnownAnswer& known) {
        if (const auto* proof = std::get_if<InvariantFound>(&known.finding))
            return known.of_another_model ? proved_alike(*proof, known.prover) : proved_again(proof->certificate);
        if (known.run && can_be_played()) return played_again(known);
        const auto* hit = std::get_if<Reached>(&known.finding);
        return hit == nullptr || known.of_another_model ? std::nullopt : found_again(hit->depth);
    }

    std::optional<Answered> played_again(const KnownAnswer& known) {
        const Watch watch(timing_.replaying);
        const auto run = known.of_another_model ? gone_through(*known.run) : known.run;
        if (!run || !replayed(*run).empty()) return std::nullopt;
        if (known.of_another_model) said_ = {known.finding, known.prover, *run};
        return Reachable{*run};
    }
    // With the nearest choices that are legal here, up to the first scan that hits. What is done at once in the run
    // stays together, so that a proof's example has as few steps as it had.
    std::optional<Run> gone_through(const Run& run) const {
        const Model& m = *question_.model;
        const World world(m, question_.condition, question_.claim);
        auto now = std::make_unique<Interpreter>(m, question_.condition, question_.claim);
        Run out;
        for (const Segment& segment : run.segments) {
            Run part;
            bool hit = false, as_wanted = true;
            for (long n = 0; n < segment.scans && !hit; ++n) {
                const Choices c = choices_at(segment, n);
                const auto near = step_near(m, world, now, c, exact_readings(m, c));
                if (!near || options_.stopped()) return std::nullopt;
                as_wanted = as_wanted && near->as_wanted;
                append(part, near->choices);
                hit = hits(near->shows, near->shows.demanded);
            }
            if (as_wanted) part.segments = {first_scans(segment, part.scans())};
            out.segments.insert(out.segments.end(), part.segments.begin(), part.segments.end());
            if (hit) return out;
        }
        return std::nullopt;
    }

    // A proof of another state of the model: it may be one here as well, or what is left of it may.
    std::optional<Answered> proved_alike(const InvariantFound& old, const std::string& prover) {
        const Certificate& c = old.certificate;
        if (c.with_binding_quantities && !question_.with_binding_quantities) {
            if (!binding_quantities_left()) return std::nullopt;
            add_binding_quantities();
        }
        const Certificate left = readable(question_, c);
        question_.tangents = left.tangents;
        const auto take = [&](const Certificate& found) {
            auto answer = check_certificate(found, Origin::file);
            if (answer) said_ = {InvariantFound{with_question(found)}, prover};
            return answer;
        };
        if (auto answer = take(left)) return answer;
        const ProverKind& kind = prover_named("lemmas");
        const auto houdini = make_lemmas_of(question_, left.lemmas);
        for (std::uint64_t budget = 400'000; budget <= alike_budget && !options_.stopped(); budget *= 2) {
            const Finding f = work(*houdini, kind, budget);
            if (const auto* found = std::get_if<InvariantFound>(&f)) return take(found->certificate);
        }
        return std::nullopt;
    }

    // Bounded search alone, which ends with the shortest run, as deep as a hit is said to be.
    std::optional<Answered> found_again(std::size_t depth) {
        const ProverKind& kind = prover_named(bounded_name);
        const auto bounded = kind.make(question_);
        for (std::uint64_t spent = 0; spent < known_hit_budget; spent += known_hit_budget / 8) {
            if (options_.stopped()) return std::nullopt;
            const Finding f = work(*bounded, kind, known_hit_budget / 8);
            if (const auto* r = std::get_if<Reached>(&f)) return check_hit(r->depth);
            const auto* nothing = std::get_if<Nothing>(&f);
            if (nothing == nullptr || nothing->clear_depth >= depth) return std::nullopt;
        }
        return std::nullopt;
    }

    // A proof of which less is one already was not found by a search, which looks for less first.
    std::optional<Answered> proved_again(const Certificate& c) {
        const auto holds = [&](const Certificate& less) {
            const Watch watch(timing_.rechecking);
            return check_obligations(obligations(question_, less), check_budget).check == Check::holds;
        };
        if (!can_be_read(question_, c) || (question_.with_binding_quantities && !c.with_binding_quantities))
            return std::nullopt;
        if (c.with_binding_quantities && !question_.with_binding_quantities) {
            Certificate narrow = c;
            narrow.with_binding_quantities = false;
            if (!binding_quantities_left() || holds(narrow)) return std::nullopt;
            question_ = with_binding_quantities(question_);
            if (question_.leaps) settle_leaps(question_, options_, timing_);
        }
        question_.tangents = c.tangents;
        if (c.induction > 1) {
            Certificate shorter = c;
            --shorter.induction;
            if (holds(shorter)) return std::nullopt;
        }
        return check_certificate(c, Origin::file);
    }

    // A spurious run: add the quantities that block it and ask again.
    void add_binding_quantities() {
        LANYARD_LOG(debug, "a quantity beyond the claim's cone forbids the run that was found: all binding ones join");
        question_ = with_binding_quantities(question_);
        if (question_.leaps) settle_leaps(question_, options_, timing_);
        start();
    }

    // Whether a claim demands anything is nearly always settled by a short run: the others wait.
    bool comes_later(const ProverKind& kind, std::uint64_t budget) const {
        if (budget < kind.from) return true;
        return question_.target == Target::demand && kind.name != bounded_name && budget < patience;
    }

    std::string claim_name() const {
        if (!question_.claim) return "the condition";
        return "claim '" + question_.model->claims[question_.claim].id + "'";
    }

    Finding work(Prover& p, const ProverKind& kind, std::uint64_t budget) {
        const logging::About about([&] { return kind.name; });
        const logging::Stopwatch stopwatch;
        const Watch watch(timing_.finding);
        const AtWork at_work(options_, p);
        Finding out = p.work(budget);
        LANYARD_LOG(debug, "{}, up to {} units, {:.3f} s", words(out), budget, stopwatch.seconds());
        return out;
    }

    std::optional<Answered> check(const Finding& f) {
        if (const auto* r = std::get_if<Reached>(&f)) return check_hit(r->depth);
        if (const auto* u = std::get_if<InvariantFound>(&f)) return check_certificate(u->certificate, Origin::prover);
        return std::nullopt;
    }

    std::optional<Answered> check_hit(std::size_t depth) {
        std::optional<PartialRun> partial;
        {
            const Watch watch(timing_.minimising);
            partial = options_.any_run ? any_run(question_, depth) : canonical_run(question_, depth);
        }
        if (!partial) {
            if (options_.stopped()) return std::nullopt;
            throw InternalError{"a hit at depth " + std::to_string(depth) + " cannot be derived again for " +
                                claim_name()};
        }
        const Watch watch(timing_.replaying);
        std::string why;
        const auto run = complete(question_, *partial, why);
        if (!run && binding_quantities_left()) {
            binding_quantity_forbids_ = true;
            return std::nullopt;
        }
        if (!run) throw InternalError{"the interpreter rejects a run of the solver for " + claim_name() + ": " + why};
        LANYARD_LOG(debug, "run derived anew and completed: {} leaps, {} scans", depth, run->scans());
        const std::string wrong = replayed(*run);
        if (!wrong.empty()) throw InternalError{"a run does not replay for " + claim_name() + ": " + wrong};
        return Reachable{*run};
    }

    bool binding_quantities_left() const {
        return !question_.with_binding_quantities &&
               !binding_quantities(*question_.model, question_.condition, question_.claim).empty();
    }

    // Plays the run to its end; what is wrong with it, or nothing.
    std::string replayed(const Run& run) const {
        Interpreter interpreter(*question_.model, question_.condition, question_.claim);
        bool demanded = false;
        const Scan last = play(interpreter, run, [&](const Choices&, const Scan& s) {
            demanded = demanded || s.demanded;
            return true;
        });
        if (!last.broken_rule.empty()) return last.broken_rule;
        return hits(last, demanded) ? "" : "it does not hit";
    }
    bool hits(const Scan& last, bool demanded) const {
        if (!question_.extra.empty()) return true;  // a state, which the caller looks at himself
        if (question_.target == Target::demand) return demanded;
        const auto& body = question_.model->claims[question_.claim].body;
        const bool reaches = std::holds_alternative<Possible>(body) || std::holds_alternative<Recoverable>(body);
        return reaches ? last.goal : last.violated;
    }

    Certificate with_question(Certificate c) const {
        c.tangents = question_.tangents;
        c.with_binding_quantities = question_.with_binding_quantities;
        c.leaps = question_.leaps;
        return c;
    }

    // What a prover says has to pass; what a file says may be a lie.
    enum class Origin { prover, file };
    std::optional<Answered> check_certificate(const Certificate& found, Origin origin) {
        Certificate small;
        {
            const Watch watch(timing_.minimising);
            small = minimise(question_, with_question(found), check_budget);
            LANYARD_LOG(debug, "certificate: {} of {} lemmas kept", small.lemmas.size(), found.lemmas.size());
        }
        const Watch watch(timing_.rechecking);
        const CheckResult checked = check_obligations(obligations(question_, small), check_budget);
        if (checked.check == Check::holds) return Unreachable{small};
        if (checked.check == Check::unknown || options_.stopped() || origin == Origin::file) return std::nullopt;
        throw InternalError{"a certificate fails its check (" + checked.where + ") for " + claim_name()};
    }

    const Question& asked_;
    Question question_;                      // with the refinements so far
    bool binding_quantity_forbids_ = false;  // a run of the cone is none of the whole model
    const JudgeOptions& options_;
    Timing& timing_;
    std::string& prover_;
    std::vector<std::unique_ptr<Prover>> provers_;  // made when their turn comes
    std::vector<const ProverKind*> kinds_;
    std::optional<KnownAnswer> said_;
};

}  // namespace

namespace {

// What it is that may be reached.
std::string words_of(const Question& q) {
    std::string out = !q.extra.empty() ? "given states" : q.target == Target::bad ? "bad" : "demand";
    if (!q.start.empty()) out += " after a run";
    return out;
}

}  // namespace

Answered ask(const Question& q, const JudgeOptions& options, Timing& timing, std::string& prover) {
    const logging::About about([&] { return words_of(q); });
    if (options.known == nullptr) return QuestionSolver(q, options, timing, prover).run();
    const QuestionKey key = key_of(q, options);
    const auto keep = [&](const QuestionSolver& solver) {
        if (solver.said() && !options.stopped()) options.known->keep(key, *solver.said(), *q.model);
    };
    if (const auto known = options.known->look_up(key, *q.model)) {
        QuestionSolver solver(q, options, timing, prover);
        if (auto again = solver.again(*known)) {
            LANYARD_LOG(info, "kept answer of {}{} checked anew: it holds", known->prover,
                        known->of_another_model ? " to another state of the model" : "");
            keep(solver);
            return std::move(*again);
        }
        LANYARD_LOG(info, "kept answer of {} does not pass: searched for", known->prover);
        if (!options.stopped()) options.known->drop(key);
    }
    QuestionSolver solver(q, options, timing, prover);
    Answered found = solver.run();
    keep(solver);
    return found;
}

namespace {

class LemmaAtWork : public Interruptible {
 public:
    void interrupt() override { context.interrupt(); }
    z3::context context;
};

// With moving quantities and a playbook's many clocks the lemma has been seen to keep the solver busy beyond every
// limit: then each step is one scan.
bool lemma_is_hopeless(const Question& q) {
    if (!q.claim) return false;
    const auto* steps = std::get_if<Procedure>(&q.model->claims[q.claim].body);
    const auto& all = q.model->quantities;
    return steps && steps->any_time && std::any_of(all.begin(), all.end(), [](const Quantity& x) { return x.moves(); });
}

}  // namespace

void settle_leaps(Question& q, const JudgeOptions& options, Timing& timing) {
    const logging::Stopwatch stopwatch;
    const Watch watch(timing.rechecking);
    if (lemma_is_hopeless(q)) {
        q.leaps = false;
        LANYARD_LOG(info, "leap lemma: not asked, scan by scan");
        return;
    }
    const logging::About about([] { return "leap lemma"; });
    LemmaAtWork lemma;
    const AtWork at_work(options, lemma);
    const System s = system_of(lemma.context, q, false);
    switch (leap_lemma(s, std::min(check_budget, options.work_limit))) {
        case LeapLemma::holds:
            break;
        case LeapLemma::unknown:
            q.leaps = false;
            break;
        case LeapLemma::refuted:
            // What a solver says that was interrupted counts for nothing.
            if (!options.stopped()) throw InternalError{"the leap lemma fails"};
            q.leaps = false;
            break;
    }
    LANYARD_LOG(info, "{}, {:.3f} s", q.leaps ? "holds" : "not settled, scan by scan", stopwatch.seconds());
}

}  // namespace lanyard::prove
