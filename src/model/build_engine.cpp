#include "base/characters.hpp"
#include "model/build.hpp"
#include "model/names.hpp"

namespace lanyard::model {

namespace {

// Loads that are named like their output or relay count as well.
std::string suggest_load(Build& b, const std::string& word) {
    if (!b.reading.may_suggest(b.model.loads.size())) return "";
    std::vector<std::string> known;
    for (const auto& l : b.model.loads) known.push_back(b.model.name_of(l.signal));
    return b.reading.suggestion(word, known);
}

// A load that nothing feeds: what the engine section says of it is all that the model has.
struct FreeLoad {
    LocatedText name;
    bool cranks = false;
    std::string hint;  // it looks like another load's name
};

// All of them in one warning, but for what looks like a slip.
void warn_free(Build& b, const std::vector<FreeLoad>& all) {
    std::vector<const FreeLoad*> free;
    std::vector<std::string> shown, quoted;
    bool fires = false;
    for (const auto& l : all) {
        if (!l.hint.empty()) {
            b.reading.warning("free-load", l.name.pointer, l.name.place, "nothing feeds the load `" + l.name.text + "`",
                              "it may have power or not at any scan", l.hint);
            continue;
        }
        free.push_back(&l);
        shown.push_back('`' + l.name.text + '`');
        quoted.push_back('"' + l.name.text + '"');
        fires = fires || !l.cranks;
    }
    if (free.empty()) return;
    const LocatedText& first = free.front()->name;
    const bool one = free.size() == 1;
    b.reading.warning("free-load", first.pointer, first.place,
                      (one ? "nothing feeds the load " : "nothing feeds the loads ") + joined(shown, ", "),
                      std::string(one ? "it" : "each") + " may have power or not at any scan" +
                          (fires ? ", but a healthy engine always has what it fires with: nothing in this model can "
                                   "switch that off"
                                 : ""),
                      R"(an output that feeds it says so: "feeds": )" + quoted.front() +
                          R"(; if it is meant so, write "free": [)" + joined(quoted, ", ") + R"(] in "engine")");
}

LoadId load_named(Build& b, const LocatedText& name, bool cranks, std::vector<FreeLoad>& free) {
    const auto load = b.loads.find(name.text);
    if (load != b.loads.end()) return load->second;
    const auto named = b.names.find(name.text);
    if (named != b.names.end()) {
        b.reading.error("not-a-load", name.pointer, name.place,
                        "`" + name.text + "` is " + thing_words(named->second.thing) + ", not a load",
                        "an engine runs with what has power, not with what commands it",
                        named->second.thing == Thing::output || named->second.thing == Thing::relay
                            ? "name what it feeds"
                            : suggest_load(b, name.text));
        return {};
    }
    if (!check_name(b.reading, name.text, name.place, name.pointer)) return {};
    free.push_back({name, cranks, suggest_load(b, name.text)});
    const Entry entry{name.text, name.place, name.pointer};
    const LoadId index = add_load(b, entry);
    declare(b, entry, {Thing::load, index, b.model.loads[index].signal});
    return index;
}

// Those that are meant so are not warned of.
void drop_meant(Build& b, const ObjectReader& object, std::vector<FreeLoad>& free) {
    std::unordered_set<std::string> seen;
    for (const auto& meant : object.texts("free")) {
        const auto is_it = [&](const FreeLoad& l) { return l.name.text == meant.text; };
        if (!seen.insert(meant.text).second)
            b.reading.error("named-twice", meant.pointer, meant.place, "`" + meant.text + "` is listed twice");
        else if (std::erase_if(free, is_it) == 0)
            b.reading.error("not-free", meant.pointer, meant.place,
                            "`" + meant.text + "` is not a load that the engine needs and nothing feeds",
                            R"("free" names loads of "fires_with" and "cranks_with" that nothing in the model feeds)",
                            R"(take it out of "free")");
    }
}

void read_numbers(Build& b, const ObjectReader& object, Engine& e) {
    const auto times = [&](const char* key, const char* words, const char* standard, Interval& into) {
        const auto text = object.text(key);
        if (!text && standard != nullptr) {
            if (!object.has(key)) e.defaults.emplace_back(key);
            into = *read_times(b, {standard, {}, true, ""}, words);
        }
        if (!text) return;
        if (const auto t = read_times(b, *text, words)) into = *t;
    };
    times("firing_time", "the firing time", standard_firing_time, e.firing_time);
    times("coast_down", "the coast-down time", standard_coast_down, e.coast_down);
    times("run_on", "the run-on time", nullptr, e.run_on);
    e.push_start = object.flag("push_start");
    const Dimension speed = find_unit("rpm")->dimension;
    const auto catches = object.text("catches_above");
    if (!catches && !object.has("catches_above")) e.defaults.emplace_back("catches_above");
    const LocatedText standard{standard_catches_above, {}, true, ""};
    const auto n = compile_number(catches ? *catches : standard, speed, true, "the catch speed", b.reading.out());
    if (!n) return;
    e.catches_above = n->si;
    if (n->si < 0)
        b.reading.error("negative-speed", catches->pointer, catches->place, "the catch speed must not be negative");
}

void read_loads(Build& b, const ObjectReader& object, Engine& e) {
    std::unordered_set<LoadId> seen;
    std::vector<FreeLoad> free;
    for (const auto& name : object.texts("fires_with")) {
        const LoadId load = load_named(b, name, false, free);
        if (!load) continue;
        if (seen.insert(load).second)
            e.fires_with.push_back(load);
        else
            b.reading.error("named-twice", name.pointer, name.place, "`" + name.text + "` is listed twice");
    }
    if (const auto starter = object.text("cranks_with")) {
        e.cranks_with = load_named(b, *starter, true, free);
        if (seen.count(e.cranks_with) > 0)
            b.reading.error("named-twice", starter->pointer, starter->place,
                            "`" + starter->text + "` both cranks the engine and is needed for it to run",
                            "a running engine does not need its starter", "take it out of \"fires_with\"");
    }
    drop_meant(b, object, free);
    warn_free(b, free);
}

// Roles that were given must name quantities, each another one.
void check_roles(Build& b, const ObjectReader& object) {
    std::unordered_map<std::string, std::string> taken;
    for (const auto& q : standard_quantities()) {
        if (q.role.empty()) continue;
        const auto name = object.text(q.role);
        if (!name) continue;
        const QuantityId index = quantity_named(b, *name);
        if (!index) {
            b.roles.erase(q.role);
            continue;
        }
        const auto [other, is_new] = taken.emplace(name->text, q.role);
        if (!is_new)
            b.reading.error("named-twice", name->pointer, name->place,
                            "`" + name->text + "` is already used as " + other->second);
        const Named* named = resolve(b, name->text);
        const Signal& s = b.model.signal(named->signal);
        if (named->broken || s.type.dimension == dimension_of(q)) continue;
        b.reading.error("wrong-role", name->pointer, name->place,
                        "`" + name->text + "` is a " + dimension_name(s.type.dimension) + ", but " + q.role + " is a " +
                            dimension_name(dimension_of(q)));
        b.roles.erase(q.role);
    }
}

}  // namespace

void build_engine(Build& b, const ObjectReader& top) {
    b.model.powered = add_signal(b, {"powered", SignalKind::powered, Type::boolean(), std::nullopt, {}, {}, ""});
    if (!b.has_engine) return;
    const Place place = top.place("engine");
    b.model.mode =
        add_signal(b, {"engine", SignalKind::mode, Type::of_mode(), std::nullopt, {}, place, top.pointer("engine")});
    const auto* v = top.get("engine");
    if (v == nullptr) return;
    const ObjectReader object(b.reading, object_help("engine"), *v, top.pointer("engine"));
    Engine e;
    e.place = place;
    read_numbers(b, object, e);
    read_loads(b, object, e);
    check_roles(b, object);
    b.model.engine = std::move(e);
}

}  // namespace lanyard::model
