// Encoding with leaps (`lanyard help meaning`, "Leaps").
//
// What it decides: nothing; it says what a step of k >= 1 scans is. k > 1 is allowed only where (1) the first scan
// changes no memory except running clocks and (2) every comparison of a running clock or of a moving quantity has
// the same truth at the last scan as at the first. Then all signals have one value throughout the step.
//
// Why it is sound: k = 1 is always allowed, so no run is lost; and a leap of k >= 2 equals one scan followed by a
// leap of k - 1, so no run is invented. The second half is not only argued but asked of the solver for each model
// (leap.cpp) before any verdict.
//
// When it gives up: never silently - what has no encoding throws Unsupported.
//
// Clocks are whole numbers of scans: real-valued ones invent runs through strict bounds (X < 5, then Y < 5, while
// Z >= 9). Tested by tests/encode.
#include "encode/builder.hpp"

#include <algorithm>

namespace lanyard::encode {

SystemBuilder::SystemBuilder(z3::context& ctx, const Model& model, const EncodeOptions& options)
    : ctx_(ctx), m_(model), options_(options), s_(ctx), names_(model) {
    Readback& rb = s_.readback;
    rb.quantities.resize(model.quantities.size());
    rb.positions = rb.missed = Readback::Terms<Switch>(like(model.switches));
    rb.contacts.resize(model.relays.size());
    rb.free_loads.resize(model.loads.size());
    rb.readings.resize(model.sensors.size());
    rb.wiring = rb.wiring_choices = Readback::Terms<Probe>(like(model.circuit.probes));
    rb.faults = rb.fault_begins = rb.fault_ever = Readback::Terms<Fault>(like(model.faults));
}

void SystemBuilder::make_pending() {
    for (std::size_t i = 0; i < pending_.size(); ++i) {
        const auto next = pending_[i];  // it may add others
        next();
    }
}

System SystemBuilder::finish() {
    finish_clocks();
    finish_leaps();
    return std::move(s_);
}

z3::expr SystemBuilder::rational(const Rational& r) { return ctx_.real_val(r.get_str().c_str()); }

z3::expr SystemBuilder::input(const StateKey& key, const z3::sort& sort, const std::string& owner) {
    z3::expr v = ctx_.constant(names_.input(key, owner).c_str(), sort);
    s_.inputs.push_back({key, v});
    return v;
}

z3::expr SystemBuilder::state(const StateKey& key, const z3::expr& init, const std::string& element) {
    return state(key, names_.state(key, element), init, element);
}

z3::expr SystemBuilder::state(const StateKey& key, const std::string& name, const z3::expr& init,
                              const std::string& element) {
    z3::expr v = ctx_.constant(name.c_str(), init.get_sort());
    s_.state.push_back({key, v, v, init, element, false, 0});
    memory_.insert(s_.state.size() - 1);
    return v;
}

// What is asked for twice stands there twice.
template <class F>
void SystemBuilder::each_state(const z3::expr& cur, F&& f) {
    for (std::size_t i = 0; i < s_.state.size(); ++i)
        if (z3::eq(s_.state[i].cur, cur)) f(i);
}

void SystemBuilder::state_next(const z3::expr& cur, const z3::expr& next) {
    each_state(cur, [&](std::size_t i) { s_.state[i].next = next; });
}

void SystemBuilder::saturates_at(const z3::expr& cur, long bound) {
    each_state(cur, [&](std::size_t i) { s_.state[i].bound = bound; });
}

z3::expr SystemBuilder::before(const StateKey& key, const std::string& element, std::function<z3::expr()> value) {
    const z3::expr memory = state(key, truth(false), element);
    later([this, memory, value = std::move(value)] { state_next(memory, value()); });
    return memory;
}

void SystemBuilder::moves_within_leap(const z3::expr& memory) {
    each_state(memory, [this](std::size_t i) { memory_.erase(i); });
}

// Its name is taken now, whether it will need it or not: what comes behind it is numbered alike either way.
RunClock& SystemBuilder::clock(const StateKey& key, const std::string& element, const z3::expr& running,
                               bool starts_full) {
    clocks_.push_back(std::make_unique<RunClock>(key, names_.state(key, element), element, running, starts_full));
    return *clocks_.back();
}

z3::expr SystemBuilder::at_least(RunClock& c, long scans) {
    if (scans <= 1) return c.running;
    for (const auto& [threshold, reached] : c.asked_)
        if (threshold == scans) return c.running && reached;
    if (!c.cur_) c.cur_ = state(c.key_, c.name_, integer(0), c.element_);
    const z3::expr reached = *c.cur_ + 1 >= integer(scans);
    c.asked_.emplace_back(scans, reached);
    return c.running && reached;
}

void SystemBuilder::finish_clocks() {
    for (const auto& c : clocks_) {
        if (!c->cur_) continue;
        long most = 0;
        for (const auto& a : c->asked_) most = std::max(most, a.first);
        const z3::expr& k = s_.k;
        const z3::expr count = z3::ite(*c->cur_ + k >= integer(most), integer(most), *c->cur_ + k);
        z3::expr next = z3::ite(c->running, count, integer(0));
        if (c->resets) next = z3::ite(*c->resets, integer(0), next);
        if (c->fills) next = z3::ite(*c->fills, integer(most), next);
        if (c->holds) next = z3::ite(*c->holds, *c->cur_, next);
        each_state(*c->cur_, [&](std::size_t i) {
            StateVar& v = s_.state[i];
            v.next = next;
            v.is_clock = true;
            v.bound = most;
            if (c->full) v.init = integer(most);
            memory_.erase(i);
        });
        for (const auto& [threshold, reached] : c->asked_)
            leap_obeys(z3::implies(c->running, reached == (*c->cur_ + k >= integer(threshold))));
    }
}

z3::expr SystemBuilder::compare(Op op, const Num& a, const Num& b) {
    static_assert(size_of(OpClass::comparison) == 6);
    const auto test = [&](const z3::expr& x, const z3::expr& y) {
        if (op == Op::lt) return x < y;
        if (op == Op::le) return x <= y;
        if (op == Op::gt) return x > y;
        if (op == Op::ge) return x >= y;
        if (op == Op::eq) return x == y;
        return x != y;
    };
    const z3::expr now = test(a.first, b.first);
    if (!a.moving && !b.moving) return now;
    add_path({a.first - b.first, a.last - b.last, true});
    if (op == Op::eq || op == Op::ne) {
        // A straight path may cross a single point between its ends: split it into two half-spaces.
        same(a.first < b.first, a.last < b.last);
        same(a.first > b.first, a.last > b.last);
    } else {
        same(now, test(a.last, b.last));
    }
    return now;
}

z3::expr SystemBuilder::inside(const Num& n, const Interval& band) {
    const z3::expr lo = rational(band.lo), hi = rational(band.hi);
    z3::expr in = n.first >= lo && n.first <= hi;
    if (n.moving) in = in && n.last >= lo && n.last <= hi;
    return in;
}

void SystemBuilder::standing(const Num& n) {
    if (!n.moving) return;
    leap_obeys(n.first == n.last);
    add_path(n);
}

void SystemBuilder::slope(const z3::expr& first, const Slope& along) {
    for (std::size_t i = 0; i < s_.moving.size(); ++i) {
        if (!z3::eq(s_.inputs[s_.moving[i].first].var, first)) continue;
        s_.slopes.push_back(along);
        s_.slopes.back().moving = i;
    }
}

void SystemBuilder::follows(const z3::expr& input, const z3::expr& first) {
    const auto is_it = [&](const Input& i) { return z3::eq(i.var, input); };
    const auto place = std::find_if(s_.inputs.begin(), s_.inputs.end(), is_it) - s_.inputs.begin();
    for (std::size_t i = 0; i < s_.moving.size(); ++i)
        if (z3::eq(s_.inputs[s_.moving[i].first].var, first))
            s_.followers.emplace_back(static_cast<std::size_t>(place), i);
}

z3::expr SystemBuilder::named(SignalId id, const z3::expr& value) {
    if (value.is_bool()) add_output(value);
    if (!options_.named) return value;
    const z3::expr c = ctx_.constant(("w." + m_.name_of(id)).c_str(), value.get_sort());
    define({LabelKind::named, m_.name_of(id)}, c, value);
    return c;
}

z3::expr SystemBuilder::part(const std::string& name, const z3::expr& value) {
    if (!options_.parts) return value;
    const std::string constant = "p." + std::to_string(s_.definitions.size()) + "." + name;
    const z3::expr c = ctx_.constant(constant.c_str(), value.get_sort());
    define({LabelKind::part, name}, c, value);
    return c;
}

Num SystemBuilder::part(const std::string& name, const Num& n) {
    if (!options_.parts) return n;
    const z3::expr first = part(name, n.first);
    return {first, n.moving ? part(name, n.last) : first, n.moving};
}

void SystemBuilder::define(const Label& label, const z3::expr& constant, const z3::expr& value) {
    s_.definitions.push_back({label, constant, value});
}

void SystemBuilder::add_product(const Product& p, const z3::expr& exact) {
    s_.grid.push_back(exact);
    s_.products.push_back(p);
}

void SystemBuilder::finish_leaps() {
    z3::expr_vector quiet(ctx_);
    for (const std::size_t i : memory_) quiet.push_back(s_.state[i].next == s_.state[i].cur);
    for (const auto& e : leap_) quiet.push_back(e);
    if (options_.no_leaps)
        rule(leap_rule, s_.k == 1);
    else
        rule(leap_rule, s_.k >= 1 && (s_.k == 1 || all_of(quiet)));
}

}  // namespace lanyard::encode
