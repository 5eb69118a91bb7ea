#include "explain/causes.hpp"

#include <algorithm>
#include <iterator>
#include <map>
#include <memory>

#include "claims/cone.hpp"
#include "explain/input_events.hpp"
#include "explain/order_of_causes.hpp"
#include "explain/premise.hpp"
#include "explain/turning.hpp"
#include "sim/landmarks.hpp"
#include "sim/near.hpp"
#include "sim/words.hpp"
#include "sim/world.hpp"

namespace lanyard::explain {

namespace {

using Kind = InputEvent::Kind;

constexpr long max_scans = 150'000;     // of all changed runs together
constexpr long max_turning = 60'000;    // of those that look for where something turns
constexpr long choosing = 4;            // a scan that has to be chosen anew costs as much as so many
constexpr std::size_t max_values = 16;  // of a quantity
constexpr std::size_t values_in_pairs = 2;
constexpr std::size_t max_in_pairs = 14;  // events

class CauseFinder {
 public:
    CauseFinder(const Model& m, const Run& run, ClaimId claim, const Saved& saved)
        : m_(m),
          run_(run),
          claim_(claim),
          saved_(saved),
          condition_(m.claims[claim].condition),
          world_(m, condition_, claim),
          premise_(m, run, claim),
          end_(run.scans()) {
        // A driver who does something else may need longer until his steps are over.
        if (std::holds_alternative<Procedure>(m.claims[claim].body)) end_ *= 2;
    }

    Causes find() {
        const Replay played = replay(m_, run_, condition_, claim_);
        if (!played.legal || (!played.violated_at_end && !saved_)) return {};
        events_ = input_events(m_, run_, cone_of(m_, condition_, claim_), played.scans);
        const std::size_t changes = events_.size();
        for (const auto& e : chances_missed(m_, run_, condition_, claim_, played.scans)) events_.push_back(e);
        take_snapshots();
        for (const auto& e : events_) options_.push_back(values_for(e));
        for (std::size_t k = 0; k < changes; ++k) one(k);
        const bool a_change_is = reason_found();
        for (std::size_t k = changes; !a_change_is && k < events_.size(); ++k) one(k);
        if (!reason_found()) pairs();
        put_nearest_first(m_, run_, claim_, premise_, out_.list);
        out_.sampled =
            std::any_of(events_.begin(), events_.end(), [](const InputEvent& e) { return e.kind == Kind::quantity; });
        return std::move(out_);
    }

 private:
    using Parts = std::vector<RunCause::Part>;

    const Model& m_;
    const Run& run_;
    const ClaimId claim_;
    const Saved& saved_;  // empty: what breaks nothing is saved
    const ConditionId condition_;
    const World world_;
    const Premise premise_;
    long end_;
    std::vector<InputEvent> events_;
    std::vector<std::vector<Value>> options_;            // per event: what else it could have been
    std::map<long, std::unique_ptr<Interpreter>> then_;  // before the scans at which events are
    long played_ = 0, turning_ = 0;
    Causes out_;

    void take_snapshots() {
        Interpreter now(m_, condition_, claim_);
        long scan = 0;
        const auto keep = [&] {
            const bool wanted =
                std::any_of(events_.begin(), events_.end(), [scan](const InputEvent& e) { return e.scan == scan; });
            if (wanted) then_[scan] = std::make_unique<Interpreter>(now);
        };
        keep();
        play(now, run_, [&](const Choices&, const Scan&) {
            ++scan;
            keep();
            return true;
        });
    }

    // The item's value before the event; at the beginning its own.
    Value before(const InputEvent& e) const {
        long scan = 0;
        Choices last = run_.segments.front().first;
        for (const auto& s : run_.segments) {
            if (scan >= e.scan) break;
            last = choices_at(s, s.scans - 1);
            scan += s.scans;
        }
        return event_value(e, last);
    }

    std::vector<Value> values_for(const InputEvent& e) const {
        const Value is = event_value(e, choices_at(run_, e.scan));
        if (e.kind == Kind::quantity) return numbers_for(e, std::get<Rational>(is));
        if (e.kind == Kind::mode && e.scan > 0) return {is == before(e) ? Value(Mode::running) : before(e)};
        if (e.kind == Kind::mode) return {Mode::stopped};
        if (e.kind == Kind::reading) return {choices_at(run_, e.scan).quantities[m_.sensors[e.index].quantity]};
        return {!std::get<bool>(is)};
    }

    // First what it was, then where something turns, the nearest first.
    std::vector<Value> numbers_for(const InputEvent& e, const Rational& is) const {
        const Rational was = std::get<Rational>(before(e));
        std::vector<Rational> points = world_.points()[e.index];
        std::stable_sort(points.begin(), points.end(),
                         [&](const Rational& a, const Rational& b) { return abs(a - is) < abs(b - is); });
        std::vector<Value> out;
        // A rise that begins here has its old value still; it is held at that.
        if (e.scan > 0) out.emplace_back(was);
        for (const auto& p : points)
            if (p != is && p != was && out.size() < max_values) out.emplace_back(p);
        return out;
    }

    // Beyond what the claim itself presupposes.
    bool reason_found() const {
        return std::any_of(out_.list.begin(), out_.list.end(), [](const RunCause& c) { return !c.presupposed; });
    }

