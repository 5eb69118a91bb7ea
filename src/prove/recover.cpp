// What it decides: whether from every state that is reachable under one condition some run under another reaches a
// goal - "for all states there is a run", which no single query says.
//
// How: counterexample-guided. Take a reachable state. Can the goal be reached from it? If not, that state is the trap,
// and the invariant that shows it is a closed set without the goal. If it can, the run there is made into a playbook:
// steps of a driver who starts anywhere. Does every run in which somebody follows the playbook get to the goal? If so,
// the claim is proved; if not, the state from which it failed is the next to be looked at, and its way out joins the
// playbook.
//
// Why it is sound: a playbook is a procedure, proved like every other (for all runs, which is more than is asked for),
// and time goes on while it is followed - from each state some run exists at all, so some run gets to the goal. A trap
// is a replayed run and a checked certificate about all that may follow it.
//
// When it gives up: after a fixed number of states, when a way out needs a driver who does different things in
// different states or a world that helps in a way that no playbook says, or when the provers do. The pattern is
// counterexample-guided inductive synthesis: A. Solar-Lezama et al., "Combinatorial sketching for finite programs",
// ASPLOS 2006.
// Tested by: tests/cases_run/main.cpp, tests/lies/main.cpp
#include "prove/recover.hpp"

#include <algorithm>
#include <set>
#include <utility>

#include "base/log.hpp"
#include "certify/obligations.hpp"
#include "encode/state_names.hpp"
#include "prove/playbook.hpp"
#include "prove/settle_trap.hpp"
#include "prove/standstill.hpp"
#include "prove/time.hpp"
#include "sim/interpreter.hpp"
#include "sim/machine.hpp"

namespace lanyard::prove {

namespace {

constexpr int max_states = 16;
constexpr std::uint64_t first_try = 15'000'000, second_try = 100'000'000;

// The run up to the scan behind which the claim's second part begins.
Run until_begun(const Model& m, ConditionId condition, ClaimId claim, const Run& run) {
    Interpreter interpreter(m, condition, claim);
    long scans = 0;
    bool begun = false;
    play(interpreter, run, [&](const Choices&, const Scan&) {
        ++scans;
        begun = interpreter.machine().state().monitor.begun;
        return !begun;
    });
    return begun ? first_scans(run, scans) : run;
}

class Recovery {
 public:
    Recovery(const Question& q, const JudgeOptions& o, Timing& t, std::string& prover)
        : question_(q), options_(o), timing_(t), prover_(prover) {
        question_.target = Target::bad;
    }

    Verdict run() {
        Question any = question_;
        any.target = Target::demand;
        const Answered first = ask(any, options_, timing_, prover_);
        if (const auto* unknown = std::get_if<Unknown>(&first))
            return Undecided{"no state was found to begin with: " + unknown->reason, 0};
        if (const auto* none = std::get_if<Unreachable>(&first)) {
            // No scan of the second part: because there is no state for it to begin in, or because it forbids all.
            any.extra = claim_bit(StateRole::begun);
            const Answered seam = ask(any, options_, timing_, prover_);
            if (const auto* unknown = std::get_if<Unknown>(&seam))
                return Undecided{"no state was found to begin with: " + unknown->reason, 0};
            if (std::holds_alternative<Unreachable>(seam))
                return Vacuous{"no scan obeys the first condition", none->certificate};
            states_.push_back(begun(std::get<Reachable>(seam).run));
        } else {
            states_.push_back(begun(std::get<Reachable>(first).run));
        }
        look_at_states();
        if (!verdict_) ask_the_world();
        if (!verdict_) try_again();
        return std::move(*verdict_);
    }

 private:
    Run begun(const Run& run) const { return until_begun(*question_.model, question_.condition, question_.claim, run); }

    void look_at_states() {
        for (int n = 0; n < max_states && !verdict_ && !states_.empty(); ++n) look_at_state();
    }

    // One state: the trap, or a playbook that leads out of it too.
    void look_at_state() {
        if (options_.stopped()) {
            verdict_ = Undecided{options_.why_stopped(), 0};
            return;
        }
        state_ = std::move(states_.back());
        states_.pop_back();
        const auto here = behind(question_, state_);
        if (!here || !seen_.insert(here->start).second) return;
        LANYARD_LOG(debug, "state {}, after {} scans: is there a way out?", seen_.size(), state_.scans());
        const Answered out = ask(*here, options_, timing_, prover_);
        if (const auto* none = std::get_if<Unreachable>(&out)) {
            dead_end(here->before);
            if (!verdict_ && !other_modes(here->before)) verdict_ = trapped(here->before, none->certificate);
        } else if (const auto* unknown = std::get_if<Unknown>(&out)) {
            verdict_ = Undecided{"it was not settled whether a state has a way out: " + unknown->reason, 0};
        } else {
            looked_at_.push_back({state_, std::get<Reachable>(out).run});
            try_playbooks(looked_at_.back());
        }
    }

