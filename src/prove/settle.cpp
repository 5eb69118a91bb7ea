// What it decides: which run is shown instead of the one that was found.
//
// How: by playing, without a solver. One change of the run at a time is left out, made an exact reading, a load that
// stays on, a value that is there from the beginning, or is moved to an earlier scan; a wait is left out or made
// shorter; the engine changes its mode earlier, and its speed with it. What the world does not allow then is replaced
// by the nearest that it does. What comes out is kept if it still answers the question, a little later perhaps, and is
// plainer by a measure that is compared from left to right (measure.hpp): faults, values that no healthy engine has,
// jumps, loads that nothing feeds and that lose power, things that happen, scans, how late they happen. That is
// repeated until nothing helps.
//
// Why it is sound: a run is shown only if the interpreter has played it to where it answers the question. Why it ends:
// the measure becomes smaller each time, and the scans that are played are counted. When it gives up: after a number
// of scans that grows with the run; it is then as plain as it has become. Nothing is decided by a clock or by a thread.
//
// What comes out is a local optimum: no single change can be left out or made earlier. The idea is that of delta
// debugging: A. Zeller, R. Hildebrandt, "Simplifying and isolating failure-inducing input", IEEE Transactions on
// Software Engineering 28 (2002).
// Tested by: tests/prove/settle_test.cpp
#include "prove/settle.hpp"

#include <algorithm>
#include <utility>

#include "base/log.hpp"
#include "prove/measure.hpp"
#include "sim/jump.hpp"
#include "sim/world.hpp"

namespace lanyard::prove {

namespace {

constexpr long least_played = 20'000;   // scans
constexpr long max_played = 100'000;    // scans
constexpr long max_candidates = 50;     // as long as the run, and the scans above
constexpr long max_longer = 100;        // scans; of a candidate that answers a little later than the run
constexpr long max_ramp = 2'000;        // scans
constexpr std::size_t max_values = 12;  // of one thing in a run; with more it moves all the time

bool answers(const Question& q, const Scan& s) {
    if (q.target == Target::demand) return s.demanded;
    return std::holds_alternative<Possible>(q.model->claims[q.claim].body) ? s.goal : s.violated;
}

// Scan after scan in which nothing changes but quantities (and readings), at the same rates, in one segment.
Run in_straight_lines(const Run& run) {
    const auto rate_of = [](const Choices& a, const Choices& b) -> std::optional<Choices> {
        Choices moved = a;
        moved.quantities = b.quantities;
        moved.readings = b.readings;
        if (!(moved == b)) return std::nullopt;
        const auto less = [](auto& to, const auto& from) {
            for (const auto id : to.ids()) to[id] -= from[id];
        };
        less(moved.quantities, a.quantities);
        less(moved.readings, a.readings);
        return moved;
    };
    Run out;
    for (std::size_t n = 0; n < run.segments.size();) {
        std::size_t end = n + 1;
        std::optional<Choices> rate;
        for (; end < run.segments.size() && run.segments[end - 1].scans == 1 && run.segments[end].scans == 1; ++end) {
            const auto next = rate_of(run.segments[end - 1].first, run.segments[end].first);
            if (!next || (rate && !(*next == *rate))) break;
            rate = next;
        }
        Segment s = run.segments[n];
        if (end - n > 2) {
            s.scans = static_cast<long>(end - n);
            s.last_quantities = run.segments[end - 1].first.quantities;
            s.last_readings = run.segments[end - 1].first.readings;
        } else {
            end = n + 1;
        }
        out.segments.push_back(std::move(s));
        n = end;
    }
    return out;
}

class Settler {
 public:
    Settler(const Question& q, const Run& run, const JudgeOptions& o, const IsEnd& is_end)
        : question_(q),
          m_(*q.model),
          options_(o),
          is_end_(is_end),
          world_(m_, q.condition, q.claim),
          run_(run),
          left_(run.scans() + std::min(max_played, least_played + max_candidates * run.scans())) {
        if (auto again = played(run, 0)) {
            run_ = std::move(again->run);
            before_ = std::move(again->before);
        }
        measure_ = measure_of(m_, run_);
    }

