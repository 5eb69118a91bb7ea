#include "report/json_values.hpp"

#include "circuit/words.hpp"
#include "report/words.hpp"
#include "sim/words.hpp"

namespace lanyard::report {

namespace {

std::string exact(const Model& m, SignalId id, const Rational& x) {
    return exact_text(from_si(x, sim::unit_of(m, id), m.signal(id).type.difference));
}

Json numbers(const Model& m, const std::vector<Rational>& values, bool readings) {
    Json out = Json::object();
    for (std::size_t k = 0; k < values.size(); ++k) {
        const SignalId id = readings ? m.sensors[k].signal : m.quantities[k].signal;
        out[m.name_of(id)] = exact(m, id, values[k]);
    }
    return out;
}

Json segment(const Model& m, const Segment& s, long begin) {
    const Choices& c = s.first;
    Json out = {{"scan", begin}, {"time_s", exact_text(Rational(m.scan * begin))}, {"scans", s.scans}};
    out["quantities"] = numbers(m, c.quantities, false);
    out["readings"] = numbers(m, c.readings, true);
    if (!s.last_quantities.empty()) out["last_quantities"] = numbers(m, s.last_quantities, false);
    if (!s.last_readings.empty()) out["last_readings"] = numbers(m, s.last_readings, true);
    Json positions = Json::object();
    Json missed = Json::array();
    for (std::size_t k = 0; k < c.positions.size(); ++k) {
        const std::string& name = m.name_of(m.switches[k].position);
        positions[name] = static_cast<bool>(c.positions[k]);
        if (k < c.missed.size() && c.missed[k]) missed.push_back(name);
    }
    out["positions"] = positions;
    if (!missed.empty()) out["missed"] = missed;
    Json contacts = Json::object();
    for (std::size_t k = 0; k < c.contacts.size(); ++k)
        contacts[m.name_of(m.relays[k].contact)] = static_cast<bool>(c.contacts[k]);
    if (!contacts.empty()) out["contacts"] = contacts;
    Json free_loads = Json::object();
    for (std::size_t k = 0; k < c.free_loads.size(); ++k)
        if (m.loads[k].is_free()) free_loads[m.name_of(m.loads[k].signal)] = static_cast<bool>(c.free_loads[k]);
    if (!free_loads.empty()) out["free_loads"] = free_loads;
    Json fed = Json::object();
    for (std::size_t p = 0; p < c.wiring.size(); ++p)
        fed[probe_name(m, static_cast<int>(p))] = static_cast<bool>(c.wiring[p]);
    if (!fed.empty()) out["wiring"] = fed;
    Json faults = Json::array();
    for (std::size_t f = 0; f < c.faults.size(); ++f)
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
