#include "lang/lookalike.hpp"

#include <array>
#include <map>

namespace lanyard::lang {

namespace {

// Twins of letters are those of the Unicode confusables that an English, Greek or Cyrillic keyboard can make.
const std::map<char32_t, const char*>& twins() {
    static const std::map<char32_t, const char*> table{
        // Cyrillic
        {U'\u0430', "a"},
        {U'\u0435', "e"},
        {U'\u043E', "o"},
        {U'\u0440', "p"},
        {U'\u0441', "c"},
        {U'\u0443', "y"},
        {U'\u0445', "x"},
        {U'\u0456', "i"},
        {U'\u0458', "j"},
        {U'\u0455', "s"},
        {U'\u04BB', "h"},
        {U'\u0501', "d"},
        {U'\u0410', "A"},
        {U'\u0412', "B"},
        {U'\u0415', "E"},
        {U'\u041A', "K"},
        {U'\u041C', "M"},
        {U'\u041D', "H"},
        {U'\u041E', "O"},
        {U'\u0420', "P"},
        {U'\u0421', "C"},
        {U'\u0422', "T"},
        {U'\u0425', "X"},
        {U'\u0406', "I"},
        {U'\u0408', "J"},
        {U'\u0405', "S"},
        {U'\u0423', "Y"},
        // Greek
        {U'\u0391', "A"},
        {U'\u0392', "B"},
        {U'\u0395', "E"},
        {U'\u0396', "Z"},
        {U'\u0397', "H"},
        {U'\u0399', "I"},
        {U'\u039A', "K"},
        {U'\u039C', "M"},
        {U'\u039D', "N"},
        {U'\u039F', "O"},
        {U'\u03A1', "P"},
        {U'\u03A4', "T"},
        {U'\u03A5', "Y"},
        {U'\u03A7', "X"},
        {U'\u03BF', "o"},
        {U'\u03BD', "v"},
        {U'\u03C1', "p"},
        {U'\u0251', "a"},
        {U'\u0131', "i"},
        // Units
        {U'\u00B0', "deg"},
        {U'\u00BA', "deg"},
        {U'\u2103', "degC"},
        {U'\u2109', "degF"},
        {U'\u03A9', "ohm"},
        {U'\u2126', "ohm"},
        {U'\u212A', "K"},
        {U'\u00B2', "2"},
        {U'\u00B3', "3"},
        // Signs
        {U'\u2212', "-"},
        {U'\u2010', "-"},
        {U'\u2011', "-"},
        {U'\u2012', "-"},
        {U'\u2013', "-"},
        {U'\u2014', "-"},
        {U'\u00D7', "*"},
        {U'\u22C5', "*"},
        {U'\u00B7', "*"},
        {U'\u00F7', "/"},
        {U'\u2044', "/"},
        {U'\u2215', "/"},
        {U'\u2264', "<="},
        {U'\u2265', ">="},
        {U'\u2260', "<>"},
        {U'\u2192', "->"},
        {U'\u21D2', "->"},
        {U'\u2026', ".."},
        {U'\u00AC', "NOT"},
        {U'\u2227', "AND"},
        {U'\u2228', "OR"},
        {U'\u201A', ","},
        {U'\u066A', "%"},
        // Spaces, and what cannot be seen at all
        {U'\u00A0', " "},
        {U'\u2007', " "},
        {U'\u2009', " "},
        {U'\u202F', " "},
        {U'\u3000', " "},
        {U'\u200B', " "},
        {U'\u200C', " "},
        {U'\u200D', " "},
        {U'\u2060', " "},
        {U'\uFEFF', " "},
        {U'\u00AD', " "},
        {U'\u0085', " "},
        {U'\u2028', " "},
        {U'\u2029', " "},
    };
    return table;
}

}  // namespace

std::string ascii_twin(char32_t code) {
    // Full-width forms repeat ASCII at a fixed distance.
    if (code >= 0xFF01 && code <= 0xFF5E) return std::string(1, static_cast<char>(code - 0xFF01 + '!'));
    const auto found = twins().find(code);
    return found == twins().end() ? "" : found->second;
}

std::string code_point_text(char32_t code) {
    static constexpr char hex[] = "0123456789ABCDEF";
    std::string digits;
    for (unsigned shift = 24; shift-- > 0;) {
        if (shift % 4 != 0) continue;
        const auto digit = (static_cast<unsigned>(code) >> shift) & 0xFU;
        if (digit != 0 || !digits.empty() || shift < 16) digits += hex[digit];
    }
    return "U+" + digits;
}

}  // namespace lanyard::lang