    Run run() {
        const Measure first = measure_;
        while (round() && can_go_on()) {
        }
        for (const QuantityId i : m_.quantities.ids()) make_gentle(i);
        LANYARD_LOG(debug, "run settled: {} events instead of {}, {} scans instead of {}; {} scans played",
                    measure_.events, first.events, measure_.scans, first.scans, all_ - left_);
        return in_straight_lines(run_);
    }

 private:
    bool can_go_on() const { return left_ > 0 && !options_.stopped(); }

    bool round() {
        const Measure before = measure_;
        shorten_waits();
        for (const QuantityId i : m_.quantities.ids()) make_healthy(i);
        for (const FaultId i : m_.faults.ids())
            if (has_faults()) settle([i](auto& c) -> decltype(auto) { return c.faults[i]; }, std::optional(false));
        for (const SwitchId i : m_.switches.ids()) {
            settle([i](auto& c) -> decltype(auto) { return c.missed[i]; }, std::optional(false));
            settle([i](auto& c) -> decltype(auto) { return c.positions[i]; },
                   std::optional<bool>(m_.switches[i].rests_on));
        }
        power_free_loads();
        for (const LoadId i : m_.loads.ids())
            if (m_.loads[i].is_free())
                settle([i](auto& c) -> decltype(auto) { return c.free_loads[i]; }, std::optional(true));
        for (const SensorId i : m_.sensors.ids()) make_exact(i);
        for (const QuantityId i : m_.quantities.ids()) settle_quantity(i);
        settle_mode();
        return measure_ < before;
    }
    bool has_faults() const { return !run_.segments.empty() && !run_.segments[0].first.faults.empty(); }

    // --- candidates ---
    std::size_t size() const { return run_.segments.size(); }
    long begin_of(std::size_t segment) const {
        long scan = 0;
        for (std::size_t n = 0; n < segment; ++n) scan += run_.segments[n].scans;
        return scan;
    }
    template <class Set>
    Run with(long from, long to, const Set& set) const {
        return with(run_, from, to, set);
    }
    template <class Set>
    static Run with(const Run& run, long from, long to, const Set& set) {
        Run out;
        long begin = 0;
        for (const auto& s : run.segments) {
            const long end = begin + s.scans;
            const long cuts[] = {begin, std::clamp(from, begin, end), std::clamp(to, begin, end), end};
            for (int n = 0; n < 3; ++n) {
                if (cuts[n] == cuts[n + 1]) continue;
                out.segments.push_back({cuts[n + 1] - cuts[n], s.first, {}, {}});
                if (n == 1) set(out.segments.back().first);
            }
            begin = end;
        }
        return out;
    }

