// Why a memory element is on or off: what it has been told and when. A `name` is "its TON" or the element as it is
// written.
#include <algorithm>
#include <optional>

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
        if (film_.truth(in, frame)) {
            List because = truth(in, scan);
            for (auto& r : why_anew(e, scan)) because.push_back(std::move(r));
            return one(name + " has run " + run_time(e, scan) + when(scan), std::move(because));
        }
        return one(name + " is not timing" + when(scan) + interrupted(e, scan), truth(in, scan));
    }

    // A delay that runs, and has been running before: what interrupted it.
    List why_anew(const Expr& e, long scan) {
        const Expr& in = *e.args[0];
        const Frame& frame = film_.at(scan);
        const long begun = scan + 1 - film_.state_of(e, frame).count - (scan - frame.scan);
        if (changes_ || begun <= 0) return {};
        const bool dead = without_power(e, film_.at(begun - 1));
        if (!dead && (film_.truth(in, film_.at(begun - 1)) || film_.since(in, begun - 1) == 0)) return {};
        return one("it began anew at " + time(begun), dead ? ask_.why(m_.powered, begun - 1) : truth(in, begun - 1));
    }

    // ", after it had run 0.9 s of 1 s until 2.00 s"
    std::string interrupted(const Expr& e, long scan) const {
        const long since = film_.since(*e.args[0], scan);
        if (changes_ || since == 0 || without_power(e, film_.at(since - 1))) return "";
        const std::string until = " until " + time(since);
        if (film_.is_on(e, film_.at(since - 1))) return "; it had been on" + until;
        const bool just_begun = film_.since(*e.args[0], since - 1) == since - 1;
        return just_begun ? "" : "; it had run " + run_time(e, since - 1) + until;
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
        const std::string length = duration_text(e.value);
        const std::string ended =
            name + (name.ends_with(length + ")") ? "" : " of " + length) + " ended at " + time(since);
        // Whatever its input does while it is on does not renew it.
        const bool stays = !changes_ && film_.truth(in, film_.at(scan)) && film_.since(in, scan) < since;
        return one(ended + (stays ? "; only its input coming on anew starts it again" : ""), truth(in, scan));
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
            const bool told = film_.truth(set, then);
            const AlreadyTold before = told_;
            List out = one(name + (!told     ? " has kept its state without power"
                                   : is_band ? " on since " + time(since)
                                             : " set at " + time(since)),
                           told ? truth(set, since) : List{});
            if (changes_) return out;
            List kept = film_.truth(set, frame) ? still_set(set, scan, out.front().because, before)
                                                : why_kept(e, true, scan, name);
            for (auto& r : kept) out.push_back(std::move(r));
            return out;
        }
        if (e.op == Op::rs && film_.truth(reset, frame))
            return one(name + " is held off by its reset", truth(reset, scan));
        List out;
        if (since > 0 && without_power(e, then))
            out = one(name + " lost its state with the controller's power at " + time(since),
                      ask_.why(m_.powered, since));
        else if (since > 0 && film_.truth(reset, then))
            out = one(name + (is_band ? " off since " : " reset at ") + time(since), truth(reset, since));
        else
            return one(name + (is_band ? " has not been on" : " has not been set"), not_set(e, scan));
        if ((since < scan || e.op == Op::sr) && !changes_)
            for (auto& r : why_kept(e, false, scan, name)) out.push_back(std::move(r));
        return out;
    }

    // Whenever they were so.
    static void add_texts(const List& list, std::set<std::string>& out) {
        for (const auto& r : list) {
            out.insert(r.text.substr(0, std::min(r.text.find(" at "), r.text.find(" since "))));
            add_texts(r.because, out);
        }
    }

    // Its set input is on as it was when it set it, and is so for other reasons now.
    List still_set(const Expr& set, long scan, const List& then, const AlreadyTold& before) {
        AlreadyTold after = told_;
        told_ = before;
        told_.count = after.count;
        List now = truth(set, scan);
        std::set<std::string> was, is;
        add_texts(then, was);
        add_texts(now, is);
        if (std::includes(was.begin(), was.end(), is.begin(), is.end())) {
            told_ = std::move(after);
            return {};
        }
        return one("its set input is still on", std::move(now));
    }

    // What would have changed its state, and is not there.
    List why_kept(const Expr& e, bool on, long scan, const std::string& name) {
        const Expr& input = *e.args[on ? 1 : 0];
        if (input.op == Op::truth) return one(std::string("nothing ever ") + (on ? "resets " : "sets ") + name);
        const std::string what = e.op == Op::band ? on ? "switched off" : "switched on" : on ? "reset" : "set";
        const std::string not_since = name + " has not been " + what + " since";
        if (!on) return one(not_since, not_set(e, scan));
        const std::optional<long> tried = nearest_try(e, scan);
        if (!tried) return one(not_since, truth(input, scan));
        return one(not_since + ", nor with " + then_true(input, *tried, scan), truth(input, *tried));
    }

    const Expr& written_out(const Expr* e) const {
        while (e->op == Op::signal && m_.signal(e->signal).kind == SignalKind::logic)
            e = definition(m_, e->signal).get();
        return *e;
    }

    // Of the scans since it was set at which its reset lacked less than it does now: the last of those at which it
    // lacked the least. What was missing then is why it is still set, rather than that nobody presses the reset now.
    std::optional<long> nearest_try(const Expr& e, long scan) const {
        const Expr& reset = written_out(e.args[1].get());
        if (reset.op != Op::and_) return std::nullopt;
        const auto lacks = [&](const Frame& f) {
            return std::count_if(reset.args.begin(), reset.args.end(),
                                 [&](const ExprPtr& a) { return !film_.truth(*a, f); });
        };
        auto least = lacks(film_.at(scan));
        std::optional<long> out;
        for (std::size_t k = film_.index_at(scan); k > 0 && film_.frames()[k].scan > film_.since(e, scan); --k) {
            const Frame& f = film_.frames()[k];
            if (without_power(e, f) || lacks(f) == 0 || lacks(f) >= least) continue;
            least = lacks(f);
            out = f.scan;
        }
        return out;
    }

    // "reset pressed at 0.32 s": what the reset had then and has no more.
    std::string then_true(const Expr& input, long then, long scan) {
        const AlreadyTold before = told_;
        std::vector<std::string> out;
        for (const auto& a : written_out(&input).args)
            if (film_.truth(*a, film_.at(then)) && !film_.truth(*a, film_.at(scan)))
                for (const Reason& r : truth(*a, then)) out.push_back(r.text);
        told_ = before;
        return joined(out, " and ");
    }

    // A set input that came while the reset was there is lost.
    List not_set(const Expr& e, long scan) {
        const Expr& set = *e.args[0];
        List out = truth(set, scan);
        const std::size_t k = film_.index_at(film_.since(set, scan));
        if (e.op != Op::rs || changes_ || k == 0) return out;
        const long lost = film_.frames()[k - 1].scan;
        if (lost < film_.since(e, scan) || !film_.truth(*e.args[1], film_.at(lost))) return out;
        out.push_back(
            {"its set input was on at " + time(lost) + ", when its reset held it off", truth(*e.args[1], lost)});
        return out;
    }

    List edge(const Expr& e, long scan, const std::string& name) {
        static_assert(size_of(OpClass::edge) == 2);
        const Expr& in = *e.args[0];
        const bool level = film_.truth(in, film_.at(scan)) == (e.op == Op::r_trig);
        if (film_.is_on(e, film_.at(scan))) {
            const bool first = scan == 0 || without_power(e, film_.at(scan - 1));
            return one(name + " sees an edge" + when(scan) + (first ? ", as its input is on at power-up" : ""),
                       truth(in, scan));
        }
        return one(name + (level ? " sees no new edge" : " sees no edge") + when(scan), truth(in, scan));
    }

    List counter(const Expr& e, long scan, const std::string& name) {
        const Frame& frame = film_.at(scan);
        const std::string count = std::to_string(film_.state_of(e, frame).count) + " of " + std::to_string(e.count);
        if (film_.truth(*e.args[1], frame)) return one(name + " is held at 0 by its reset", truth(*e.args[1], scan));
        const Expr& in = *e.args[0];
        const long since = film_.since(in, scan);
        const long last = film_.truth(in, frame) ? since : since > 0 ? film_.since(in, since - 1) : 0;
        if (changes_ || film_.state_of(e, frame).count == 0) return one(name + " has counted " + count + when(scan));
        List because = truth(in, last);
        if (last > 0)
            for (auto& r : truth(in, last - 1)) because.push_back(std::move(r));
        return one(name + " has counted " + count + ", the last at " + time(last), std::move(because));
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
