#include "base/suggest.hpp"
#include "model/build.hpp"
#include "model/names.hpp"

namespace lanyard::model {

namespace {

const StandardQuantity* role_of(const Build& b, const std::string& quantity) {
    for (const auto& q : standard_quantities()) {
        const auto role = b.roles.find(q.role);
        if (role != b.roles.end() && role->second == quantity) return &q;
    }
    return nullptr;
}

// The range, or that of the part that it plays; false if there is none.
bool read_range(Build& b, const std::string& name, const std::optional<LocatedText>& text, bool given,
                const Entry& entry, Quantity& q, Signal& s) {
    if (text) {
        const auto range = compile_interval(*text, "the range of " + quoted(name), b.reading.out());
        if (!range) return false;
        q.range = range->first;
        s.unit = range->second;
        s.type = value_type(range->second);
        return true;
    }
    if (given) return false;
    const StandardQuantity* standard = find_standard(name);
    if (standard == nullptr) standard = role_of(b, name);
    if (standard == nullptr) {
        b.reading.error("missing-range", entry.pointer, entry.place, "the quantity " + quoted(name) + " has no range",
                        "the range says what can happen, and only the standard quantities have a default range",
                        R"(add "range": "0 .. 10 bar")");
        return false;
    }
    const auto unit = b.written_units.of(dimension_of(*standard), name);
    q.range = range_of(*standard, unit);
    q.range_is_default = true;
    s.unit = unit_of(*standard, unit);
    s.type = value_type(*s.unit);
    return true;
}

struct BandReader {
    Build& b;
    const std::string& name;
    const Quantity& quantity;
    const Unit& unit;

    std::optional<Interval> interval(const LocatedText& text) const {
        const auto i = read_interval(b, text, unit, false, "the healthy value of " + quoted(name));
        if (!i) return std::nullopt;
        if (inside(*i, quantity.range)) return i;
        b.reading.error("band-outside-range", text.pointer, text.place,
                        "the healthy values " + interval_text(*i, unit) + " do not lie within the range " +
                            interval_text(quantity.range, unit) + " of " + quoted(name),
                        "the range is what is physically possible, in a healthy engine too", "");
        return std::nullopt;
    }

    std::optional<ModeBand> band(const json::Value& v, const std::string& pointer) const {
        ModeBand made;
        made.place = b.reading.place(v);
        if (v.kind == json::Kind::string) {
            const auto i = interval(b.reading.located(v, pointer));
            if (!i) return std::nullopt;
            made.within = made.before = *i;
            return made;
        }
        const ObjectReader object(b.reading, object_help("band"), v, pointer);
        const auto within = object.text("within");
        const auto after = object.text("after");
        const auto before = object.text("before");
        std::optional<Interval> w;
        if (within) w = interval(*within);
        bool good = object.good() && w;
        made.before = quantity.range;
        if (after && !(made.after = read_time(b, *after, "the time of \"after\"", false))) good = false;
        if (before) {
            const auto i = interval(*before);
            good = good && i;
            if (i) made.before = *i;
        }
        good = check_times(object) && good;
        if (!good) return std::nullopt;
        made.within = *w;
        return made;
    }

    bool check_times(const ObjectReader& object) const {
        if (object.has("before") && !object.has("after")) {
            b.reading.error("before-without-after", object.pointer(), object.place("before"),
                            "\"before\" needs \"after\"", "it holds until the time \"after\" has passed", "");
            return false;
        }
        if (object.has("after") && !b.has_engine) {
            b.reading.error("no-engine", object.pointer("after"), object.place("after"),
                            "\"after\" counts from the engine's firing or stopping, but this model has no engine", "",
                            R"(add "engine": {})");
            return false;
        }
        return true;
    }
};

bool names_modes(const json::Value& v) {
    for (const auto& m : v.members)
        if (m.key == "within" || m.key == "after" || m.key == "before") return false;
    return true;
}

void read_healthy(Build& b, const BandReader& reader, const json::Value& v, const std::string& pointer, Quantity& q) {
    if (v.kind == json::Kind::string || !names_modes(v)) {
        const auto band = reader.band(v, pointer);
        for (auto& h : q.healthy) h = band;
        return;
    }
    if (!b.has_engine) {
        b.reading.error("no-engine", pointer, b.reading.place(v), "engine modes in a model without an engine", "",
                        R"(add "engine": {}, or give one interval)");
        return;
    }
    const ObjectReader modes(b.reading, object_help("healthy_modes"), v, pointer);
    for (const Mode m : all_modes)
        if (const auto* band = modes.get(mode_name(m)))
            q.healthy.at(ordinal(m)) = reader.band(*band, modes.pointer(mode_name(m)));
}

void keep_lines(Build& b, const ObjectReader& object, QuantityId index) {
    const auto* list = object.get("follows");
    if (list == nullptr) return;
    for (std::size_t i = 0; i < list->items.size(); ++i)
        b.lines.push_back({index, &list->items[i], json::child(object.pointer("follows"), i)});
}

void build_quantity(Build& b, const Entry& e) {
    const auto index = b.model.quantities.next();
    Quantity q;
    Signal s{e.name, SignalKind::quantity, Type::number({}, true), std::nullopt, index, e.place, e.pointer};
    bool good = false;
    bool healthy_given = false;
    if (e.value != nullptr && e.value->kind == json::Kind::string) {
        good = read_range(b, e.name, b.reading.located(*e.value, e.pointer), true, e, q, s);
    } else if (e.value != nullptr) {
        const ObjectReader object(b.reading, object_help("quantity"), *e.value, e.pointer);
        good = read_range(b, e.name, object.text("range"), object.has("range"), e, q, s);
        healthy_given = object.has("healthy");
        const auto* healthy = object.get("healthy");
        if (good && healthy != nullptr)
            read_healthy(b, {b, e.name, q, *s.unit}, *healthy, object.pointer("healthy"), q);
        keep_lines(b, object, index);
    }
    q.signal = add_signal(b, std::move(s));
    declare(b, e, {Thing::quantity, index, q.signal, !good});
    add_quantity(b, std::move(q), healthy_given);
}

// "speed": "rpm" in the engine section is enough to have a quantity rpm with the usual range - unless it looks like a
// slip of the pen for one that is there.
void build_role_quantities(Build& b, const ObjectReader& top) {
    const json::Value* engine = top.get("engine");
    if (engine == nullptr) return;
    std::vector<std::string> known = b.name_order;
    for (const auto& q : standard_quantities()) known.push_back(q.name);
    for (const auto& q : standard_quantities()) {
        const json::Member* m = engine->find(q.role);
        if (m == nullptr || m->value.kind != json::Kind::string) continue;
        const std::string& name = m->value.text;
        const bool there = b.names.count(name) > 0 || find_standard(name) != nullptr;
        if (there || !is_name(name) || is_taken(name) || nearest(name, known)) continue;
        add_standard(b, q, {name, b.reading.place(m->value), json::child(top.pointer("engine"), q.role)});
    }
}

}  // namespace

void build_quantities(Build& b, const ObjectReader& top) {
    for (const auto& e : top.entries("quantities")) build_quantity(b, e);
    build_role_quantities(b, top);
}

}  // namespace lanyard::model
