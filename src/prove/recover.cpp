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
#include "prove/recover.hpp"

#include <algorithm>
#include <utility>

#include "prove/playbook.hpp"
#include "prove/time.hpp"
#include "sim/interpreter.hpp"
#include "sim/machine.hpp"

namespace lanyard {

namespace {

constexpr int most_states = 16;
constexpr std::uint64_t first_try = 15'000'000, second_try = 100'000'000;

// The run up to the scan behind which the claim's second part begins.
Run until_begun(const Model& m, int condition, int claim, const Run& run) {
    Interpreter interpreter(m, condition, claim);
    Run out;
    for (const auto& segment : run.segments) {
        Segment part = segment;
        for (long n = 0; n < segment.scans; ++n) {
            interpreter.step(choices_at(segment, n));
            if (!interpreter.machine().state().monitor.begun) continue;
            part.scans = n + 1;
            if (!segment.last_quantities.empty()) {
                const Choices last = choices_at(segment, n);
                part.last_quantities = last.quantities;
                part.last_readings = last.readings;
            }
            out.segments.push_back(std::move(part));
            return out;
        }
        out.segments.push_back(segment);
    }
    return out;
}

class Recovery {
 public:
    Recovery(const Question& q, const JudgeOptions& o, Timing& t, std::string& engine)
        : question_(q), options_(o), timing_(t), engine_(engine) {
        question_.target = Target::bad;
    }

    Verdict run() {
        Question any = question_;
        any.target = Target::demand;
        const Answered first = ask(any, options_, timing_, engine_);
        if (const auto* open = std::get_if<Open>(&first))
            return Undecided{"no state was found to begin with: " + open->reason, 0};
        if (const auto* none = std::get_if<NoHit>(&first))
            return Vacuous{"no scan at all obeys the first condition", none->certificate, std::nullopt};
        state_ = begun(std::get<Hit>(first).run);
        for (int n = 0; n < most_states && !verdict_; ++n) look_at_state();
        if (verdict_) return std::move(*verdict_);
        return Undecided{"no playbook was found that leads to the goal from everywhere", 0};
    }

 private:
    Run begun(const Run& run) const { return until_begun(*question_.model, question_.condition, question_.claim, run); }

    // One state: the trap, or a playbook that leads out of it too.
    void look_at_state() {
        if (options_.stopped()) {
            verdict_ = Undecided{"stopped before it was decided", 0};
            return;
        }
        const auto here = behind(question_, state_);
        if (!here) {
            verdict_ = Undecided{"the state behind a run could not be told", 0};
            return;
        }
        const Answered out = ask(*here, options_, timing_, engine_);
        if (const auto* none = std::get_if<NoHit>(&out)) {
            verdict_ = Refuted{here->before, none->certificate, ""};
        } else if (const auto* open = std::get_if<Open>(&out)) {
            verdict_ = Undecided{"whether a state has a way out was not settled: " + open->reason, 0};
        } else {
            try_playbooks(std::get<Hit>(out).run);
        }
    }

    using Book = std::vector<Phase>;
    struct WayOut {
        Book patient, exact;
    };

    WayOut way_out(const Run& escape, bool world) const {
        const auto steps = [&](bool patient) {
            return steps_of(*question_.model, question_.claim, escape, state_.scans(), {patient, world});
        };
        return {steps(true), steps(false)};
    }

    // The new way out alone, then with each one that is known, before and behind it, then all of them. Short ones
    // first: they are the easier to prove and to follow.
    std::vector<Book> books_with(const WayOut& now) const {
        std::vector<Book> out{now.patient, now.exact};
        for (auto o = ways_.rbegin(); o != ways_.rend(); ++o) {
            out.push_back(joined(now.patient, o->patient));
            out.push_back(joined(o->patient, now.patient));
            out.push_back(joined(now.patient, o->exact));
            out.push_back(joined(o->patient, now.exact));
        }
        Book newest_first = now.patient, oldest_first;
        for (auto o = ways_.rbegin(); o != ways_.rend(); ++o) newest_first = joined(newest_first, o->patient);
        for (const auto& o : ways_) oldest_first = joined(oldest_first, o.patient);
        out.push_back(newest_first);
        out.push_back(joined(oldest_first, now.patient));
        return out;
    }

