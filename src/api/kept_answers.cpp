#include "api/kept_answers.hpp"

#include <algorithm>
#include <set>

#include "base/rational.hpp"

namespace lanyard::api {

namespace {

using Json = nlohmann::ordered_json;

// Lists of Choices that are bits, and those that are numbers.
constexpr std::size_t bit_lists = 6, number_lists = 2;

template <class Thing>
std::string name_in(const lanyard::model::Model& m, Id<Thing> id) {
    if constexpr (std::is_same_v<Thing, Quantity>)
        return m.name_of(m.quantities[id].signal);
    else if constexpr (std::is_same_v<Thing, Sensor>)
        return m.name_of(m.sensors[id].signal);
    else if constexpr (std::is_same_v<Thing, Switch>)
        return m.name_of(m.switches[id].position);
    else if constexpr (std::is_same_v<Thing, Relay>)
        return m.name_of(m.relays[id].contact);
    else if constexpr (std::is_same_v<Thing, Load>)
        return m.name_of(m.loads[id].signal);
    else if constexpr (std::is_same_v<Thing, Fault>)
        return m.faults[id].name;
    else
        return std::to_string(id.index());  // probes have no names
}

// What is on, and what has which value.
struct Lists {
    const lanyard::model::Model& m;
    Json on = Json::array(), is = Json::array();

    template <class Thing>
    void operator()(const Indexed<Thing, bool>& values) {
        Json names = Json::array();
        for (const auto id : values.ids())
            if (values[id]) names.push_back(name_in(m, id));
        on.push_back(std::move(names));
    }
    template <class Thing>
    void operator()(const Indexed<Thing, Rational>& values) {
        Json named = Json::object();
        for (const auto id : values.ids()) named[name_in(m, id)] = exact_text(values[id]);
        is.push_back(std::move(named));
    }
};

Json kept_segment(const lanyard::model::Model& m, const Segment& s) {
    Lists first{m}, last{m};
    each_choice([&](const auto& list) { first(list); }, s.first);
    Json out = {{"scans", s.scans},          {"mode", mode_name(s.first.next_mode)},
                {"up", s.first.booted},      {"moves_on", s.first.claim_moves_on},
                {"on", std::move(first.on)}, {"is", std::move(first.is)}};
    if (s.last_quantities.empty() && s.last_readings.empty()) return out;
    last(s.last_quantities.empty() ? s.first.quantities : s.last_quantities);
    last(s.last_readings.empty() ? s.first.readings : s.last_readings);
    out["to"] = std::move(last.is);
    return out;
}

Json kept_run(const lanyard::model::Model& m, const Run& run) {
    Json out = Json::array();
    for (const auto& s : run.segments) out.push_back(kept_segment(m, s));
    return out;
}

// Reads what to_json() wrote. Whatever is missing, too much, of another kind or out of range makes it no answer.
class AnswerReader {
 public:
    AnswerReader(const lanyard::model::Model& m, const Json& j) : m_(m), whole_(j) {}

    std::optional<KnownAnswer> read() {
        KnownAnswer out;
        out.prover = text(whole_, "engine");
        if (whole_.is_object() && whole_.contains("depth")) {
            const bool with_run = whole_.contains("run");
            has_only(whole_, with_run ? 3 : 2);
            out.finding = Reached{static_cast<std::size_t>(number(whole_, "depth"))};
            if (with_run) out.run = run(member(whole_, "run"));
        } else if (whole_.is_object() && whole_.contains("rests_on")) {
            has_only(whole_, 2);
            const Json& names = member(whole_, "rests_on");
            has_only(names, 3);
            out.finding = RestsOn{texts(names, "elements"), texts(names, "parts"), texts(names, "assumptions")};
        } else {
            has_only(whole_, 2);
            out.finding = InvariantFound{certificate(member(whole_, "certificate"))};
        }
        if (!fine_ || !can_be_kept(out)) return std::nullopt;
        return out;
    }

 private:
    static constexpr std::int64_t max_number = 1'000'000;