    // What one thing does: each of its changes left out, or made earlier. `rest`: where it is before the run; of a
    // quantity nobody knows.
    template <class At, class Value>
    void settle(const At& at, const std::optional<Value>& rest) {
        const auto rests = [&](const Segment& s) { return !rest || at(s.first) == *rest; };
        if (!std::all_of(run_.segments.begin(), run_.segments.end(), rests))
            accept(with(0, begin_of(size()), [&](Choices& c) { at(c) = *rest; }), 0);
        settle(at, rest, [&](Choices& c, const Value& v) { at(c) = v; });
    }
    template <class At, class Value, class Set>
    void settle(const At& at, const std::optional<Value>& rest, const Set& set) {
        settle_by(at, rest, [&set](const Run& run, long from, long to, const Value& v) {
            return with(run, from, to, [&](Choices& c) { set(c, v); });
        });
    }
    // `made`: a run with another value between two scans.
    template <class At, class Value, class Made>
    void settle_by(const At& at, const std::optional<Value>& rest, const Made& made) {
        std::size_t skip = 0;  // changes, from the last one on, with which nothing more can be done
        while (can_go_on()) {
            std::vector<std::size_t> begins{0};
            for (std::size_t n = 1; n < size(); ++n)
                if (at(run_.segments[n].first) != at(run_.segments[n - 1].first)) begins.push_back(n);
            if (begins.size() > max_values) return;
            if (skip >= begins.size()) return;
            if (!settle_one(begins, begins.size() - 1 - skip, at, rest, made)) ++skip;
        }
    }
    template <class At, class Value, class Made>
    bool settle_one(const std::vector<std::size_t>& begins, std::size_t k, const At& at,
                    const std::optional<Value>& rest, const Made& made) {
        const std::size_t here = begins[k];
        const Value now = at(run_.segments[here].first);
        const std::optional<Value> before = k > 0 ? Value(at(run_.segments[here - 1].first)) : rest;
        if (!before || *before == now) return false;
        const long begin = begin_of(here), end = begin_of(k + 1 < begins.size() ? begins[k + 1] : size());
        if (accept(made(run_, begin, end, *before), begin)) return true;
        if (k == 0) return false;
        if (k > 1 && accept(made(run_, 0, begin, now), 0)) return true;
        // Earlier: from where something else happens, then scan by scan between that and where it still works.
        const std::size_t first = begins[k - 1];
        long fails = -1, works = begin;
        for (std::size_t n = first; n < here; ++n) {
            if (accept(made(run_, begin_of(n), begin, now), begin_of(n))) return true;
            fails = begin_of(n);
        }
        const Run found = run_;
        while (works - fails > 1 && accept(made(found, works - 1, begin, now), works - 1)) {
            --works;
            const long middle = fails + (works - fails) / 2;
            if (middle == fails) break;
            if (accept(made(found, middle, begin, now), middle))
                works = middle;
            else
                fails = middle;
        }
        return works < begin;
    }
    // A time in which nothing happens is left out, or as short as it can be.
    void shorten_waits() {
        for (std::size_t n = 0; n < size() && size() > 1 && can_go_on(); ++n) {
            long fails = -1, works = run_.segments[n].scans;
            if (works == 1) continue;  // as where something moves all the time
            for (long scans = 0; works - fails > 1; scans = fails < 1 ? fails + 1 : fails + (works - fails) / 2) {
                Run shorter = run_;
                shorter.segments[n].scans = scans;
                const std::size_t segments = size();
                if (!accept(shorter, begin_of(n) + scans)) {
                    fails = scans;
                } else if (scans == 0 || size() != segments) {
                    break;
                } else {
                    works = scans;
                }
            }
        }
    }
    void power_free_loads() {
        if (std::none_of(m_.loads.begin(), m_.loads.end(), [](const Load& l) { return l.is_free(); })) return;
        accept(with(0, begin_of(size()),
                    [this](Choices& c) {
                        for (const LoadId i : m_.loads.ids())
                            c.free_loads[i] = c.free_loads[i] || m_.loads[i].is_free();
                    }),
               0);
    }
    // The engine goes from one mode to the next, as it is or with the speed that goes with the mode.
    void settle_mode() {
        const auto at = [](auto& c) -> decltype(auto) { return (c.next_mode); };
        settle(at, std::optional(Mode::stopped));
        if (!m_.engine) return;
        settle_by(at, std::optional(Mode::stopped), [this](const Run& run, long from, long to, Mode mode) {
            const bool earlier = to < run.scans() && choices_at(run, to).next_mode == mode;
            const Choices like = choices_at(run, earlier ? to + 1 : from);
            const Run moved = with(run, from, to, [mode](Choices& c) { c.next_mode = mode; });
            return with(moved, from + 1, to + 1, [&](Choices& c) {
                for (const QuantityId i : m_.quantities.ids())
                    if (is_speed(m_, i)) put(i, c.quantities, c.readings, like.quantities[i]);
            });
        });
    }
    // What reads exactly goes on to do so.
    void put(QuantityId q, Indexed<Quantity, Rational>& quantities, Indexed<Sensor, Rational>& readings,
             const Rational& value) const {
        for (const SensorId s : m_.sensors.ids())
            if (m_.sensors[s].quantity == q && readings[s] == quantities[q]) readings[s] = value;
        quantities[q] = value;
    }
    void settle_quantity(QuantityId q) {
        const auto at = [q](auto& c) -> decltype(auto) { return (c.quantities[q]); };
        const auto set = [&](Choices& c, const Rational& v) { put(q, c.quantities, c.readings, v); };
        if (run_.segments.empty()) return;
        const long end = begin_of(size());
        for (const std::size_t n : {size() - 1, std::size_t{0}}) {
            const Rational value = at(run_.segments[n].first);
            const bool constant = std::all_of(run_.segments.begin(), run_.segments.end(),
                                              [&](const Segment& s) { return at(s.first) == value; });
            if (!constant && accept(with(0, end, [&](Choices& c) { set(c, value); }), 0)) return;
        }
        make_healthy(q);
        if (!is_speed(m_, q)) settle(at, std::optional<Rational>{}, set);
    }
    // Of each value all of its time, or up to where the engine's mode changes.
    void make_healthy(QuantityId q) {
        std::size_t values = 1;
        for (std::size_t n = 1; n < size(); ++n)
            if (run_.segments[n].first.quantities[q] != run_.segments[n - 1].first.quantities[q]) ++values;
        if (values > max_values) return;
        Mode mode = Mode::stopped;
        for (std::size_t n = 0; n < size() && can_go_on(); ++n) {
            const Rational now = run_.segments[n].first.quantities[q], value = healthy_value(m_, q, now, mode);
            std::size_t end = n, change = size();
            for (; end < size() && run_.segments[end].first.quantities[q] == now; ++end)
                if (change == size() && run_.segments[end].first.next_mode != mode) change = end;
            const long from = begin_of(n), to = begin_of(end);
            const auto set = [&](Choices& c) { put(q, c.quantities, c.readings, value); };
            if (value != now && !accept(with(from, to, set), from) && change < end)
                accept(with(from, begin_of(change) + 1, set), from);
            mode = run_.segments[std::min(n, size() - 1)].first.next_mode;
        }
    }
    // A jump becomes a ramp, the longest first.
    void make_gentle(QuantityId q) {
        for (std::size_t n = 1; n < size() && can_go_on(); ++n) {
            if (is_speed(m_, q) && mode_changes(n)) continue;
            const Rational from = run_.segments[n - 1].first.quantities[q], to = run_.segments[n].first.quantities[q];
            if (!sim::is_jump(m_, q, to - from)) continue;
            const Interval& range = m_.quantities[q].range;
            const Rational shortest = abs(to - from) / (range.hi - range.lo);  // that is no jump
            for (const Rational& seconds : {Rational(10), Rational(2), shortest}) {
                const long scans = std::min(max_ramp, scans_up(seconds, m_.scan));
                if (accept(with_ramp(q, n, from, to, scans), begin_of(n))) break;
            }
        }
    }
    // At the first scan of a segment the engine is in another mode than before.
    bool mode_changes(std::size_t segment) const {
        const long scan = begin_of(segment);
        const Mode before = scan < 2 ? Mode::stopped : choices_at(run_, scan - 2).next_mode;
        return run_.segments[segment - 1].first.next_mode != before;
    }
    Run with_ramp(QuantityId q, std::size_t n, const Rational& from, const Rational& to, long scans) const {
        Run out = run_;
        Segment ramp;
        ramp.scans = scans;
        ramp.first = run_.segments[n].first;
        ramp.last_quantities = ramp.first.quantities;
        ramp.last_readings = ramp.first.readings;
        put(q, ramp.first.quantities, ramp.first.readings, from + (to - from) / scans);
        put(q, ramp.last_quantities, ramp.last_readings, to);
        out.segments.insert(out.segments.begin() + static_cast<std::ptrdiff_t>(n), std::move(ramp));
        return out;
    }
    void make_exact(SensorId s) {
        const auto exact = [&](Choices& c) { c.readings[s] = c.quantities[m_.sensors[s].quantity]; };
        const auto is_exact = [&](const Choices& c) { return c.readings[s] == c.quantities[m_.sensors[s].quantity]; };
        for (std::size_t n = 0; n < size() && can_go_on(); ++n) {
            if (is_exact(run_.segments[n].first)) continue;
            if (accept(with(begin_of(n), begin_of(size()), exact), begin_of(n))) return;
            accept(with(begin_of(n), begin_of(n) + run_.segments[n].scans, exact), begin_of(n));
        }
    }

