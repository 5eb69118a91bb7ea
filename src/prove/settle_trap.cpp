// What it decides: which way into a trap is told.
//
// How: it is settled like any run (settle.hpp), and ends as soon as its state belongs to the closed set. That is looked
// up state by state: the run so far is unrolled with every choice fixed, and each lemma has to be true of the values
// that come out. A state that was looked at before is known by the interpreter's text of it. At its end the switches
// are where they are in the run that was found: a trap is not told with a key that is off and might be turned.
//
// Why it is sound: of the run that comes out the closed set's obligations are discharged once more, from that run's
// end; without that the run that was found is told. A state in which the second condition allows no scan is a trap for
// another reason and is left to whoever looks for those. When it gives up: after so many states, or with long runs.
// Tested by: tests/prove/settle_trap_test.cpp
#include "prove/settle_trap.hpp"

#include <map>

#include "base/log.hpp"
#include "certify/closed_set.hpp"
#include "certify/obligations.hpp"
#include "prove/settle.hpp"
#include "sim/machine.hpp"

namespace lanyard::prove {

namespace {

constexpr int max_trap_states = 150;
constexpr std::size_t max_steps = 100;  // of a run, unrolled

class ClosedStates {
 public:
    ClosedStates(const Question& q, const Run& found, const Certificate& closed)
        : question_(q), positions_(choices_at(found, found.scans() - 1).positions), closed_(closed) {}

    // The second part begins behind this scan, in a state of the closed set.
    bool reached(const Scan& shown, const Interpreter& after, const Run& run) {
        if (!after.machine().state().monitor.begun || shown.demanded) return false;
        if (run.segments.back().first.positions != positions_) return false;
        const auto [known, fresh] = known_.try_emplace(after.state_text(), false);
        if (fresh && std::ssize(known_) <= max_trap_states) known->second = ends_inside(run);
        return known->second;
    }

 private:
    bool ends_inside(const Run& run) const {
        const Run steps = in_steps(*question_.model, question_, run);
        if (steps.segments.size() > max_steps) return false;
        const auto here = behind(question_, steps);
        return here && lies_inside(*here, closed_);
    }

    const Question& question_;
    const Indexed<Switch, bool> positions_;
    const Certificate& closed_;
    std::map<std::string, bool> known_;
};

}  // namespace

std::optional<Question> behind_settled(const Question& question, const Run& run, const Certificate& closed,
                                       const JudgeOptions& o) {
    const logging::About about([] { return "way into the trap"; });
    Question q = question;
    q.tangents = closed.tangents;
    q.with_binding_quantities = closed.with_binding_quantities;
    ClosedStates states(q, run, closed);
    const Run plain = settled(q, run, o, [&](const Scan& shown, const Interpreter& after, const Run& so_far) {
        return states.reached(shown, after, so_far);
    });
    const auto here = behind(q, in_steps(*q.model, q, plain));
    if (!here || check_obligations({stuck(q, here->before, false)}, check_budget).check != Check::fails) return {};
    if (check_obligations(obligations(*here, closed), check_budget).check != Check::holds) return {};
    return here;
}

}  // namespace lanyard::prove
