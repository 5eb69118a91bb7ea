#include "sim/near.hpp"

namespace lanyard::sim {

namespace {

const Rational& what_is_there(const Model& m, const Choices& c, SensorId sensor) {
    return c.quantities[m.sensors[sensor].quantity];
}

}  // namespace

Indexed<Sensor, bool> exact_readings(const Model& m, const Choices& c) {
    Indexed<Sensor, bool> out(like(m.sensors));
    for (const SensorId s : out.ids()) out[s] = c.readings[s] == what_is_there(m, c, s);
    return out;
}

std::optional<NearScan> step_near(const Model& m, const World& world, std::unique_ptr<Interpreter>& now,
                                  const Choices& wanted, const Indexed<Sensor, bool>& exact) {
    NearScan out{wanted, {}, true};
    for (const SensorId s : exact.ids())
        if (exact[s]) out.choices.readings[s] = what_is_there(m, wanted, s);
    auto after = std::make_unique<Interpreter>(*now);
    out.shows = after->step(out.choices);
    if (!out.shows.broken_rule.empty()) {
        Wish wish(m, wanted);
        for (const SensorId s : exact.ids())
            if (exact[s]) wish.readings[s].reset();
        Proposal p = world.propose(*now, wish);
        if (!p.choices) return std::nullopt;
        out = {std::move(*p.choices), std::move(p.scan), false};
        after = std::move(p.after);
    }
    now = std::move(after);
    return out;
}

}  // namespace lanyard::sim
