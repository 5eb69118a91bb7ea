// What every part of the encoding makes a system with: state and its next values, inputs, clocks, rules, names, and
// what a step of more than one scan must obey. It alone holds the system while it is made and the rule of leaps, so
// that no part can forget what a leap has to keep.
#pragma once

#include <functional>
#include <memory>
#include <set>

#include "encode/state_names.hpp"
#include "encode/system.hpp"

namespace lanyard::encode {

// A clock that counts consecutive scans in which `running` holds, the present one included, and is 0 otherwise.
// A threshold can only be asked for through at_least(), which also makes it part of the leap rule - forgetting it
// there is impossible. It saturates at the largest threshold asked for; without one above 1 it needs no state.
class RunClock {
 public:
    RunClock(const StateKey& key, std::string name, std::string element, z3::expr runs, bool starts_full)
        : running(std::move(runs)),
          full(starts_full),
          key_(key),
          name_(std::move(name)),
          element_(std::move(element)) {}

    z3::expr running;
    bool full;                       // before scan 0 it has run for long
    std::optional<z3::expr> resets;  // after this scan it stands at 0 although it ran
    std::optional<z3::expr> fills;   // after this scan it stands as if it had run for long
    std::optional<z3::expr> holds;   // it neither runs nor is reset (retained, without power)

 private:
    friend class SystemBuilder;
    StateKey key_;
    std::string name_, element_;
    // Threshold, and "count before the scan + 1 >= threshold".
    std::vector<std::pair<long, z3::expr>> asked_;
    std::optional<z3::expr> cur_;
};

class SystemBuilder {
 public:
    SystemBuilder(z3::context& ctx, const Model& model, const EncodeOptions& options);
    SystemBuilder(const SystemBuilder&) = delete;
    SystemBuilder& operator=(const SystemBuilder&) = delete;

    z3::context& context() const { return ctx_; }
    const Model& model() const { return m_; }
    const EncodeOptions& options() const { return options_; }

    z3::expr truth(bool b) { return ctx_.bool_val(b); }
    z3::expr integer(long n) { return ctx_.int_val(static_cast<int64_t>(n)); }
    z3::expr rational(const Rational& r);
    long up(const Rational& t) const { return scans_up(t, m_.scan); }
    long down(const Rational& t) const { return scans_down(t, m_.scan); }

    // `owner`, `element`: see StateNames.
    z3::expr input(const StateKey& key, const z3::sort& sort, const std::string& owner = "");
    z3::expr choice(const StateKey& key) { return input(key, ctx_.bool_sort()); }
    // Adds a state variable; its next value is set later with state_next.
    z3::expr state(const StateKey& key, const z3::expr& init, const std::string& element);
    void state_next(const z3::expr& cur, const z3::expr& next);
    void saturates_at(const z3::expr& cur, long bound);  // of a count
    // What `value` was at the scan before, false at scan 0. `value` is asked for when all else is there.
    z3::expr before(const StateKey& key, const std::string& element, std::function<z3::expr()> value);
    z3::expr existing(const StateKey& key) const { return s_.state[*s_.place(key)].cur; }
    RunClock& clock(const StateKey& key, const std::string& element, const z3::expr& running, bool starts_full);
    z3::expr at_least(RunClock& c, long scans);

    // The number of scans of the step, and what one of more than one scan must obey.
    const z3::expr& k() const { return s_.k; }
    void leap_obeys(const z3::expr& e) { leap_.push_back(e); }
    void same(const z3::expr& first, const z3::expr& last) { leap_obeys(first == last); }
    z3::expr compare(Op op, const Num& a, const Num& b);
    z3::expr inside(const Num& n, const Interval& band);
    void standing(const Num& n);                     // k = 1 while it moves
    void moves_within_leap(const z3::expr& memory);  // what it remembers may change with a quantity
    // What moves: the two inputs made last, as the value at the first and at the last scan.
    void last_inputs_move() { s_.moving.emplace_back(s_.inputs.size() - 2, s_.inputs.size() - 1); }
    void slope(const z3::expr& first, const Slope& along);  // all but its place
    void follows(const z3::expr& input, const z3::expr& first);
    void add_path(const Num& n) { s_.paths.push_back(n); }

    void rule(const std::string& label, const z3::expr& holds) { s_.rules.push_back({label, holds}); }
    z3::expr named(SignalId id, const z3::expr& value);
    // A part of the car as a constant of its own, where that is wanted (parts.cpp).
    z3::expr part(const std::string& name, const z3::expr& value);
    Num part(const std::string& name, const Num& n);
    void define(const Label& label, const z3::expr& constant, const z3::expr& value);
    void add_output(const z3::expr& e) { s_.outputs.push_back(e); }
    void add_product(const Product& p, const z3::expr& exact);

    Readback& readback() { return s_.readback; }
    z3::expr& bad() { return s_.bad; }
    z3::expr& demand() { return s_.demand; }

    // Rules and next states close loops (quantity - engine - load - output - quantity): they are made after the values.
    void later(std::function<void()> what) { pending_.push_back(std::move(what)); }
    void make_pending();
    System finish();

 private:
    z3::expr state(const StateKey& key, const std::string& name, const z3::expr& init, const std::string& element);
    template <class F>
    void each_state(const z3::expr& cur, F&& f);
    void finish_clocks();
    void finish_leaps();

    z3::context& ctx_;
    const Model& m_;
    const EncodeOptions options_;
    System s_;
    StateNames names_;
    std::vector<std::function<void()>> pending_;
    std::vector<std::unique_ptr<RunClock>> clocks_;
    std::vector<z3::expr> leap_;    // what a step of more than one scan must obey
    std::set<std::size_t> memory_;  // state that is no clock, by position
};

}  // namespace lanyard::encode
