#include "model/defaults.hpp"

namespace lanyard {

namespace {

using Bands = std::array<std::optional<StandardBand>, mode_count>;

StandardBand band(std::string lo, std::string hi) { return {std::move(lo), std::move(hi), "", "", ""}; }

StandardBand band(std::string lo, std::string hi, std::string after, std::string before_lo, std::string before_hi) {
    return {std::move(lo), std::move(hi), std::move(after), std::move(before_lo), std::move(before_hi)};
}

std::vector<StandardQuantity> make_standard_quantities() {
    const StandardBand warm = band("10", "102");
    return {
        {"engine_speed", "rpm", "0", "9000", "speed",
         Bands{band("0", "0"), band("150", "250"), band("850", "7200"), band("0", "7200")}},
        {"oil_pressure", "psi", "0", "100", "oil_pressure",
         Bands{band("0", "2", "5", "0", "75"), band("0", "12", "5", "0", "75"), band("25", "75", "3", "0", "75"),
               band("0", "75")}},
        {"coolant_temperature", "degC", "-40", "150", "coolant_temperature", Bands{warm, warm, warm, warm}},
        {"battery_voltage", "V", "0", "16", "battery_voltage",
         Bands{band("11.8", "12.8"), band("8.5", "11.0"), band("13.2", "14.6", "1", "8.5", "14.6"),
               band("11.8", "14.6")}},
        {"road_speed", "km/h", "0", "250", "", {}},
        {"throttle", "%", "0", "100", "", {}},
    };
}

Rational exact(const StandardQuantity& q, const std::string& number) {
    return to_si(parse_decimal(number).value(), unit_of(q), false);
}

}  // namespace

const std::vector<StandardQuantity>& standard_quantities() {
    static const std::vector<StandardQuantity> table = make_standard_quantities();
    return table;
}

const StandardQuantity* find_standard(const std::string& name) {
    for (const auto& q : standard_quantities())
        if (q.name == name) return &q;
    return nullptr;
}

const StandardQuantity* find_role(const std::string& role) {
    for (const auto& q : standard_quantities())
        if (!role.empty() && q.role == role) return &q;
    return nullptr;
}

Unit unit_of(const StandardQuantity& q) { return find_unit(q.unit).value(); }

Interval range_of(const StandardQuantity& q) { return {exact(q, q.lo), exact(q, q.hi)}; }

std::optional<ModeBand> healthy_of(const StandardQuantity& q, Mode mode) {
    const auto& b = q.healthy.at(ordinal(mode));
    if (!b) return std::nullopt;
    ModeBand made;
    made.within = {exact(q, b->lo), exact(q, b->hi)};
    made.before = made.within;
    made.is_default = true;
    if (b->after.empty()) return made;
    made.after = parse_decimal(b->after).value();
    made.before = {exact(q, b->before_lo), exact(q, b->before_hi)};
    return made;
}

}  // namespace lanyard
