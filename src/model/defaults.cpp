#include "model/defaults.hpp"

#include <algorithm>

namespace lanyard::model {

namespace {

using Bands = std::array<std::optional<StandardBand>, mode_count>;

StandardBand band(std::string lo, std::string hi) { return {std::move(lo), std::move(hi), "", "", ""}; }

StandardBand band(std::string lo, std::string hi, std::string after, std::string before_lo, std::string before_hi) {
    return {std::move(lo), std::move(hi), std::move(after), std::move(before_lo), std::move(before_hi)};
}

std::vector<StandardQuantity> make_standard_quantities() {
    const StandardBand warm = band("10", "102"), warm_f = band("50", "216");
    return {
        {"engine_speed",
         "speed",
         {{"rpm", "0", "9000", Bands{band("0", "0"), band("150", "250"), band("850", "7200"), band("0", "7200")}}}},
        {"oil_pressure",
         "oil_pressure",
         {{"psi", "0", "100",
           Bands{band("0", "2", "5", "0", "75"), band("0", "12", "5", "0", "75"), band("25", "75", "3", "0", "75"),
                 band("0", "75")}},
          {"bar", "0", "7",
           Bands{band("0", "0.15", "5", "0", "5.2"), band("0", "0.8", "5", "0", "5.2"),
                 band("1.7", "5.2", "3", "0", "5.2"), band("0", "5.2")}},
          {"kPa", "0", "700",
           Bands{band("0", "15", "5", "0", "520"), band("0", "80", "5", "0", "520"),
                 band("170", "520", "3", "0", "520"), band("0", "520")}}}},
        {"coolant_temperature",
         "coolant_temperature",
         {{"degC", "-40", "150", Bands{warm, warm, warm, warm}},
          {"degF", "-40", "300", Bands{warm_f, warm_f, warm_f, warm_f}}}},
        {"battery_voltage",
         "battery_voltage",
         {{"V", "0", "16",
           Bands{band("11.8", "12.8"), band("8.5", "11.0"), band("13.2", "14.6", "1", "8.5", "14.6"),
                 band("11.8", "14.6")}}}},
        {"road_speed", "", {{"km/h", "0", "250", {}}, {"mph", "0", "155", {}}}},
        {"throttle", "", {{"%", "0", "100", {}}}},
    };
}

const StandardValues& values_in(const StandardQuantity& q, const std::optional<Unit>& unit) {
    const auto same = [&](const StandardValues& v) { return unit && v.unit == unit->symbol; };
    const auto found = std::find_if(q.in.begin(), q.in.end(), same);
    return found == q.in.end() ? q.in.front() : *found;
}

Rational exact(const StandardValues& v, const std::string& number) {
    return to_si(parse_decimal(number).value(), find_unit(v.unit).value(), false);
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

Dimension dimension_of(const StandardQuantity& q) { return find_unit(q.in.front().unit).value().dimension; }

Unit unit_of(const StandardQuantity& q, const std::optional<Unit>& unit) {
    return unit ? *unit : find_unit(q.in.front().unit).value();
}

Interval range_of(const StandardQuantity& q, const std::optional<Unit>& unit) {
    const StandardValues& v = values_in(q, unit);
    return {exact(v, v.lo), exact(v, v.hi)};
}

std::optional<ModeBand> healthy_of(const StandardQuantity& q, Mode mode, const std::optional<Unit>& unit) {
    const StandardValues& v = values_in(q, unit);
    const auto& b = v.healthy.at(ordinal(mode));
    if (!b) return std::nullopt;
    ModeBand made;
    made.within = {exact(v, b->lo), exact(v, b->hi)};
    made.before = made.within;
    made.is_default = true;
    if (b->after.empty()) return made;
    made.after = parse_decimal(b->after).value();
    made.before = {exact(v, b->before_lo), exact(v, b->before_hi)};
    return made;
}

}  // namespace lanyard::model
