#include "sim/words.hpp"

#include "lang/print.hpp"

namespace lanyard::sim {

Unit unit_of(const Model& model, SignalId id) {
    const Signal& s = model.signal(id);
    return s.unit ? *s.unit : default_unit(s.type.dimension);
}

std::string value_text(const Model& model, SignalId id, const Rational& value) {
    return print_value_exact(value, unit_of(model, id), model.signal(id).type.difference);
}

std::string difference_text(const Model& model, SignalId id, const Rational& value) {
    return print_value_exact(value, unit_of(model, id), true);
}

std::string value_text(const Model& model, SignalId id, const Value& value) {
    if (const auto* b = std::get_if<bool>(&value)) return *b ? "on" : "off";
    if (const auto* m = std::get_if<Mode>(&value)) return mode_name(*m);
    return value_text(model, id, std::get<Rational>(value));
}

std::string interval_text(const Model& model, SignalId id, const Interval& interval) {
    return value_text(model, id, interval.lo) + " .. " + value_text(model, id, interval.hi);
}

}  // namespace lanyard::sim
