// What it decides: which run is told of a claim that can be broken.
//
// How: the claim is asked again of a world that is more ordinary than it has to be, and about a violation that lasts;
// the first of these questions that has an answer gives the run:
//   1. a healthy engine, in which only what the claim speaks of may have any value, and a violation that lasts;
//   2. the same, and a violation that lasts for half a second: no hair's breadth;
//   3. the same without lasting;
//   4. the claim's own condition, and a violation that lasts, or does so for half a second.
// Without an answer it is the run that was found. Each question gets a small amount of the solver's work, bounded
// search alone. What comes out is settled (settle.hpp) in the same world.
//
// Why it is sound: whatever it was asked of, the run is shown only if it replays under the claim's own condition and
// answers the claim's own question. Nothing but the choice between runs depends on it, never a verdict. When it gives
// up: the work is used up, and a less ordinary run is shown.
// Tested by: tests/prove/settle_test.cpp
#include "prove/ordinary.hpp"

#include <algorithm>
#include <set>

#include "base/log.hpp"
#include "lang/expr.hpp"
#include "model/make_expr.hpp"
#include "prove/playbook.hpp"
#include "prove/settle.hpp"
#include "prove/short_search.hpp"

namespace lanyard::prove {

namespace {

constexpr std::uint64_t one_question = 100'000;
const Rational clear_miss(1, 2);  // seconds; less is a hair's breadth
// A violation that lasts so long is as good as one that lasts, where many runs are tried.
constexpr long max_lasting_scans = 50;

std::set<QuantityId> quantities_in(const Model& m, const std::vector<ExprPtr>& expressions) {
    std::set<QuantityId> out;
    for (const auto& e : expressions) {
        visit(e, [&](const Expr& part) {
            if (part.op != Op::signal) return;
            const Signal& s = m.signal(part.signal);
            if (s.kind == SignalKind::quantity) out.insert(s.index);
            if (s.kind == SignalKind::reading) out.insert(m.sensors[s.index].quantity);
        });
    }
    return out;
}

// The claim asked of a changed copy of its model, of which the question is about.
struct Asked {
    Model model;
    Question question;

    explicit Asked(const Question& q) : model(*q.model), question(q) { question.model = &model; }
    Asked(const Asked&) = delete;
    Asked& operator=(const Asked&) = delete;

    Claim& claim() { return model.claims[question.claim]; }

    void made_into(const std::string& what) { model.made_into += '\n' + what; }

    ConditionId healthy(ConditionId from, bool any_speed) {
        Condition c = model.conditions[from];
        if (c.healthy) return from;
        c.healthy = true;
        std::vector<ExprPtr> speaks = expressions_of(claim());
        speaks.insert(speaks.end(), c.holds.begin(), c.holds.end());
        for (const QuantityId i : quantities_in(model, speaks)) {
            const bool is_speed = model.engine && model.engine->speed == i;
            if (!is_speed || any_speed) c.replaced.emplace_back(i, model.quantities[i].range);
        }
        return model.conditions.add(std::move(c));
    }
    void make_healthy(bool any_speed) {
        Claim& c = claim();
        c.condition = question.condition = healthy(question.condition, any_speed);
        if (c.reached_under) c.reached_under = healthy(c.reached_under, any_speed);
        made_into(any_speed ? "healthy at any speed" : "healthy");
    }
    // False: nothing can be said of how long it lasts.
    bool make_lasting(const Rational& time) {
        Claim& c = claim();
        if (auto* r = std::get_if<Response>(&c.body)) {
            r->within += time;
        } else if (const auto* a = std::get_if<Always>(&c.body)) {
            Response lasts;
            lasts.whenever = boolean_expr(Op::not_, {a->body});
            lasts.then = truth_expr(false);
            lasts.within = time;
            c.body = lasts;
        } else {
            return false;
        }
        made_into("lasting " + time.get_str());
        return true;
    }
};

class Search {
 public:
    Search(const Question& q, const Run& found, const JudgeOptions& o) : question_(q), found_(found), options_(o) {}

    Run run() {
        const Model& m = *question_.model;
        const ConditionId reached_under = m.claims[question_.claim].reached_under;
        const bool plain =
            !m.conditions[question_.condition].healthy || (reached_under && !m.conditions[reached_under].healthy);
        const Rational for_good = settling_time(m, question_.claim), clear = std::min(clear_miss, for_good);
        for (const Rational& lasting : {for_good, clear, Rational(0)}) {
            if (plain && m.engine && try_world(true, false, lasting)) return *out_;
            if (plain && m.engine && speaks_of_speed() && try_world(true, true, lasting)) return *out_;
        }
        for (const Rational& lasting : {for_good, clear})
            if (try_world(false, false, lasting)) return *out_;
        return settled(question_, found_, options_);
    }

 private:
    bool speaks_of_speed() const {
        const Model& m = *question_.model;
        std::vector<ExprPtr> speaks = expressions_of(m.claims[question_.claim]);
        const auto& holds = m.conditions[question_.condition].holds;
        speaks.insert(speaks.end(), holds.begin(), holds.end());
        return quantities_in(m, speaks).contains(m.engine->speed);
    }

    // Of the changed world the run has to be legal in the claim's own as well.
    bool try_world(bool healthy, bool any_speed, const Rational& time) {
        if (options_.stopped()) return false;
        const Model& m = *question_.model;
        Asked asked(question_), settling(question_);
        const Rational enough = std::min(time, Rational(max_lasting_scans * m.scan));
        for (auto* a : {&asked, &settling}) {
            if (healthy) a->make_healthy(any_speed);
            if (time > 0 && !a->make_lasting(a == &asked ? time : enough)) return false;
        }
        const auto found = short_search(asked.question, options_, one_question);
        LANYARD_LOG(debug, "{}{}{} run: {}", healthy ? "healthy" : "ordinary", any_speed ? " at any speed" : "",
                    time > 0 ? ", lasting " + time.get_str() + " s" : "", found ? "found" : "none");
        const auto begun = found ? up_to_answer(settling.question, *found) : std::nullopt;
        if (!begun) return false;
        const auto run = up_to_answer(question_, settled(settling.question, *begun, options_));
        if (!run || (time > 0 && !stays_broken(question_, *run, scans_up(time, m.scan)))) return false;
        out_ = *run;
        return true;
    }

    const Question& question_;
    const Run& found_;
    const JudgeOptions& options_;
    std::optional<Run> out_;
};

}  // namespace

Run ordinary_run(const Question& q, const Run& found, const JudgeOptions& o) {
    const logging::About about([] { return "ordinary run"; });
    return Search(q, found, o).run();
}

}  // namespace lanyard::prove
