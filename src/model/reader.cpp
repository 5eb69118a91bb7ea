#include "model/reader.hpp"

#include <algorithm>

#include "base/characters.hpp"
#include "base/suggest.hpp"
#include "model/names.hpp"

namespace lanyard::model {

LocatedText Reading::located(const json::Value& v, const std::string& pointer) const {
    Place p = source_.place_of(v.offset + 1, v.length > 2 ? v.length - 2 : 1);
    return {v.text, p, v.escaped, pointer};
}

void Reading::error(const char* code, const std::string& pointer, Place place, std::string what, std::string why,
                    std::string hint) {
    add({code, Severity::error, pointer, place, std::move(what), std::move(why), std::move(hint)});
}

void Reading::warning(const char* code, const std::string& pointer, Place place, std::string what, std::string why,
                      std::string hint) {
    add({code, Severity::warning, pointer, place, std::move(what), std::move(why), std::move(hint)});
}

std::string quoted(const std::string& text) {
    constexpr std::size_t longest = 70;
    if (text.size() <= longest) return '`' + text + '`';
    return '`' + std::string(first_bytes(text, longest - 4)) + " ...`";
}

bool Reading::may_suggest(std::size_t candidates) {
    const bool may = candidates <= candidates_left_;
    if (may) candidates_left_ -= candidates;
    return may;
}

std::string Reading::suggestion(const std::string& word, const std::vector<std::string>& candidates) {
    constexpr std::size_t longest_word = 200;
    if (word.size() > longest_word || !may_suggest(candidates.size())) return "";
    const auto near = nearest(word, candidates);
    return near ? "did you mean `" + *near + "`?" : "";
}

ObjectReader::ObjectReader(Reading& reading, const ObjectHelp& help, const json::Value& object, std::string pointer)
    : reading_(reading), help_(help), pointer_(std::move(pointer)), place_(reading.place(object)) {
    for (const auto& m : object.members)
        if (!m.duplicate) read_key(m);
    find_missing();
}

const KeyHelp* ObjectReader::help_for(std::string_view key) const {
    for (const auto& k : help_.keys)
        if (k.key == key) return &k;
    return nullptr;
}

void ObjectReader::read_key(const json::Member& m) {
    const KeyHelp* key = help_for(m.key);
    if (key == nullptr) {
        unknown_key(m);
        return;
    }
    const bool right = check_shape(reading_, *key, m.value, json::child(pointer_, m.key));
    if (!right) good_ = false;
    values_.emplace_back(m.key, right ? &m.value : nullptr);
}

void ObjectReader::unknown_key(const json::Member& m) {
    good_ = false;
    const bool top = help_.id == "model";
    if (top && (m.key == "controllers" || m.key == "controller" || m.key == "scans")) {
        reading_.error("one-controller", json::child(pointer_, m.key), reading_.key_place(m),
                       "a model has one controller with one scan period",
                       "how two controllers run relative to each other is not defined",
                       "write a model for each; what one tells the other is an input");
        return;
    }
    std::vector<std::string> known;
    std::string list;
    for (const auto& k : help_.keys) {
        known.push_back(k.key);
        list += (list.empty() ? "" : ", ") + k.key;
    }
    std::string hint = reading_.suggestion(m.key, known);
    if (hint.empty()) hint = "the keys are " + list;
    reading_.error("unknown-key", json::child(pointer_, m.key), reading_.key_place(m),
                   "there is no key " + quoted(m.key) + " in " + with_article(help_),
                   "an unknown key is not skipped: it may be a misspelt one that matters", hint);
}

void ObjectReader::find_missing() {
    for (const auto& k : help_.keys) {
        if (!k.required || has(k.key)) continue;
        good_ = false;
        std::string hint = k.meaning;
        if (!k.example.empty()) hint = "add \"" + k.key + "\": " + k.example + " (" + hint + ")";
        reading_.error("missing-key", pointer_, place_, with_article(help_) + " needs \"" + k.key + "\"", "", hint);
    }
}

bool ObjectReader::has(std::string_view key) const {
    return std::any_of(values_.begin(), values_.end(), [&](const auto& v) { return v.first == key; });
}

const json::Value* ObjectReader::get(std::string_view key) const {
    for (const auto& [name, value] : values_)
        if (name == key) return value;
    return nullptr;
}

Place ObjectReader::place(std::string_view key) const {
    const auto* v = get(key);
    return v == nullptr ? place_ : reading_.place(*v);
}

std::optional<LocatedText> ObjectReader::text(std::string_view key) const {
    const auto* v = get(key);
    if (v == nullptr || v->kind != json::Kind::string) return std::nullopt;
    return reading_.located(*v, pointer(key));
}

std::vector<LocatedText> ObjectReader::texts(std::string_view key) const {
    std::vector<LocatedText> all;
    if (const auto one = text(key)) all.push_back(*one);
    const auto* v = get(key);
    if (v == nullptr || v->kind != json::Kind::array) return all;
    for (std::size_t i = 0; i < v->items.size(); ++i)
        all.push_back(reading_.located(v->items[i], json::child(pointer(key), i)));
    return all;
}

std::string ObjectReader::word(std::string_view key, const std::string& otherwise) const {
    const auto* v = get(key);
    return v == nullptr || v->kind != json::Kind::string ? otherwise : v->text;
}

bool ObjectReader::flag(std::string_view key) const {
    const auto* v = get(key);
    return v != nullptr && v->flag;
}

long ObjectReader::count(std::string_view key) const {
    const auto* v = get(key);
    return v == nullptr ? 0 : std::stol(v->text);
}

namespace {

Shape entry_shape(Shape map) {
    if (map == Shape::interval_map) return Shape::interval;
    if (map == Shape::expression_map) return Shape::expression;
    return map == Shape::text_map ? Shape::text : Shape::object;
}

}  // namespace

std::vector<Entry> ObjectReader::entries(std::string_view key) const {
    std::vector<Entry> all;
    const auto* map = get(key);
    const KeyHelp* help = help_for(key);
    if (map == nullptr || help == nullptr) return all;
    KeyHelp entry = *help;
    entry.key = "note";
    for (const auto& m : map->members) {
        if (m.duplicate) continue;
        Entry e{m.key, reading_.key_place(m), json::child(pointer(key), m.key), nullptr, true};
        if (m.key == "note") {
            entry.shape = Shape::text;
            entry.example = R"("measured 12 May")";
            check_shape(reading_, entry, m.value, e.pointer);
            continue;
        }
        entry.shape = entry_shape(help->shape);
        entry.key = m.key;
        entry.example.clear();
        if (check_shape(reading_, entry, m.value, e.pointer)) e.value = &m.value;
        if (help->shape == Shape::map || help->shape == Shape::expression_map)
            e.good_name = check_name(reading_, e.name, e.place, e.pointer);
        all.push_back(std::move(e));
    }
    return all;
}

namespace {

const std::string& first_key(const ObjectHelp& help) { return help.keys.front().key; }

bool has_key(const ObjectHelp& help, const std::string& key) {
    return std::any_of(help.keys.begin(), help.keys.end(), [&](const KeyHelp& k) { return k.key == key; });
}

// Without those whose first key only tells something more about another one.
std::vector<const ObjectHelp*> chief_of(const std::vector<const ObjectHelp*>& found) {
    std::vector<const ObjectHelp*> chief;
    for (const auto* help : found) {
        const bool part = std::any_of(found.begin(), found.end(), [&](const ObjectHelp* other) {
            return other != help && has_key(*other, first_key(*help));
        });
        if (!part) chief.push_back(help);
    }
    return chief;
}

}  // namespace

const ObjectHelp* choose_kind(Reading& reading, const std::vector<std::string>& ids, const json::Value& object,
                              const std::string& pointer, Place place, const std::string& title,
                              const std::vector<std::string>& words) {
    std::vector<std::string> firsts;
    std::vector<const ObjectHelp*> found;
    std::string list;
    const auto look = [&](const std::string& id) {
        const ObjectHelp& help = object_help(id);
        firsts.push_back(first_key(help));
        if (object.find(firsts.back()) != nullptr) found.push_back(&help);
    };
    for (const auto& id : ids) {
        look(id);
        list += (list.empty() ? "\"" : ", \"") + firsts.back() + '"';
    }
    for (const auto& id : words) look(id);
    const auto chosen = chief_of(found);
    if (chosen.size() == 1) return chosen.front();
    if (chosen.size() > 1) {
        reading.error("two-kinds", pointer, place,
                      title + " has both \"" + first_key(*chosen[0]) + "\" and \"" + first_key(*chosen[1]) + "\"",
                      "each of the two makes it a different kind", "keep one, or write two of them");
        return nullptr;
    }
    std::string hint;
    for (const auto& m : object.members)
        if (hint.empty()) hint = reading.suggestion(m.key, firsts);
    reading.error("no-kind", pointer, place, title + " has none of the keys " + list,
                  words.empty() ? "one of these says what kind it is"
                                : "one of these, or a word of `lanyard help words`, says what kind it is",
                  hint);
    return nullptr;
}

const ObjectHelp* choose_claim(Reading& reading, const json::Value& claim, const std::string& pointer, Place place) {
    return choose_kind(reading, claim_kinds(), claim, pointer, place, "the claim", claim_words());
}

}  // namespace lanyard::model
