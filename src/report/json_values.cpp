#include "report/json_values.hpp"

#include "circuit/words.hpp"
#include "report/words.hpp"
#include "sim/words.hpp"

namespace lanyard::report {

namespace {

std::string exact(const Model& m, SignalId id, const Rational& x) {
    return exact_text(from_si(x, sim::unit_of(m, id), m.signal(id).type.difference));
}

template <class Thing>
Json numbers(const Model& m, const Indexed<Thing>& things, const Indexed<Thing, Rational>& values) {
    Json out = Json::object();
    for (const auto k : values.ids()) out[m.name_of(things[k].signal)] = exact(m, things[k].signal, values[k]);
    return out;
}

Json segment(const Model& m, const Segment& s, long begin) {
    const Choices& c = s.first;
    Json out = {{"scan", begin}, {"time_s", exact_text(Rational(m.scan * begin))}, {"scans", s.scans}};
    out["quantities"] = numbers(m, m.quantities, c.quantities);
    out["readings"] = numbers(m, m.sensors, c.readings);
    if (!s.last_quantities.empty()) out["last_quantities"] = numbers(m, m.quantities, s.last_quantities);
    if (!s.last_readings.empty()) out["last_readings"] = numbers(m, m.sensors, s.last_readings);
    Json positions = Json::object();
    Json missed = Json::array();
    for (const SwitchId k : c.positions.ids()) {
        const std::string& name = m.name_of(m.switches[k].position);
        positions[name] = c.positions[k];
        if (c.missed.has(k) && c.missed[k]) missed.push_back(name);
    }
    out["positions"] = positions;
    if (!missed.empty()) out["missed"] = missed;
    Json contacts = Json::object();
    for (const RelayId k : c.contacts.ids()) contacts[m.name_of(m.relays[k].contact)] = c.contacts[k];
    if (!contacts.empty()) out["contacts"] = contacts;
    Json free_loads = Json::object();
    for (const LoadId k : c.free_loads.ids())
        if (m.loads[k].is_free()) free_loads[m.name_of(m.loads[k].signal)] = c.free_loads[k];
    if (!free_loads.empty()) out["free_loads"] = free_loads;
    Json fed = Json::object();
    for (const ProbeId p : c.wiring.ids()) fed[probe_name(m, p)] = c.wiring[p];
    if (!fed.empty()) out["wiring"] = fed;
    Json faults = Json::array();
    for (const FaultId f : c.faults.ids())
        if (c.faults[f]) faults.push_back(m.faults[f].name);
    if (!faults.empty()) out["faults"] = faults;
    out["booted"] = c.booted;
    if (m.engine) out["next_mode"] = mode_name(c.next_mode);
    out["claim_moves_on"] = c.claim_moves_on;
    return out;
}

}  // namespace

Json head_json(const Model& m, const Versions& v) {
    Json out = Json::object();
    out["model"] = {{"name", m.name}, {"sha256", m.sha256}, {"scan_s", exact_text(m.scan)}};
    out["lanyard"] = v.lanyard;
    out["solver"] = v.solver;
    return out;
}

Json units_json(const Model& m) {
    Json out = Json::object();
    for (const auto& q : m.quantities) out[m.name_of(q.signal)] = sim::unit_of(m, q.signal).symbol;
    for (const auto& s : m.sensors) out[m.name_of(s.signal)] = sim::unit_of(m, s.signal).symbol;
    return out;
}

Json run_to_json(const Model& m, const Run& run) {
    Json out = {{"scans", run.scans()}, {"segments", Json::array()}};
    long begin = 0;
    for (const auto& s : run.segments) {
        out["segments"].push_back(segment(m, s, begin));
        begin += s.scans;
    }
    return out;
}

Json certificate_to_json(const Certificate& c) {
    return {{"induction", c.induction}, {"lemmas", c.lemmas}, {"assumptions", c.assumptions},
            {"elements", c.elements},   {"parts", c.parts},   {"unused_elements", c.unused_elements}};
}

}  // namespace lanyard::report
