#include "lang/words.hpp"

#include <algorithm>
#include <map>
#include <optional>

#include "base/characters.hpp"
#include "base/suggest.hpp"
#include "lang/compile.hpp"

namespace lanyard::lang {

namespace {

constexpr std::size_t longest_name = 64;

WordKind kind_of(const OperatorRow& o) {
    if (o.kind == OpClass::table || has_memory(o.op)) return WordKind::block;
    if (o.strength == 0) return WordKind::part;
    if (o.kind == OpClass::logic) return WordKind::logic;
    return o.kind == OpClass::comparison ? WordKind::comparison : WordKind::arithmetic;
}

WordHelp word(WordKind kind, std::string text, std::string form, std::string meaning, Op op = Op::truth) {
    return {std::move(text), std::move(form), std::move(meaning), kind, op, Mode::stopped};
}

WordHelp mode(Mode m, std::string meaning) {
    return {mode_name(m), std::string("engine = ") + mode_name(m), std::move(meaning), WordKind::mode, Op::mode, m};
}

std::vector<WordHelp> make_words() {
    using K = WordKind;
    std::vector<WordHelp> words;
    for (const OperatorRow& o : operator_table)
        if (o.form != nullptr) words.push_back(word(kind_of(o), o.word, o.form, o.meaning, o.op));
    const std::vector<WordHelp> others{
        word(K::constant, "TRUE", "TRUE", "always on"),
        word(K::constant, "FALSE", "SR(trip, FALSE)", "always off"),
        word(K::part, "on", "band(oil, on < 15 psi, off > 20 psi)", "in band: the point at which it goes on"),
        word(K::part, "off", "band(oil, on < 15 psi, off > 20 psi)", "in band: the point at which it goes off"),
        word(K::signal, "engine", "engine = running", "what the engine is doing (claims only)"),
        mode(Mode::stopped, "the engine does not turn"),
        mode(Mode::cranking, "the starter turns it, it does not fire"),
        mode(Mode::running, "it runs by itself"),
        mode(Mode::coasting, "it turns, but no longer runs"),
        word(K::signal, "powered", "powered AND trip", "the controller has power (claims only)"),
    };
    words.insert(words.end(), others.begin(), others.end());
    return words;
}

std::map<std::string, const WordHelp*, std::less<>> index_of_words(bool lower_case) {
    std::map<std::string, const WordHelp*, std::less<>> index;
    for (const WordHelp& w : element_table()) index.emplace(lower_case ? lower(w.word) : w.word, &w);
    return index;
}

// What people write for a unit, besides mistakes of typing.
const std::map<std::string, std::string, std::less<>>& unit_aliases() {
    static const std::map<std::string, std::string, std::less<>> aliases{
        {"sec", "s"},        {"secs", "s"},      {"second", "s"},        {"seconds", "s"},  {"msec", "ms"},
        {"minute", "min"},   {"minutes", "min"}, {"mins", "min"},        {"hr", "h"},       {"hour", "h"},
        {"hours", "h"},      {"c", "degC"},      {"deg c", "degC"},      {"deg f", "degF"}, {"celsius", "degC"},
        {"degrees", "degC"}, {"f", "degF"},      {"fahrenheit", "degF"}, {"kelvin", "K"},   {"kph", "km/h"},
        {"kmh", "km/h"},     {"volt", "V"},      {"volts", "V"},         {"amp", "A"},      {"amps", "A"},
        {"percent", "%"},    {"pct", "%"},       {"rpms", "rpm"},        {"revs", "rev"},   {"bars", "bar"},
        {"ohms", "ohm"},     {"watt", "W"},      {"watts", "W"},         {"knots", "kn"},   {"knot", "kn"},
        {"kts", "kn"},       {"litre", "l"},     {"liter", "l"},         {"litres", "l"},   {"liters", "l"},
        {"L", "l"},          {"gn", "g"},        {"inch", "in"},         {"inches", "in"},
    };
    return aliases;
}

}  // namespace

const char* mode_name(Mode m) {
    switch (m) {
        case Mode::stopped:
            return "stopped";
        case Mode::cranking:
            return "cranking";
        case Mode::running:
            return "running";
        case Mode::coasting:
            return "coasting";
    }
    return "";
}

const std::vector<WordHelp>& element_table() {
    static const std::vector<WordHelp> table = make_words();
    return table;
}

const WordHelp* find_word(std::string_view text) {
    static const auto index = index_of_words(false);
    const auto found = index.find(text);
    return found == index.end() ? nullptr : found->second;
}

const WordHelp* find_word_any_case(std::string_view text) {
    static const auto index = index_of_words(true);
    const auto found = index.find(lower(text));
    return found == index.end() ? nullptr : found->second;
}

std::string unit_meant_by(std::string_view symbol) {
    const auto alias = unit_aliases().find(lower(symbol));
    if (alias != unit_aliases().end()) return alias->second;
    std::vector<std::string> symbols;
    for (const Unit& u : unit_table()) {
        if (lower(u.symbol) == lower(symbol)) return u.symbol;
        // A single letter is one mistake away from every other one.
        if (u.symbol.size() > 1) symbols.push_back(u.symbol);
    }
    return nearest(symbol, symbols).value_or("");
}

bool is_reserved(const std::string& text) {
    // Words in capitals are kept free in every spelling: "and" beside "AND" would only mislead.
    for (const WordHelp& w : element_table())
        if (w.word == text || (w.word != lower(w.word) && lower(w.word) == lower(text))) return true;
    return std::any_of(unit_table().begin(), unit_table().end(), [&](const Unit& u) { return u.symbol == text; });
}

bool is_name(const std::string& text) {
    if (text.empty() || text.size() > longest_name || !is_letter(text[0])) return false;
    return std::all_of(text.begin(), text.end(), [](char c) { return is_letter(c) || is_digit(c) || c == '_'; });
}

}  // namespace lanyard::lang