    // With the driver alone, then with the world's help. The state from which the last of them fails comes next.
    void try_playbooks(const Run& escape) {
        for (const bool world : {false, true}) {
            const WayOut now = way_out(escape, world);
            std::optional<Run> failed;
            for (const auto& book : books_with(now)) {
                if (!fresh(book)) continue;
                auto from = try_playbook(book, first_try);
                if (verdict_ || options_.stopped()) return;
                if (from && from->scans() > 0) failed = std::move(from);
            }
            if (!failed) continue;
            ways_.push_back(now);
            state_ = std::move(*failed);
            return;
        }
        try_again();
    }

    // Nothing new to try: more work for the playbooks that were not decided.
    void try_again() {
        for (const auto& book : std::exchange(open_, {})) {
            try_playbook(book, second_try);
            if (verdict_ || options_.stopped()) return;
        }
        verdict_ = Undecided{"no playbook was found that leads to the goal from everywhere", 0};
    }

    static std::string text_of(const Book& book) {
        std::string text;
        for (const auto& step : book) {
            for (const bool on : step.positions) text += on ? '1' : '0';
            text += ' ' + step.limit.get_str() + (step.nobody_cranks ? " quiet" : "");
            for (const auto& [q, v] : step.world) text += ' ' + std::to_string(q) + '=' + v.get_str();
            text += '\n';
        }
        return text;
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

    // Decides the claim, or tells a state from which the playbook fails; nothing where neither is known.
    std::optional<Run> try_playbook(const Book& book, std::uint64_t budget) {
        const auto model = with_playbook(*question_.model, question_.claim, book);
        if (!model) return std::nullopt;
        Question q = question_;
        q.model = model.get();
        q.claim = static_cast<int>(model->claims.size()) - 1;
        settle_leaps(q, timing_);
        JudgeOptions limited = options_;
        limited.work_limit = std::min(options_.work_limit, budget);
        std::string engine;
        const Answered a = ask(q, limited, timing_, engine);
        if (const auto* hit = std::get_if<Hit>(&a)) return until_begun(*model, q.condition, q.claim, hit->run);
        if (std::holds_alternative<Open>(a)) open_.push_back(book);
        if (const auto* none = std::get_if<NoHit>(&a)) return prove(q, model, none->certificate, engine);
        return std::nullopt;
    }

    // A playbook that nobody can follow from some state fails there too.
    std::optional<Run> prove(Question q, const std::shared_ptr<const Model>& model, const Certificate& c,
                             const std::string& engine) {
        const TimeVerdict time = time_goes_on(*model, q.condition, q.claim, options_);
        if (const auto* stops = std::get_if<TimeStops>(&time)) {
            const Run there = until_begun(*model, q.condition, q.claim, stops->run);
            if (there.scans() == stops->run.scans()) dead_end(there);
            return there;
        }
        if (!std::holds_alternative<TimeGoesOn>(time)) return std::nullopt;
        q.target = Target::demand;
        std::string finder;
        const Answered demand = ask(q, options_, timing_, finder);
        if (const auto* hit = std::get_if<Hit>(&demand)) {
            engine_ = engine;
            verdict_ = Proved{c, hit->run, model};
        }
        return std::nullopt;
    }

    // Does the second condition forbid whatever might follow, playbook or not? One answer of a solver is not enough to
    // say so: the state has to be a trap as well.
    void dead_end(const Run& run) {
        if (check_obligations({stuck(question_, run)}, check_budget).check != Check::holds) return;
        const auto here = behind(question_, run);
        if (!here) return;
        const Answered out = ask(*here, options_, timing_, engine_);
        if (const auto* none = std::get_if<NoHit>(&out))
            verdict_ = Refuted{here->before, none->certificate,
                               "a state is reached from which the second condition allows no scan at all: name another "
                               "second condition"};
    }

    Question question_;
    const JudgeOptions& options_;
    Timing& timing_;
    std::string& engine_;
    Run state_;  // reachable, with the second part just begun
    std::vector<WayOut> ways_;
    std::vector<Book> open_;  // not decided within the first budget
    std::vector<std::string> tried_;
    std::optional<Verdict> verdict_;
};

}  // namespace

Verdict recover(const Question& question, const JudgeOptions& options, Timing& timing, std::string& engine) {
    return Recovery(question, options, timing, engine).run();
}

}  // namespace lanyard