    // --- playing ---
    struct Played {
        Run run;
        // The state before each of its segments.
        std::vector<std::shared_ptr<const Interpreter>> before;
    };
    // `wanted` is like the run up to scan `from`.
    bool accept(Run wanted, long from) {
        if (!can_go_on() || wanted.segments.empty()) return false;
        wanted.segments.push_back(wanted.segments.back());
        wanted.segments.back().scans = std::min(max_longer, 1 + run_.scans() / 4);
        auto candidate = played(wanted, from);
        if (!candidate) return false;
        const Measure measure = measure_of(m_, candidate->run);
        if (!(measure < measure_)) return false;
        run_ = std::move(candidate->run);
        before_ = std::move(candidate->before);
        measure_ = measure;
        return true;
    }

    // With these choices, or where they are not legal the nearest that are, up to where the question is answered. A
    // wish that comes to nothing where it begins - nobody else moves the driver's switches - is given up there.
    std::optional<Played> played(const Run& wanted, long from) {
        Played out;
        std::shared_ptr<const Interpreter> now;
        long scan = 0;
        for (std::size_t n = 0; n < before_.size() && scan + run_.segments[n].scans <= from; ++n) {
            out.run.segments.push_back(run_.segments[n]);
            out.before.push_back(before_[n]);
            scan += run_.segments[n].scans;
        }
        if (out.before.size() < before_.size())
            now = before_[out.before.size()];
        else
            now = std::make_shared<Interpreter>(m_, question_.condition, question_.claim);
        long begin = 0;
        for (const auto& segment : wanted.segments) {
            begin += segment.scans;
            if (begin <= scan) continue;
            for (long n = std::max(0L, scan - (begin - segment.scans)); n < segment.scans; ++n) {
                if (--left_ < 0) return std::nullopt;
                Choices c = choices_at(segment, n);
                auto after = std::make_shared<Interpreter>(*now);
                Scan shown = after->step(c);
                if (!shown.broken_rule.empty()) {
                    Proposal p = world_.attempt(*now, near(c));
                    const long here = begin - segment.scans + n;
                    if (!p.choices || (here == from && *p.choices == choices_at(run_, here))) return std::nullopt;
                    c = std::move(*p.choices);
                    shown = std::move(p.scan);
                    after = std::move(p.after);
                }
                append(out.run, c);
                if (out.before.size() < out.run.segments.size()) out.before.push_back(std::move(now));
                if (is_end_(shown, *after, out.run)) return out;
                now = std::move(after);
            }
        }
        return std::nullopt;
    }
    Wish near(const Choices& c) const {
        Wish wish(m_, c);
        for (const SensorId s : m_.sensors.ids())
            if (c.readings[s] == c.quantities[m_.sensors[s].quantity]) wish.readings[s].reset();
        return wish;
    }