    // Rather a value with which the claim's premise is there and its answer comes.
    void one(std::size_t k) {
        std::optional<RunCause> presupposed;
        for (const auto& value : options_[k]) {
            auto cause = found({{events_[k], value}});
            if (!cause) continue;
            if (!cause->presupposed) {
                out_.list.push_back(where_it_turns(std::move(*cause)));
                return;
            }
            if (!presupposed) presupposed = std::move(cause);
        }
        if (presupposed) out_.list.push_back(std::move(*presupposed));
    }

    void pairs() {
        std::vector<std::size_t> tried;
        for (std::size_t k = 0; k < events_.size(); ++k)
            if (!is_presupposed(events_[k])) tried.push_back(k);
        if (tried.size() > max_in_pairs) {
            out_.complete = false;
            tried.resize(max_in_pairs);
        }
        for (std::size_t a = 0; a < tried.size(); ++a)
            for (std::size_t b = a + 1; b < tried.size(); ++b) pair(tried[a], tried[b]);
    }
    bool is_presupposed(const InputEvent& e) const {
        return std::any_of(out_.list.begin(), out_.list.end(),
                           [&](const RunCause& c) { return c.parts.size() == 1 && c.parts.front().event == e; });
    }

    void pair(std::size_t a, std::size_t b) {
        for (std::size_t i = 0; i < std::min(options_[a].size(), values_in_pairs); ++i)
            for (std::size_t j = 0; j < std::min(options_[b].size(), values_in_pairs); ++j) {
                auto cause = found({{events_[a], options_[a][i]}, {events_[b], options_[b][j]}});
                if (!cause || cause->presupposed) continue;
                out_.list.push_back(std::move(*cause));
                return;
            }
    }

    std::optional<RunCause> found(const Parts& parts) {
        if (played_ >= max_scans) {
            out_.complete = false;
            return std::nullopt;
        }
        auto run = otherwise(parts, played_);
        if (!run) return std::nullopt;
        const bool named =
            std::any_of(parts.begin(), parts.end(), [this](const auto& p) { return premise_.names(p.event); });
        const bool presupposed = named && premise_.is_gone_in(*run);
        return RunCause{parts, std::move(*run), presupposed};
    }

    // A quantity that was tried at one of the model's numbers: how far it has to be otherwise. What it was before is
    // no such number.
    RunCause where_it_turns(RunCause cause) {
        const RunCause::Part& part = cause.parts.front();
        const InputEvent& e = part.event;
        if (e.kind != Kind::quantity || saved_ || (e.scan > 0 && part.instead == before(e))) return cause;
        const Rational bad = std::get<Rational>(event_value(e, choices_at(run_, e.scan)));
        const Quantity& quantity = m_.quantities[e.index];
        const Unit unit = sim::unit_of(m_, quantity.signal);
        std::map<Rational, Run> runs;
        const auto holds = [&](const Rational& x) {
            auto run = turning_ < max_turning ? otherwise({{e, x}}, turning_) : std::nullopt;
            if (!run || (premise_.names(e) && premise_.is_gone_in(*run))) return false;
            runs.emplace(x, std::move(*run));
            return true;
        };
        if (holds(bad)) return cause;
        const bool is_difference = m_.signal(quantity.signal).type.difference;
        const Turning turns = turning_between(
            bad, std::get<Rational>(part.instead), world_.points()[e.index],
            ruler_for(quantity.range.hi - quantity.range.lo, unit.factor, is_difference ? Rational(0) : unit.offset),
            holds);
        // Cut short: what fails may not have been tried.
        if (turning_ >= max_turning) return cause;
        const auto run = runs.find(turns.holds);
        return {{{e, turns.holds, turns.just_past}}, run == runs.end() ? std::move(cause.otherwise) : run->second};
    }

    // The run with these parts otherwise; nothing if it cannot be so, or breaks the claim all the same.
    std::optional<Run> otherwise(const Parts& parts, long& played_scans) {
        long scan = parts.front().event.scan;
        for (const auto& p : parts) scan = std::min(scan, p.event.scan);
        auto now = std::make_unique<Interpreter>(*then_.at(scan));
        Run out = first_scans(run_, scan), rest;
        for (; scan < end_; ++scan) {
            Choices c = choices_at(run_, scan);  // it waits behind its end
            Indexed<Sensor, bool> exact = exact_readings(m_, c);
            change(c, exact, parts, scan);
            const auto played = step_near(m_, world_, now, c, exact);
            played_scans += played && played->as_wanted ? 1 : choosing;
            if (!played || played->shows.violated) return std::nullopt;
            for (const auto& p : parts)
                if (p.event.scan == scan && event_value(p.event, played->choices) != p.instead) return std::nullopt;
            append(rest, played->choices);
        }
        std::move(rest.segments.begin(), rest.segments.end(), std::back_inserter(out.segments));
        return saved_ ? saved_(out) : out;
    }

    bool is_changed(const RunCause::Part& p, long scan) const {
        return scan >= p.event.scan && (scan < p.event.until || p.event.until == run_.scans());
    }

    void change(Choices& c, Indexed<Sensor, bool>& exact, const Parts& parts, long scan) const {
        for (const auto& p : parts) {
            if (!is_changed(p, scan)) continue;
            set_value(p.event, p.instead, c);
            if (p.event.kind == Kind::reading) exact[p.event.index] = true;
        }
    }
};

}  // namespace

Causes causes_of(const Model& model, const Run& run, ClaimId claim) { return causes_of(model, run, claim, {}); }

Causes causes_of(const Model& model, const Run& run, ClaimId claim, const Saved& saved) {
    return CauseFinder(model, run, claim, saved).find();
}

}  // namespace lanyard::explain