    void has_only(const Json& j, std::size_t members) { fine_ = fine_ && j.is_object() && j.size() == members; }
    const Json& member(const Json& j, const char* key) {
        static const Json nothing;
        const bool there = j.is_object() && j.contains(key);
        fine_ = fine_ && there;
        return there ? j.at(key) : nothing;
    }
    std::string text(const Json& j, const char* key) {
        const Json& found = member(j, key);
        fine_ = fine_ && found.is_string();
        return found.is_string() ? found.get<std::string>() : "";
    }
    std::int64_t number(const Json& j, const char* key) {
        const Json& found = member(j, key);
        const bool good = found.is_number_unsigned() && found.get<std::uint64_t>() <= max_number;
        fine_ = fine_ && good;
        return good ? found.get<std::int64_t>() : 0;
    }
    bool flag(const Json& j, const char* key) {
        const Json& found = member(j, key);
        fine_ = fine_ && found.is_boolean();
        return found.is_boolean() && found.get<bool>();
    }
    const Json& list(const Json& j, const char* key) {
        const Json& found = member(j, key);
        fine_ = fine_ && found.is_array();
        return found;
    }
    std::vector<std::string> texts(const Json& j, const char* key) {
        std::vector<std::string> out;
        for (const Json& text : list(j, key)) {
            fine_ = fine_ && text.is_string();
            if (fine_) out.push_back(text.get<std::string>());
        }
        return out;
    }
    // As exact_text writes it.
    Rational fraction(const Json& j, const char* key) {
        constexpr std::size_t max_length = 200;
        const std::string written = text(j, key);
        std::optional<Rational> value;
        if (written.size() <= max_length) value = parse_fraction(written);
        fine_ = fine_ && value && exact_text(*value) == written;
        return value.value_or(0);
    }
    Run run(const Json& j) {
        Run out;
        fine_ = fine_ && j.is_array() && !j.empty();
        for (const Json& s : j) {
            if (!fine_) break;
            out.segments.push_back(segment(s));
        }
        fine_ = fine_ && can_be_kept(out);
        return out;
    }
    Segment segment(const Json& j) {
        Segment out;
        const Chosen things(m_);
        give_entries(out.first, things);
        has_only(j, j.contains("to") ? 7 : 6);
        out.scans = number(j, "scans");
        const std::string mode = text(j, "mode");
        const auto found =
            std::find_if(all_modes.begin(), all_modes.end(), [&](const Mode m) { return mode == mode_name(m); });
        fine_ = fine_ && found != all_modes.end() && out.scans > 0;
        if (!fine_) return out;
        out.first.next_mode = *found;
        out.first.booted = flag(j, "up");
        out.first.claim_moves_on = flag(j, "moves_on");
        const Json& on = list(j, "on");
        const Json& is = list(j, "is");
        fine_ = fine_ && on.size() == bit_lists && is.size() == number_lists;
        if (!fine_) return out;
        for (const auto& q : m_.quantities.ids()) out.first.quantities[q] = m_.quantities[q].range.lo;
        for (const auto& s : m_.sensors.ids()) out.first.readings[s] = m_.quantities[m_.sensors[s].quantity].range.lo;
        std::size_t bits = 0, numbers = 0;
        each_choice([&](auto& values) { take(values, on, is, bits, numbers); }, out.first);
        if (!j.contains("to")) return out;
        const Json& to = list(j, "to");
        fine_ = fine_ && to.size() == number_lists;
        if (!fine_) return out;
        out.last_quantities = out.first.quantities;
        out.last_readings = out.first.readings;
        numbers = 0;
        take(out.last_quantities, on, to, bits, numbers);
        take(out.last_readings, on, to, bits, numbers);
        return out;
    }
    template <class Thing>
    void take(Indexed<Thing, bool>& values, const Json& on, const Json&, std::size_t& bits, std::size_t&) {
        const Json& names = on.at(bits++);
        fine_ = fine_ && names.is_array();
        std::set<std::string> those;
        for (const Json& name : names) {
            fine_ = fine_ && name.is_string();
            if (fine_) those.insert(name.get<std::string>());
        }
        for (const auto id : values.ids()) values[id] = those.contains(name_in(m_, id));
    }
    template <class Thing>
    void take(Indexed<Thing, Rational>& values, const Json&, const Json& is, std::size_t&, std::size_t& numbers) {
        const Json& those = is.at(numbers++);
        fine_ = fine_ && those.is_object();
        for (const auto id : values.ids())
            if (const std::string name = name_in(m_, id); fine_ && those.contains(name))
                values[id] = fraction(those, name.c_str());
    }
    lanyard::claims::Certificate certificate(const Json& j) {
        lanyard::claims::Certificate c;
        has_only(j, 4);
        c.induction = static_cast<int>(number(j, "induction"));
        c.with_binding_quantities = flag(j, "wide");
        c.lemmas = texts(j, "lemmas");
        for (const Json& t : list(j, "tangents")) {
            has_only(t, 3);
            c.tangents.push_back({text(t, "product"), fraction(t, "u"), fraction(t, "v")});
        }
        return c;
    }

    const lanyard::model::Model& m_;
    const Json& whole_;
    bool fine_ = true;
};

}  // namespace

Json to_json(const lanyard::model::Model& m, const KnownAnswer& known) {
    Json out = {{"engine", known.prover}};
    if (const auto* reached = std::get_if<Reached>(&known.finding)) {
        out["depth"] = reached->depth;
        if (known.run && can_be_kept(*known.run)) out["run"] = kept_run(m, *known.run);
        return out;
    }
    if (const auto* names = std::get_if<RestsOn>(&known.finding)) {
        out["rests_on"] = {{"elements", names->elements}, {"parts", names->parts}, {"assumptions", names->assumptions}};
        return out;
    }
    const lanyard::claims::Certificate& c = std::get<InvariantFound>(known.finding).certificate;
    Json tangents = Json::array();
    for (const auto& t : c.tangents)
        tangents.push_back({{"product", t.product}, {"u", exact_text(t.u)}, {"v", exact_text(t.v)}});
    out["certificate"] = {{"induction", c.induction},
                          {"lemmas", c.lemmas},
                          {"wide", c.with_binding_quantities},
                          {"tangents", std::move(tangents)}};
    return out;
}

std::optional<KnownAnswer> answer_from(const lanyard::model::Model& m, const Json& json) {
    return AnswerReader(m, json).read();
}

}  // namespace lanyard::api
