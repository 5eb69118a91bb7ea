#include "support.hpp"

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>

#include "base/file.hpp"
#include "circuit/words.hpp"
#include "report/story.hpp"
#include "sim/words.hpp"

namespace lanyard::test {

using namespace report;

Playing::Playing(const Model& m, const std::string& claim)
    : model_(m),
      claim_(claim_named(m, claim)),
      now_(m, m.claims[claim_].condition, claim_),
      world_(m, m.claims[claim_].condition, claim_),
      wish_(m) {}

Playing& Playing::set(const std::string& name, bool on) {
    for (const SwitchId k : model_.switches.ids())
        if (model_.name_of(model_.switches[k].position) == name) wish_.positions[k] = on;
    return *this;
}

Playing& Playing::set(const std::string& name, const std::string& text) {
    const auto value = [&](SignalId id) {
        Diagnostics problems;
        const Unit unit = sim::unit_of(model_, id);
        const auto n =
            compile_number({text, {}, false, ""}, unit.dimension, model_.signal(id).type.difference, name, problems);
        REQUIRE(n);
        return n->si;
    };
    for (const QuantityId k : model_.quantities.ids()) {
        const SignalId id = model_.quantities[k].signal;
        if (model_.name_of(id) == name) wish_.quantities[k] = value(id);
    }
    for (const SensorId k : model_.sensors.ids()) {
        const SignalId id = model_.sensors[k].signal;
        if (model_.name_of(id) == name) wish_.readings[k] = value(id);
    }
    return *this;
}

Playing& Playing::engine(Mode mode) {
    wish_.engine = mode;
    return *this;
}

Playing& Playing::moves_on() {
    wish_.claim_moves_on = true;
    return *this;
}

Playing& Playing::fault(const std::string& name, bool on) {
    bool known = false;
    for (const FaultId k : model_.faults.ids()) {
        if (model_.faults[k].name != name) continue;
        wish_.faults[k] = on;
        known = true;
    }
    INFO(name);
    REQUIRE(known);
    return *this;
}

Playing& Playing::answer(const std::string& probe, bool on) {
    bool known = false;
    for (const ProbeId k : model_.circuit.probes.ids()) {
        if (probe_name(model_, k) != probe) continue;
        wish_.wiring[k] = on;
        known = true;
    }
    INFO(probe);
    REQUIRE(known);
    return *this;
}

Playing& Playing::late(const std::string& relay, bool closed) {
    for (const RelayId k : model_.relays.ids())
        if (model_.name_of(model_.relays[k].contact) == relay) wish_.contacts[k] = closed;
    return *this;
}

bool Playing::scan() {
    const Proposal p = world_.propose(now_, wish_);
    INFO(p.why_not);
    REQUIRE(p.choices);
    last_ = *p.choices;
    append(run_, last_);
    const Scan s = now_.step(last_);
    const bool possible = std::holds_alternative<Possible>(model_.claims[claim_].body);
    broken_ = s.violated || (possible && s.goal);
    return broken_;
}

Playing& Playing::scans(long n) {
    for (long k = 0; k < n; ++k) scan();
    return *this;
}

Playing& Playing::until_broken(long n) {
    for (long k = 0; k < n && !scan(); ++k) continue;
    REQUIRE(broken_);
    return *this;
}

Playing& Playing::moving(const std::string& quantity, const std::string& text, long n) {
    Segment s;
    s.scans = n;
    s.first = last_;
    set(quantity, text);
    s.last_quantities = last_.quantities;
    s.last_readings = last_.readings;
    for (const QuantityId k : wish_.quantities.ids())
        if (model_.name_of(model_.quantities[k].signal) == quantity) s.last_quantities[k] = *wish_.quantities[k];
    for (const SensorId k : model_.sensors.ids()) {
        const QuantityId q = model_.sensors[k].quantity;
        if (model_.name_of(model_.quantities[q].signal) == quantity) s.last_readings[k] = s.last_quantities[q];
    }
    for (long i = 0; i < n; ++i) {
        last_ = choices_at(s, i);
        const Scan played = now_.step(last_);
        INFO(played.broken_rule);
        REQUIRE(played.broken_rule.empty());
        broken_ = played.violated;
    }
    run_.segments.push_back(s);
    return *this;
}

ClaimResult Playing::refuted(const std::string& remark) const {
    REQUIRE(broken_);
    return result(model_, model_.claims[claim_].id, Refuted{run_, std::nullopt, remark});
}

ClaimResult result(const Model& m, const std::string& claim, Verdict verdict) {
    ClaimResult r;
    r.claim = claim_named(m, claim);
    r.verdict = std::move(verdict);
    r.prover = "bounded";
    return r;
}

ClaimResult proved(const Model& m, const std::string& claim, const Run& example) {
    Certificate c;
    c.lemmas = {"(=> |tripped| (not |enable|))"};
    c.assumptions = {"healthy: coolant_temperature within 10 .. 102 degC (common practice)", "world: sensor oil"};
    c.elements = {"enable", "hot", "oil_low", "tripped"};
    c.unused_elements = {"fan", "starter"};
    return result(m, claim, Proved{c, example});
}

FilmedResults filmed(const Model& m, const std::vector<ClaimResult>& results) {
    FilmedResults out;
    for (const auto& r : results) out.emplace_back(m, r);
    return out;
}

std::string story_of(const Model& m, const ClaimResult& r) { return story(FilmedResult(m, r)); }

void check_golden(const std::string& name, const std::string& text) {
    const std::filesystem::path path = std::filesystem::path(REPORT_TESTS) / "golden" / name;
    if (const char* mode = std::getenv("LANYARD_GOLDEN"); mode != nullptr && std::string(mode) == "write") {
        REQUIRE(write_file(path, text).empty());
        return;
    }
    const auto expected = read_file(path, 1 << 24);
    REQUIRE(expected);
    CHECK(text == *expected);
}

std::string why_of(const Model& m, const Playing& p) {
    const std::string text = story_of(m, p.refuted());
    const auto at = text.find("why           ");
    REQUIRE(at != std::string::npos);
    std::string out;
    for (std::size_t from = at; from < text.size();) {
        const std::size_t end = text.find('\n', from);
        out += text.substr(from + 14, end - from - 14) + '\n';
        from = end + 1;
        if (text.compare(from, 5, "rests") == 0 || text.compare(from, 8, "it takes") == 0) break;
    }
    return out;
}

const std::string& kestrel() {
    static const std::string text = R"json({
  "lanyard": 1,
  "name": "Kestrel, hill-climb single-seater",
  "inputs": {
    "key":     { "switch": "maintained", "terminal": "A1" },
    "coolant": { "senses": "coolant_temperature", "accuracy": "1 K", "terminal": "A7" },
    "oil":     { "senses": "oil_pressure", "accuracy": "0.1 bar", "delay": "50 ms", "terminal": "A8" },
    "speed":   { "senses": "engine_speed", "terminal": "A9" },
    "start":   { "switch": "momentary", "terminal": "A4" },
    "loop":    { "reads_back": "prime", "terminal": "A3" }
  },
  "logic": {
    "hot":     "band(coolant, on > 104 degC, off < 96 degC)",
    "turning": "speed > 400 rpm",
    "oil_low": "TON(TON(turning, 6 s) AND oil < 1 bar, 1 s)",
    "tripped": "RS(hot OR oil_low, R_TRIG(key))"
  },
  "outputs": {
    "prime":   { "on": "TP(key, 2 s) OR turning", "feeds": "fuel_pump", "terminal": "B1" },
    "enable":  { "on": "loop AND NOT tripped AND speed < 8500 rpm", "relay": "enable_relay", "terminal": "B4" },
    "starter": { "on": "start AND NOT turning", "terminal": "B2" },
    "fan":     { "duty": "table(fan_map, coolant)", "terminal": "B6" }
  },
  "tables": {
    "fan_map": { "rows": { "of": "coolant", "at": ["85 degC", "95 degC"] }, "cells": ["0 %", "100 %"] }
  },
  "relays": { "enable_relay": { "pulls_in": "10 ms", "drops_out": "20 ms", "feeds": ["injectors", "coils"] } },
  "engine": { "fires_with": ["injectors", "coils", "fuel_pump"], "cranks_with": "starter" },
  "conditions": { "warm": { "base": "healthy", "holds": "NOT hot", "except": { "coolant_temperature": "80 .. 90 degC" } } },
  "claims": {
    "it starts": { "procedure": ["set key", "wait 2.5 s", "hold start for 3 s"], "ends_with": "engine = running" },
    "oil cut": { "whenever": "engine_speed > 500 rpm AND oil_pressure < 0.8 bar", "for": "6 s", "then": "NOT injectors",
      "within": "1 s" },
    "trip holds": { "always": "tripped -> NOT enable AND NOT prime" },
    "runs": { "possible": "engine = running", "under": "warm" },
    "fan on": { "always": "coolant_temperature > 90 degC -> fan > 60 %" }
  }
}
)json";
    return text;
}

}  // namespace lanyard::test
