// Why a memory element is on or off: what it has been told and when. A `name` is "its TON" or the element as it is
// written.
#include "report/explainer.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

struct ElementWalker : Walker {
    List element(const Expr& e, long scan, const std::string& name) {
        const Deeper deeper(told_);
        List out;
        if (is_clock(e.op))
            out = e.op == Op::ton   ? on_delay(e, scan, name)
                  : e.op == Op::tof ? off_delay(e, scan, name)
                                    : pulse(e, scan, name);
        if (is_latch(e.op) || e.op == Op::band) out = latch(e, scan, name);
        if (class_of(e.op) == OpClass::edge) out = edge(e, scan, name);
        if (class_of(e.op) == OpClass::counter) out = counter(e, scan, name);
        if (e.op == Op::previous) out = before(e, scan, name);
        return out;
    }

    bool without_power(const Expr& e, const Frame& frame) const {
        return !m_.elements[e.element].observer && !film_.controller_runs(frame);
    }

    // Clocks count the present scan; at the first of them no time has passed yet. The state that is kept belongs to the
    // last kept scan, from which the clock has gone on scan by scan.
    std::string run_time(const Expr& e, long scan) const {
        const Frame& frame = film_.at(scan);
        const long count = film_.state_of(e, frame).count + (scan - frame.scan);
        return duration_text(Rational((count - 1) * m_.scan)) + " of " + duration_text(e.value);
    }

    List on_delay(const Expr& e, long scan, const std::string& name) {
        const Expr& in = *e.args[0];
        const Frame& frame = film_.at(scan);
        if (film_.is_on(e, frame)) return one(name + " has run out at " + time(film_.since(e, scan)), truth(in, scan));
        if (film_.truth(in, frame)) return one(name + " has run " + run_time(e, scan) + when(scan), truth(in, scan));
        return one(name + " is not running" + when(scan), truth(in, scan));
    }

    List off_delay(const Expr& e, long scan, const std::string& name) {
        const Expr& in = *e.args[0];
        const Frame& frame = film_.at(scan);
        if (film_.truth(in, frame)) return one(name + " is held on" + when(scan), truth(in, scan));
        if (film_.is_on(e, frame)) return one(name + " has run " + run_time(e, scan) + when(scan), truth(in, scan));
        const long since = film_.since(e, scan);
        const std::string what = since > 0 ? " has run out at " + time(since) : " has not been on";
        return one(name + what, truth(in, scan));
    }

    List pulse(const Expr& e, long scan, const std::string& name) {
        const Expr& in = *e.args[0];
        const long since = film_.since(e, scan);
        if (film_.is_on(e, film_.at(scan)))
            return one(name + " has run " + run_time(e, scan) + when(scan), truth(in, since));
        if (since == 0) return one(name + " has not been started", truth(in, scan));
        return one(name + " of " + duration_text(e.value) + " ended at " + time(since), truth(in, scan));
    }

    List latch(const Expr& e, long scan, const std::string& name) {
        static_assert(size_of(OpClass::latch) == 2);
        const Expr& set = *e.args[0];
        const Expr& reset = *e.args[1];
        const Frame& frame = film_.at(scan);
        const long since = film_.since(e, scan);
        const Frame& then = film_.at(since);
        const bool is_band = e.op == Op::band;
        if (film_.is_on(e, frame)) {
            if (!film_.truth(set, then)) return one(name + " has kept its state without power");
            return one(name + (is_band ? " on since " : " set at ") + time(since), truth(set, since));
        }
        if (e.op == Op::rs && film_.truth(reset, frame))
            return one(name + " is held off by its reset", truth(reset, scan));
        if (since > 0 && without_power(e, then))
            return one(name + " lost its state with the controller's power at " + time(since),
                       ask_.why(m_.powered, since));
        if (since > 0 && film_.truth(reset, then))
            return one(name + (is_band ? " off since " : " reset at ") + time(since), truth(reset, since));
        return one(name + (is_band ? " has not been on" : " has not been set"), truth(set, scan));
    }

    List edge(const Expr& e, long scan, const std::string& name) {
        static_assert(size_of(OpClass::edge) == 2);
        const Expr& in = *e.args[0];
        const bool level = film_.truth(in, film_.at(scan)) == (e.op == Op::r_trig);
        const char* what = film_.is_on(e, film_.at(scan)) ? " sees an edge"
                           : level                        ? " sees no new edge"
                                                          : " sees no edge";
        return one(name + what + when(scan), truth(in, scan));
    }

    List counter(const Expr& e, long scan, const std::string& name) {
        const Frame& frame = film_.at(scan);
        const std::string count = std::to_string(film_.state_of(e, frame).count) + " of " + std::to_string(e.count);
        if (film_.truth(*e.args[1], frame)) return one(name + " is held at 0 by its reset", truth(*e.args[1], scan));
        return one(name + " has counted " + count + when(scan));
    }

    List before(const Expr& e, long scan, const std::string& name) {
        if (scan == 0 || without_power(e, film_.at(scan - 1))) return one(name + " is off at power-up");
        return truth(*e.args[0], scan - 1);
    }
};

}  // namespace

std::vector<Reason> Explainer::element(const Expr& e, long scan, const std::string& name) {
    return ElementWalker{walker_}.element(e, scan, name);
}

}  // namespace lanyard::report
