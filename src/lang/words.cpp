#include "lang/words.hpp"

#include <algorithm>
#include <map>
#include <optional>

#include "base/characters.hpp"
#include "base/suggest.hpp"
#include "lang/compile.hpp"

namespace lanyard {

namespace {

constexpr std::size_t longest_name = 64;

WordHelp block(std::string word, std::string form, std::string meaning, Op op, int inputs, int most = 0) {
    return {std::move(word), std::move(form), std::move(meaning),    WordKind::block, op,
            Mode::stopped,   inputs,          std::max(inputs, most)};
}

WordHelp word(WordKind kind, std::string text, std::string form, std::string meaning, Op op = Op::truth) {
    return {std::move(text), std::move(form), std::move(meaning), kind, op, Mode::stopped, 0, 0};
}

WordHelp mode(Mode m, std::string meaning) {
    return {
        mode_name(m), std::string("engine = ") + mode_name(m), std::move(meaning), WordKind::mode, Op::mode, m, 0, 0};
}

std::vector<WordHelp> make_words() {
    using K = WordKind;
    return {
        block("TON", "TON(low, 1 s)", "on once the input has been on for that long without a break (on-delay)", Op::ton,
              2),
        block("TOF", "TOF(key, 30 s)", "on with the input, and for that long after it went off (off-delay)", Op::tof,
              2),
        block("TP", "TP(key, 3 s)",
              "on for that long from the moment the input comes on, whatever it does then (pulse)", Op::tp, 2),
        block("SR", "SR(start, stop)", "latch: on by the first input, off by the second; with both it is on", Op::sr,
              2),
        block("RS", "RS(start, trip)", "latch: on by the first input, off by the second; with both it is off", Op::rs,
              2),
        block("R_TRIG", "R_TRIG(start)", "on for one scan when the input comes on; also if it is on at power-up",
              Op::r_trig, 1),
        block("F_TRIG", "F_TRIG(start)", "on for one scan when the input goes off; also if it is off at power-up",
              Op::f_trig, 1),
        block("CTU", "CTU(start, reset, 3)",
              "on once the first input has come on that many times since the second was on", Op::ctu, 3),
        block("band", "band(coolant, on > 104 degC, off < 96 degC)",
              "comparison with a separate point for going off; in between it stays as it was", Op::band, 3),
        word(K::part, "of", "2 of (a, b, c)", "on when at least that many of the inputs are on (voting)", Op::vote),
        block("rate", "rate(coolant, 1 s)", "how fast a value has changed over that time, per second", Op::rate, 2),
        block("previous", "previous(pump)", "the value at the scan before; off or 0 at power-up", Op::previous, 1),
        block("table", "table(fan_map, coolant, speed)",
              "value read from a table, straight lines between its points, held at its ends", Op::table, 2, 3),
        word(K::logic, "NOT", "NOT key", "on when the next word is off", Op::not_),
        word(K::arithmetic, "*", "oil_v * 25 psi/V", "times", Op::mul),
        word(K::arithmetic, "/", "oil / 2", "divided by a number", Op::div),
        word(K::arithmetic, "+", "oil + 2 psi", "plus", Op::add),
        word(K::arithmetic, "-", "coolant - 5 K", "minus", Op::sub),
        word(K::comparison, "<", "oil < 15 psi", "below", Op::lt),
        word(K::comparison, "<=", "oil <= 15 psi", "below or equal", Op::le),
        word(K::comparison, ">", "oil > 15 psi", "above", Op::gt),
        word(K::comparison, ">=", "oil >= 15 psi", "above or equal", Op::ge),
        word(K::comparison, "=", "engine = running", "equal", Op::eq),
        word(K::comparison, "<>", "engine <> running", "not equal", Op::ne),
        word(K::logic, "AND", "key AND start", "on when both are on", Op::and_),
        word(K::logic, "XOR", "up XOR down", "on when one of the two is on, but not both", Op::xor_),
        word(K::logic, "OR", "key OR start", "on when at least one is on", Op::or_),
        word(K::logic, "->", "trip -> NOT pump", "whenever the left side is on, the right side is on (claims only)",
             Op::implies),
        word(K::constant, "TRUE", "TRUE", "always on", Op::truth),
        word(K::constant, "FALSE", "SR(trip, FALSE)", "always off", Op::truth),
        word(K::part, "on", "band(oil, on < 15 psi, off > 20 psi)", "in band: the point at which it goes on"),
        word(K::part, "off", "band(oil, on < 15 psi, off > 20 psi)", "in band: the point at which it goes off"),
        word(K::signal, "engine", "engine = running", "what the engine is doing (claims only)"),
        mode(Mode::stopped, "the engine stands still"),
        mode(Mode::cranking, "the starter turns it, it does not fire"),
        mode(Mode::running, "it runs by itself"),
        mode(Mode::coasting, "it turns, but no longer runs"),
        word(K::signal, "powered", "powered AND trip", "the controller has power (claims only)"),
    };
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

bool has_memory(Op op) {
    switch (op) {
        case Op::ton:
        case Op::tof:
        case Op::tp:
        case Op::sr:
        case Op::rs:
        case Op::r_trig:
        case Op::f_trig:
        case Op::ctu:
        case Op::band:
        case Op::rate:
        case Op::previous:
            return true;
        case Op::truth:
        case Op::number:
        case Op::mode:
        case Op::signal:
        case Op::last:
        case Op::not_:
        case Op::and_:
        case Op::or_:
        case Op::xor_:
        case Op::implies:
        case Op::vote:
        case Op::lt:
        case Op::le:
        case Op::gt:
        case Op::ge:
        case Op::eq:
        case Op::ne:
        case Op::add:
        case Op::sub:
        case Op::mul:
        case Op::div:
        case Op::neg:
        case Op::table:
            return false;
    }
    return false;
}

const char* op_word(Op op) {
    if (op == Op::neg) return op_word(Op::sub);
    if (op == Op::truth) return "constant";
    if (op == Op::mode) return "mode";
    for (const WordHelp& w : element_table())
        if (w.op == op) return w.word.c_str();
    return op == Op::number ? "number" : "signal";
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

}  // namespace lanyard