    Verdict trapped(const Run& found, const Certificate& closed) const {
        const auto plain = options_.any_run ? std::nullopt : behind_settled(question_, found, closed, options_);
        return Refuted{plain ? plain->before : found, closed, ""};
    }

    // The second condition forbids whatever follows in the mode that the engine goes to here, and lets some other one
    // go on: that one counts, and is looked at.
    bool other_modes(const Run& run) {
        const auto dead = [&](const Run& r) {
            return check_obligations({stuck(question_, r, false)}, check_budget).check == Check::holds;
        };
        if (!question_.model->engine || !dead(run)) return false;
        bool found = false;
        for (const Run& r : each_next_mode(question_, run)) {
            if (dead(r)) continue;
            states_.push_back(r);
            found = true;
        }
        return found;
    }

    using Book = std::vector<Phase>;
    struct WayOut {
        Book patient, exact;
    };

    struct Looked {
        Run state, escape;
    };

    WayOut way_out(const Looked& at) const {
        const auto steps = [&](bool patient) {
            return steps_of(*question_.model, question_.claim, at.escape, at.state.scans(), {patient, world_});
        };
        return {steps(true), steps(false)};
    }

    // All known ways out one behind the other, then the new one.
    Book cumulative(const WayOut& now) const {
        Book out;
        for (const auto& o : ways_) out = joined(out, o.patient);
        return joined(out, now.patient);
    }
    // The new way out with each one that is known, before and behind it, as patient and as found.
    std::vector<Book> mixtures(const WayOut& now) const {
        std::vector<Book> out{now.exact};
        for (auto o = ways_.rbegin(); o != ways_.rend(); ++o) {
            out.push_back(joined(now.patient, o->patient));
            out.push_back(joined(o->patient, now.patient));
            out.push_back(joined(now.patient, o->exact));
            out.push_back(joined(o->patient, now.exact));
        }
        return out;
    }

    // Where the last of them fails is looked at next: first the state that it ends in, where everything has settled,
    // then the one that it began in.
    void try_playbooks(const Looked& at) {
        const WayOut now = way_out(at);
        std::vector<Run> failed = try_books({now.patient, cumulative(now)});
        if (failed.empty()) failed = try_books(mixtures(now));
        if (verdict_ || failed.empty()) return;
        ways_.push_back(now);
        for (auto& state : failed) states_.push_back(std::move(state));
    }

    // The driver alone does not get there from everywhere: the ways out once more, with what the world did in them.
    void ask_the_world() {
        world_ = true;
        ways_.clear();
        seen_.clear();
        for (const auto& at : std::vector<Looked>(looked_at_.rbegin(), looked_at_.rend())) {
            if (verdict_) return;
            try_playbooks(at);
            look_at_states();
        }
    }

    // States of the last of them that fails; none where nothing new fails.
    std::vector<Run> try_books(const std::vector<Book>& books) {
        std::vector<Run> failed;
        for (const auto& book : books) {
            if (verdict_ || options_.stopped() || spent_ > options_.work_limit || !fresh(book)) continue;
            auto states = try_playbook(book, first_try);
            if (!states.empty()) failed = std::move(states);
        }
        return failed;
    }

    // Nothing new to try: more work for the playbooks that were not decided.
    void try_again() {
        for (const auto& book : std::exchange(open_, {})) {
            try_playbook(book, second_try);
            if (verdict_) return;
            if (options_.stopped() || spent_ > options_.work_limit) break;
        }
        verdict_ = Undecided{options_.stopped() ? options_.why_stopped()
                                                : "no playbook was found that leads to the goal from everywhere",
                             0};
    }

    // One behind the other; where one of them holds the other, that one.
    static Book joined(Book a, const Book& b) {
        const std::string first = text_of(a), second = text_of(b);
        if (first.find(second) != std::string::npos) return a;
        if (second.find(first) != std::string::npos) return b;
        a.insert(a.end(), b.begin(), b.end());
        return a;
    }
    bool fresh(const Book& book) {
        if (book.empty()) return false;
        const std::string text = text_of(book);
        if (std::find(tried_.begin(), tried_.end(), text) != tried_.end()) return false;
        tried_.push_back(text);
        return true;
    }

