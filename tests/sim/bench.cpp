#include "bench.hpp"

#include <algorithm>

#include "sim/machine.hpp"

namespace lanyard::test {

using namespace sim;

std::shared_ptr<const Model> shared_model(const std::string& text) {
    return std::make_shared<const Model>(model_of(text, "bench"));
}

SignalId signal(const Model& m, const std::string& name, SignalKind kind) {
    for (const SignalId k : m.signals.ids()) {
        if (m.signals[k].name == name && m.signals[k].kind == kind) return k;
    }
    return {};
}

SignalId signal(const Model& m, const std::string& name) {
    for (const SignalId k : m.signals.ids()) {
        const SignalKind kind = m.signals[k].kind;
        if (m.signals[k].name == name && kind != SignalKind::seen && kind != SignalKind::load) return k;
    }
    const SignalId load = signal(m, name, SignalKind::load);
    INFO(name);
    REQUIRE(load);
    return load;
}

Rational number(const Model& m, const std::string& name, const std::string& text) {
    const Signal& s = m.signal(signal(m, name));
    Diagnostics out;
    const auto value = compile_number({text, {1, 1, 1}, false, ""}, s.type.dimension, s.type.difference, name, out);
    INFO(name << " " << text);
    REQUIRE(value);
    return value->si;
}

Bench::Bench(const std::string& text, const std::string& condition, ClaimId claim)
    : Bench(shared_model(text), condition, claim) {}

Bench::Bench(std::shared_ptr<const Model> model, const std::string& condition, ClaimId claim)
    : model_(std::move(model)), interpreter_(*model_, condition_named(*model_, condition), claim) {
    for (const auto& q : model_->quantities) c_.quantities.push_back(std::clamp(Rational(0), q.range.lo, q.range.hi));
    for (const auto& s : model_->switches) c_.positions.push_back(s.rests_on);
    c_.missed.resize(model_->switches.size());
    c_.readings.resize(model_->sensors.size());
    c_.contacts.resize(model_->relays.size());
    c_.free_loads.resize(model_->loads.size());
    reading_set_.resize(model_->sensors.size());
    contact_set_.resize(model_->relays.size());
}

Bench& Bench::set(const std::string& name, bool on) {
    const Signal& s = model_->signal(signal(*model_, name));
    if (s.kind == SignalKind::position) {
        c_.positions[s.index] = on;
    } else {
        REQUIRE(s.kind == SignalKind::load);
        c_.free_loads[s.index] = on;
    }
    return *this;
}

Bench& Bench::set(const std::string& name, const char* value) {
    const Signal& s = model_->signal(signal(*model_, name));
    if (s.kind == SignalKind::reading) {
        c_.readings[s.index] = number(*model_, name, value);
        reading_set_[s.index] = true;
    } else {
        REQUIRE(s.kind == SignalKind::quantity);
        c_.quantities[s.index] = number(*model_, name, value);
    }
    return *this;
}

Bench& Bench::set(Mode next) {
    c_.next_mode = next;
    return *this;
}

Bench& Bench::miss(const std::string& name, bool missed) {
    c_.missed[model_->signal(signal(*model_, name)).index] = missed;
    return *this;
}

Bench& Bench::contact(const std::string& name, bool on) {
    const RelayId relay = model_->signal(signal(*model_, name, SignalKind::contact)).index;
    c_.contacts[relay] = on;
    contact_set_[relay] = true;
    return *this;
}

Bench& Bench::boot(bool up) {
    c_.booted = up;
    return *this;
}

Bench& Bench::move_on(bool yes) {
    c_.claim_moves_on = yes;
    return *this;
}

Choices Bench::choices() const {
    Choices c = c_;
    for (const SensorId sensor : c.readings.ids()) {
        if (!reading_set_[sensor]) c.readings[sensor] = c.quantities[model_->sensors[sensor].quantity];
    }
    Machine m = interpreter_.machine();
    m.set_world(c.positions, c.quantities);
    m.sample(c.missed, c.readings);
    m.run_logic(m.may_be_up().taken(c.booted));
    m.energise_coils({});
    for (const RelayId relay : c.contacts.ids()) {
        if (!contact_set_[relay]) c.contacts[relay] = m.relays().position(relay) != m.may_have_moved(relay).must;
    }
    return c;
}

const Scan& Bench::step() {
    last_ = interpreter_.step(choices());
    REQUIRE(last_.broken_rule == "");
    return last_;
}

const Scan& Bench::step(long scans) {
    for (long k = 0; k < scans; ++k) step();
    return last_;
}

std::string Bench::refusal() { return interpreter_.check(choices()); }

bool Bench::on(const std::string& name) const { return std::get<bool>(last_.signals[signal(*model_, name)]); }

bool Bench::seen(const std::string& name) const {
    return std::get<bool>(last_.signals[signal(*model_, name, SignalKind::seen)]);
}

Rational Bench::at(const std::string& name) const { return std::get<Rational>(last_.signals[signal(*model_, name)]); }

std::string Bench::answer(const std::string& in, const std::string& sequence, const std::string& out) {
    std::string text;
    for (const char c : sequence) {
        set(in, c == '1');
        step();
        text += on(out) ? '1' : '0';
    }
    return text;
}

std::string followers(Bench& b) {
    std::string text;
    for (const auto& [mode, letter] : {std::pair{Mode::stopped, 's'}, std::pair{Mode::cranking, 'c'},
                                       std::pair{Mode::running, 'r'}, std::pair{Mode::coasting, 'o'}}) {
        const std::string why = b.set(mode).refusal();
        INFO(why);
        REQUIRE((why.empty() || why.find("engine: ") == 0));
        if (why.empty()) text += letter;
    }
    return text;
}

}  // namespace lanyard::test
