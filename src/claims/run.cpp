#include "claims/run.hpp"

#include <cstddef>
#include <set>

namespace lanyard::claims {

Chosen::Chosen(const Model& m)
    : quantities(m.quantities),
      positions(m.switches),
      missed(m.switches),
      readings(m.sensors),
      contacts(m.relays),
      free_loads(m.loads),
      wiring(m.circuit.probes),
      faults(m.faults) {}

namespace {

// Nothing moves where `last` is empty.
template <class Thing>
void move_towards(Indexed<Thing, Rational>& values, const Indexed<Thing, Rational>& last, const Rational& part) {
    for (const auto id : values.ids())
        if (last.has(id)) values[id] += (last[id] - values[id]) * part;
}

}  // namespace

Choices choices_at(const Segment& s, long i) {
    Choices c = s.first;
    if (s.scans < 2 || i == 0) return c;
    const Rational part = Rational(i) / Rational(s.scans - 1);
    move_towards(c.quantities, s.last_quantities, part);
    move_towards(c.readings, s.last_readings, part);
    return c;
}

Choices choices_at(const Run& run, long scan) {
    for (const auto& s : run.segments) {
        if (scan < s.scans) return choices_at(s, scan);
        scan -= s.scans;
    }
    return choices_at(run.segments.back(), run.segments.back().scans - 1);
}

Segment first_scans(const Segment& s, long scans) {
    Segment out = s;
    const Choices end = choices_at(s, scans - 1);
    out.scans = scans;
    if (!s.last_quantities.empty()) out.last_quantities = end.quantities;
    if (!s.last_readings.empty()) out.last_readings = end.readings;
    return out;
}

Run first_scans(const Run& run, long scans) {
    Run out;
    for (const auto& s : run.segments) {
        if (scans <= 0) break;
        out.segments.push_back(s.scans <= scans ? s : first_scans(s, scans));
        scans -= s.scans;
    }
    return out;
}

std::vector<FaultId> faults_of(const Run& run) {
    std::set<FaultId> there;
    for (const auto& segment : run.segments)
        for (const FaultId f : segment.first.faults.ids())
            if (segment.first.faults[f]) there.insert(f);
    return {there.begin(), there.end()};
}

}  // namespace lanyard::claims
