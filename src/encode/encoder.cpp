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
#include "encode/encoder.hpp"

#include <algorithm>

#include "base/log.hpp"
#include "claims/cone.hpp"

namespace lanyard {

z3::expr System::all_rules() const {
    z3::expr_vector all(*ctx);
    for (const auto& d : definitions) all.push_back(d.constant == d.value);
    for (const auto& r : rules) all.push_back(r.holds);
    return all_of(all);
}

std::optional<std::size_t> System::place(const StateKey& key) const {
    for (std::size_t i = 0; i < state.size(); ++i)
        if (state[i].key == key) return i;
    return std::nullopt;
}

Renaming::Renaming(const System& s, const std::string& suffix)
    : states_(s.state.size()), inputs_(s.inputs.size()), from_(*s.ctx), to_(*s.ctx) {
    const auto add = [&](const z3::expr& e) {
        from_.push_back(e);
        to_.push_back(s.ctx->constant((e.decl().name().str() + "@" + suffix).c_str(), e.get_sort()));
    };
    for (const auto& v : s.state) add(v.cur);
    for (const auto& i : s.inputs) add(i.var);
    add(s.k);
    for (const auto& d : s.definitions) add(d.constant);
}

z3::expr Renaming::operator()(const z3::expr& e) const {
    z3::expr copy = e;
    return copy.substitute(from_, to_);
}

Encoder::Encoder(z3::context& ctx, const Model& model, ConditionId condition, ClaimId claim,
                 const EncodeOptions& options)
    : ctx_(ctx),
      m_(model),
      parts_{&model.conditions[condition]},
      condition_(condition),
      claim_(claim),
      options_(options),
      s_(ctx),
      names_(model),
      driven_(model.switches) {
    Readback& rb = s_.readback;
    rb.quantities.resize(model.quantities.size());
    rb.positions = rb.missed = Readback::Terms<Switch>(model.switches);
    rb.contacts.resize(model.relays.size());
    rb.free_loads.resize(model.loads.size());
    rb.readings.resize(model.sensors.size());
    rb.wiring = rb.wiring_choices = Readback::Terms<Probe>(model.circuit.probes);
    rb.faults = rb.fault_begins = rb.fault_ever = Readback::Terms<Fault>(model.faults);
}

System Encoder::build() {
    // In dependency order, so that no long chain of definitions is walked recursively.
    if (claim_) second_part();
    // What of the wiring matters is known once its formulas are there; they bring in what they need.
    const Cone cone = cone_of(
        m_, condition_, claim_, [](SignalId, const auto&) {}, options_.with);
    for (SignalId id : m_.order) {
        if (!cone.has(id)) continue;
        if (m_.signal(id).type.kind == TypeKind::number)
            signal_number(id);
        else
            signal(id);
    }
    for (const QuantityId q : options_.with) quantity(q);
    condition();
    monitor();
    for (std::size_t i = 0; i < pending_.size(); ++i) {
        const auto next = pending_[i];  // it may add others
        next();
    }
    limit_faults();
    finish_products();
    finish_clocks();
    finish_leaps();
    return std::move(s_);
}

System encode(z3::context& ctx, const Model& model, ConditionId condition, ClaimId claim,
              const EncodeOptions& options) {
    const logging::Stopwatch watch;
    System s = Encoder(ctx, model, condition, claim, options).build();
    LANYARD_LOG(debug, "encoded: {} state variables, {} inputs, {} rules, {} answers of the wiring, {:.3f} s",
                s.state.size(), s.inputs.size(), s.rules.size(),
                std::count_if(s.readback.wiring.begin(), s.readback.wiring.end(),
                              [](const auto& answer) { return answer.has_value(); }),
                watch.seconds());
    return s;
}

z3::expr Encoder::rational(const Rational& r) { return ctx_.real_val(r.get_str().c_str()); }

z3::expr Encoder::input(const StateKey& key, const z3::sort& sort, const std::string& owner) {
    z3::expr v = ctx_.constant(names_.input(key, owner).c_str(), sort);
    s_.inputs.push_back({key, v});
    return v;
}

z3::expr Encoder::state(const StateKey& key, const z3::expr& init, const std::string& element) {
    return state(key, names_.state(key, element), init, element);
}

z3::expr Encoder::state(const StateKey& key, const std::string& name, const z3::expr& init,
                        const std::string& element) {
    z3::expr v = ctx_.constant(name.c_str(), init.get_sort());
    s_.state.push_back({key, v, v, init, element, false, 0});
    memory_.insert(s_.state.size() - 1);
    return v;
}

void Encoder::state_next(const z3::expr& cur, const z3::expr& next) {
    for (auto& v : s_.state)
        if (z3::eq(v.cur, cur)) v.next = next;
}

// Its name is taken now, whether it will need it or not: what comes behind it is numbered alike either way.
RunClock& Encoder::clock(const StateKey& key, const std::string& element, const z3::expr& running, bool starts_full) {
    clocks_.push_back(
        std::make_unique<RunClock>(key, names_.state(key, element), element, running, starts_full));
    return *clocks_.back();
}

z3::expr Encoder::at_least(RunClock& c, long scans) {
    if (scans <= 1) return c.running;
    for (const auto& [threshold, reached] : c.asked)
        if (threshold == scans) return c.running && reached;
    if (!c.cur) c.cur = state(c.key, c.name, integer(0), c.element);
    const z3::expr reached = *c.cur + 1 >= integer(scans);
    c.asked.emplace_back(scans, reached);
    return c.running && reached;
}

void Encoder::finish_clocks() {
    for (const auto& c : clocks_) {
        if (!c->cur) continue;
        long most = 0;
        for (const auto& a : c->asked) most = std::max(most, a.first);
        const z3::expr& k = s_.k;
        const z3::expr count = z3::ite(*c->cur + k >= integer(most), integer(most), *c->cur + k);
        z3::expr next = z3::ite(c->running, count, integer(0));
        if (c->resets) next = z3::ite(*c->resets, integer(0), next);
        if (c->fills) next = z3::ite(*c->fills, integer(most), next);
        if (c->holds) next = z3::ite(*c->holds, *c->cur, next);
        for (std::size_t i = 0; i < s_.state.size(); ++i) {
            StateVar& v = s_.state[i];
            if (!z3::eq(v.cur, *c->cur)) continue;
            v.next = next;
            v.is_clock = true;
            v.bound = most;
            if (c->full) v.init = integer(most);
            memory_.erase(i);
        }
        for (const auto& [threshold, reached] : c->asked)
            leap_.push_back(z3::implies(c->running, reached == (*c->cur + k >= integer(threshold))));
    }
}

void Encoder::same(const z3::expr& first, const z3::expr& last) { leap_.push_back(first == last); }

void Encoder::standing(const Num& n) {
    if (!n.moving) return;
    leap_.push_back(n.first == n.last);
    s_.paths.push_back(n);
}

void Encoder::rule(const std::string& label, const z3::expr& holds) { s_.rules.push_back({label, holds}); }

z3::expr Encoder::named(SignalId id, const z3::expr& value) {
    if (value.is_bool()) s_.outputs.push_back(value);
    if (!options_.named) return value;
    const z3::expr c = ctx_.constant(("w." + m_.name_of(id)).c_str(), value.get_sort());
    s_.definitions.push_back({{LabelKind::named, m_.name_of(id)}, c, value});
    return c;
}

void Encoder::finish_leaps() {
    z3::expr_vector quiet(ctx_);
    for (const std::size_t i : memory_) quiet.push_back(s_.state[i].next == s_.state[i].cur);
    for (const auto& e : leap_) quiet.push_back(e);
    if (options_.no_leaps)
        rule(leap_rule, s_.k == 1);
    else
        rule(leap_rule, s_.k >= 1 && (s_.k == 1 || all_of(quiet)));
}

}  // namespace lanyard