    // Decides the claim, or tells states of a run in which the playbook fails; none where neither is known.
    std::vector<Run> try_playbook(const Book& book, std::uint64_t budget) {
        const auto model = with_playbook(*question_.model, question_.claim, book);
        if (!model) return {};
        const logging::About about([&] { return fmt::format("playbook {}, {} steps", tried_.size(), book.size()); });
        Question q = question_;
        q.model = model.get();
        q.claim = model->claims.last();
        JudgeOptions limited = options_;
        limited.work_limit = std::min(options_.work_limit, budget);
        q.leaps = true;
        settle_leaps(q, limited, timing_);
        std::string prover;
        const Answered a = ask(q, limited, timing_, prover);
        if (std::holds_alternative<Unknown>(a)) {
            open_.push_back(book);
            spent_ += budget;
        }
        if (const auto* none = std::get_if<Unreachable>(&a)) return prove(q, model, none->certificate, prover);
        if (const auto* hit = std::get_if<Reachable>(&a)) return states_of(q, hit->run);
        return {};
    }

    // Where the steps began, and where they ended if that can be reached under the first condition alone.
    std::vector<Run> states_of(const Question& q, const Run& run) const {
        std::vector<Run> out{until_begun(*q.model, q.condition, q.claim, run)};
        if (out.back().segments.empty()) return {};
        Run waited = run;
        for (auto& segment : waited.segments) segment.first.claim_moves_on = false;
        const Segment end = std::move(waited.segments.back());
        waited.segments.pop_back();
        if (end.scans > 1) waited.segments.push_back(first_scans(end, end.scans - 1));
        Segment last;
        last.first = choices_at(end, end.scans - 1);
        last.first.claim_moves_on = true;
        waited.segments.push_back(last);
        const Replay played = replay(*question_.model, waited, question_.condition, question_.claim);
        if (played.legal) out.push_back(std::move(waited));
        return out;
    }

    // A playbook that nobody can follow from some state fails there too.
    std::vector<Run> prove(Question q, const std::shared_ptr<const Model>& model, const Certificate& c,
                           const std::string& prover) {
        const TimeVerdict time = time_goes_on(*model, q.condition, q.claim, options_);
        if (const auto* stops = std::get_if<TimeStops>(&time)) {
            if (stops->in_first_part) {
                verdict_ = vacuous_because(*question_.model, question_.claim, *stops);
                return {};
            }
            const Run there = until_begun(*model, q.condition, q.claim, stops->run);
            if (there.scans() == stops->run.scans()) dead_end(there);
            return {there};
        }
        if (!std::holds_alternative<TimeGoesOn>(time)) return {};
        q.target = Target::demand;
        std::string finder;
        const Answered demand = ask(q, options_, timing_, finder);
        if (const auto* hit = std::get_if<Reachable>(&demand)) {
            prover_ = prover;
            verdict_ = Proved{c, hit->run, model, std::get<TimeGoesOn>(time).evidence};
        }
        return {};
    }

    // Does the second condition forbid whatever might follow, playbook or not? One answer of a solver is not enough to
    // say so: the state has to be a trap as well.
    void dead_end(const Run& run) {
        const Run apart = with_last_scan_apart(run);
        if (check_obligations({stuck(question_, apart, true)}, check_budget).check != Check::holds) return;
        const auto here = behind(question_, apart);
        if (!here) return;
        const Answered out = ask(*here, options_, timing_, prover_);
        if (const auto* none = std::get_if<Unreachable>(&out))
            verdict_ = Refuted{here->before, none->certificate,
                               "a state is reached from which the second condition allows no scan: name another second "
                               "condition"};
    }

    Question question_;
    const JudgeOptions& options_;
    Timing& timing_;
    std::string& prover_;
    // Reachable, with the second part just begun: the one that is looked at, those to come, those that were.
    Run state_;
    std::vector<Run> states_;
    std::vector<Looked> looked_at_;
    std::uint64_t spent_ = 0;  // on playbooks that were not decided
    bool world_ = false;       // playbooks say what the world does too
    std::set<std::vector<std::string>> seen_;
    std::vector<WayOut> ways_;
    std::vector<Book> open_;  // not decided within the first budget
    std::vector<std::string> tried_;
    std::optional<Verdict> verdict_;
};

}  // namespace

Verdict recover(const Question& question, const JudgeOptions& options, Timing& timing, std::string& prover) {
    return Recovery(question, options, timing, prover).run();
}

}  // namespace lanyard::prove
