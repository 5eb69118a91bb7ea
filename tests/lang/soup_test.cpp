// Texts that make no sense: whatever is thrown at it, compile answers with a tree or with messages that point into the
// text, never with both or neither.

#include <catch2/catch.hpp>
#include <random>

#include "car.hpp"

using namespace lanyard::lang;
using namespace lanyard::test;

namespace {

void compile_soup(const std::string& text) {
    INFO(text);
    for (const View view : {View::logic, View::claims, View::no_engine}) {
        Car car(view);
        const Compiled c = compile_in(car, text, Type::boolean());
        if ((c.expr == nullptr) == c.list.empty()) FAIL("a tree and messages, or neither");
        for (const Diagnostic& d : c.list) {
            const bool inside = d.place.line == 1 && d.place.column >= 1 && d.place.length >= 1 &&
                                d.place.column - 1 + d.place.length <= text.size() + 1;
            if (!inside || d.code.empty() || d.what.empty()) FAIL("place outside of the text: " + c.messages);
        }
    }
    Diagnostics out;
    (void)compile_number(located(text), dimension("s"), true, "the value", out);
    (void)compile_interval(located(text), dimension("degC"), false, "the value", out);
    (void)compile_interval(located(text), "the value", out);
}

}  // namespace

TEST_CASE("soup of words") {
    const std::vector<std::string> words{
        "key",      "oil",     "coolant", "warmer", "engine", "lambda",    "AND",    "OR",      "NOT",    "XOR",
        "->",       "(",       "(",       ")",      ")",      ",",         "<",      ">",       "=",      "<>",
        "+",        "-",       "*",       "/",      "15 psi", "90 degC",   "5 K",    "1 s",     "3",      "TON(",
        "TP(",      "SR(",     "CTU(",    "band(",  "rate(",  "previous(", "table(", "fan_map", "2 of (", "on",
        "off",      "running", "psi",     "..",     "%",      ":=",        "and",    "==",      "x",      "15 x",
        "\xD0\xBE", "\xC3",    "1.2.3",   "TRUE",   "of",     "K1.welded", "X1.3",   ".",       ".x"};
    std::mt19937 random(20240229);
    for (int round = 0; round < 2000; ++round) {
        std::string text;
        const auto length = random() % 12;
        for (unsigned i = 0; i < length; ++i) text += words[random() % words.size()] + (random() % 8 ? " " : "");
        compile_soup(text);
    }
}

TEST_CASE("soup of bytes") {
    std::mt19937 random(7);
    for (int round = 0; round < 1000; ++round) {
        std::string text;
        const auto length = random() % 20;
        for (unsigned i = 0; i < length; ++i) {
            char c = static_cast<char>(random() % 256);
            if (c == '\n' || c == '\r') c = ' ';
            text += c;
        }
        compile_soup(text);
    }
}

TEST_CASE("sensible texts with one thing changed") {
    const std::string text =
        "RS(band(coolant, on > 104 degC, off < 96 degC) OR TON(oil < 1 bar, 1 s), 2 of (key, trip, pump)) -> NOT "
        "(lambda > 1.5)";
    for (std::size_t i = 0; i < text.size(); ++i) {
        std::string cut = text, doubled = text;
        compile_soup(cut.erase(i, 1));
        compile_soup(doubled.insert(i, 1, text[i]));
        compile_soup(text.substr(0, i));
        compile_soup(text.substr(i));
    }
}