    const Question& question_;
    const Model& m_;
    const JudgeOptions& options_;
    const IsEnd& is_end_;
    const World world_;
    Run run_;  // equal scans in one segment, nothing moves within one
    std::vector<std::shared_ptr<const Interpreter>> before_;
    Measure measure_;
    long left_;  // scans that may be played
    const long all_ = left_;
};

}  // namespace

Run settled(const Question& q, const Run& run, const JudgeOptions& o, const IsEnd& is_end) {
    return Settler(q, run, o, is_end).run();
}

Run settled(const Question& q, const Run& run, const JudgeOptions& o) {
    return settled(q, run, o, [&q](const Scan& shown, const Interpreter&, const Run&) { return answers(q, shown); });
}

std::optional<Run> up_to_answer(const Question& q, const Run& run) {
    Interpreter now(*q.model, q.condition, q.claim);
    long scans = 0;
    bool answered = false;
    const Scan last = play(now, run, [&](const Choices&, const Scan& s) {
        ++scans;
        answered = answers(q, s);
        return !answered;
    });
    if (!answered || !last.broken_rule.empty()) return std::nullopt;
    return first_scans(run, scans);
}

bool stays_broken(const Question& q, const Run& run, long scans) {
    auto now = std::make_unique<Interpreter>(*q.model, q.condition, q.claim);
    play(*now, run);
    const World world(*q.model, q.condition, q.claim);
    Choices c = choices_at(run, run.scans() - 1);
    std::string state;
    for (long n = 0; n < scans; ++n) {
        Proposal p = world.attempt(*now, Wish(*q.model, c));
        if (!p.choices || !p.scan.violated) return false;
        c = std::move(*p.choices);
        now = std::move(p.after);
        if (std::exchange(state, now->state_text()) == state) return true;  // and so for ever
    }
    return true;
}

}  // namespace lanyard::prove
