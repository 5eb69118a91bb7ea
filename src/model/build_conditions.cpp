#include "model/build.hpp"
#include "model/condition_faults.hpp"
#include "model/scopes.hpp"
#include "model/split.hpp"

namespace lanyard::model {

namespace {

// "106 .. 114 degC" instead of the healthy values of a quantity.
bool read_exception(Build& b, Condition& c, const LocatedText& quantity, const LocatedText& interval) {
    const QuantityId index = quantity_named(b, quantity);
    if (!index) return false;
    const Quantity& q = b.model.quantities[index];
    const Signal s = b.model.signal(q.signal);
    if (!s.unit) return false;
    const auto i = read_interval(b, interval, *s.unit, false, "the value of " + quoted(s.name));
    if (!i) return false;
    for (const auto& [other, unused] : c.replaced) {
        if (other != index) continue;
        b.reading.error("named-twice", quantity.pointer, quantity.place, "`" + s.name + "` has two exceptions");
        return false;
    }
    if (!inside(*i, q.range)) {
        b.reading.error("band-outside-range", interval.pointer, interval.place,
                        "the values " + interval_text(*i, *s.unit) + " do not lie within the range " +
                            interval_text(q.range, *s.unit) + " of `" + s.name + "`",
                        "the range is everything that is physically possible");
        return false;
    }
    c.replaced.emplace_back(index, *i);
    return true;
}

bool needs_healthy(Build& b, const Condition& c, Place place, const std::string& pointer) {
    if (c.healthy) return true;
    b.reading.error("except-needs-healthy", pointer, place, "\"except\" replaces healthy values, but the base is any",
                    "under any, every quantity has its whole range", "make the base healthy");
    return false;
}

bool read_holds(Build& b, Condition& c, const LocatedText& text) {
    ClaimScope scope(b);
    const ExprPtr e = compile_for(b, text, scope, Type::boolean(), {Op::ton, true, false});
    if (e == nullptr) return false;
    c.holds.push_back(e);
    return true;
}

bool read_object(Build& b, Condition& c, const json::Value& v, const std::string& pointer) {
    const ObjectReader object(b.reading, object_help("condition"), v, pointer);
    c.healthy = object.word("base") == "healthy";
    bool good = object.good();
    for (const auto& text : object.texts("holds")) good = read_holds(b, c, text) && good;
    for (const auto& e : object.entries("except")) {
        if (e.value == nullptr) {
            good = false;
            continue;
        }
        const LocatedText quantity{e.name, e.place, true, e.pointer};
        good = read_exception(b, c, quantity, b.reading.located(*e.value, e.pointer)) && good;
    }
    if (object.has("except")) good = needs_healthy(b, c, object.place("except"), object.pointer("except")) && good;
    if (const auto* faults = object.get("faults"))
        good = read_fault_object(b, c, *faults, object.pointer("faults")) && good;
    settle_faults(b, c);
    if (!object.has("holds") && !object.has("except") && !object.has("faults")) {
        b.reading.error("empty-condition", pointer, object.place(),
                        "a condition needs \"holds\", \"except\" or \"faults\"", "it would be the same as its base",
                        "");
        good = false;
    }
    return good;
}

// What stands behind any or healthy must be parted from it by a comma.
bool comma_is_missing(Build& b, const LocatedText& text) {
    for (const char* base : {"any", "healthy"}) {
        const auto rest = behind_words(text, base);
        if (!rest || rest->text.empty() || rest->text.front() == ',') continue;
        b.reading.error(
            "condition-syntax", rest->pointer, rest->place, std::string("a comma is missing after `") + base + "`", "",
            "write `healthy, NOT pit_kill` or `healthy, except coolant_temperature within 106 .. 114 degC`");
        return true;
    }
    return false;
}

bool read_inline_exception(Build& b, Condition& c, const LocatedText& text) {
    const auto [quantity, rest] = first_word(text);
    const auto interval = behind_words(rest, "within");
    if (!interval) {
        b.reading.error("condition-syntax", text.pointer, text.place, "an exception names a quantity and its interval",
                        "", "healthy, except coolant_temperature within 106 .. 114 degC");
        return false;
    }
    return read_exception(b, c, quantity, *interval);
}

bool read_parts(Build& b, Condition& c, const std::vector<LocatedText>& parts) {
    bool good = true;
    bool in_exceptions = false, in_faults = false;
    for (std::size_t i = 1; i < parts.size(); ++i) {
        const auto exception = behind_words(parts[i], "except");
        const LocatedText& text = exception ? *exception : parts[i];
        if (const auto phrase = fault_phrase(b, text)) {
            in_faults = true;
            good = begin_faults(b, c, text, *phrase) && good;
            continue;
        }
        if (exception) {
            in_exceptions = true;
            good = needs_healthy(b, c, parts[i].place, parts[i].pointer) && good;
        }
        const bool more = in_exceptions && behind_words(first_word(parts[i]).second, "within");
        const LocatedText named = without_start(text, c);
        if (exception || more)
            good = read_inline_exception(b, c, text) && good;
        else if (in_faults && continues_faults(b, named.text))
            good = add_faults(b, c, named) && good;
        else
            good = read_holds(b, c, text) && good;
    }
    settle_faults(b, c);
    return good;
}

// "any, ..." or "healthy, ..." with its parts, or an expression alone.
bool read_text(Build& b, Condition& c, const LocatedText& all) {
    const auto parts = split_at_commas(all);
    if (parts.size() > 1 && (parts[0].text == "any" || parts[0].text == "healthy")) {
        c.healthy = parts[0].text == "healthy";
        return read_parts(b, c, parts);
    }
    if (fault_phrase(b, all)) {
        b.reading.error("condition-syntax", all.pointer, all.place, "a list of faults is added to a base",
                        "faults may occur in any run, or in an otherwise healthy one",
                        "write `any, " + all.text + "` or `healthy, " + all.text + "`");
        return false;
    }
    return !comma_is_missing(b, all) && read_holds(b, c, all);
}

void build_condition(Build& b, const Entry& e, ConditionId index) {
    Condition& c = b.model.conditions[index];
    bool good = e.value != nullptr;
    if (good && e.value->kind == json::Kind::string)
        good = read_text(b, c, trimmed(b.reading.located(*e.value, e.pointer)));
    else if (good)
        good = read_object(b, c, *e.value, e.pointer);
    const auto named = b.names.find(e.name);
    if (named != b.names.end() && named->second.thing == Thing::condition) named->second.broken = !good;
}

// A single word is a condition's name, or an expression by itself.
ConditionId named_condition(Build& b, const LocatedText& word, bool& is_name_of_one) {
    is_name_of_one = true;
    if (word.text == "any") return any_condition;
    if (word.text == "healthy") return healthy_condition;
    const Named* n = resolve(b, word.text);
    if (n == nullptr) {
        b.reading.error("unknown-condition", word.pointer, word.place, "there is no condition `" + word.text + "`", "",
                        suggest_thing(b, word.text, Thing::condition));
        return {};
    }
    if (n->thing == Thing::condition) return n->broken ? ConditionId{} : n->index.to<Condition>();
    is_name_of_one = false;
    return {};
}

}  // namespace

ConditionId condition_for(Build& b, const LocatedText& text) {
    const LocatedText all = trimmed(text);
    if (is_name(all.text) && all.text != "TRUE" && all.text != "FALSE" && all.text != "powered") {
        bool is_name_of_one = false;
        const ConditionId index = named_condition(b, all, is_name_of_one);
        if (is_name_of_one) return index;
    }
    const auto known = b.inline_conditions.find(all.text);
    if (known != b.inline_conditions.end()) return known->second;
    Condition c;
    c.name = c.text = all.text;
    c.place = all.place;
    if (!read_text(b, c, all)) return {};
    const auto index = b.model.conditions.next();
    b.inline_conditions[all.text] = index;
    b.model.conditions.push_back(std::move(c));
    return index;
}

void declare_conditions(Build& b, const ObjectReader& top) {
    Condition any;
    any.name = any.text = "any";
    Condition healthy;
    healthy.name = healthy.text = "healthy";
    healthy.healthy = true;
    b.model.conditions = {any, healthy};
    b.conditions = top.entries("conditions");
    for (const auto& e : b.conditions) {
        declare(b, e, {Thing::condition, b.model.conditions.next(), {}, true});
        Condition c;
        c.name = c.text = e.name;
        c.place = e.place;
        b.model.conditions.push_back(std::move(c));
    }
}

void build_conditions(Build& b) {
    std::size_t index = b.model.conditions.size() - b.conditions.size();
    for (const auto& e : b.conditions) build_condition(b, e, ConditionId(index++));
}

}  // namespace lanyard::model
