// The words of the expression language, in one table: those of the operators and the others. Help prints it, the parser
// and its messages work from it, and nobody can name a signal like one of them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "lang/expr.hpp"

namespace lanyard::lang {

enum class WordKind {
    block,       // a word with inputs in parentheses: TON(x, 1 s)
    logic,       // AND, OR, XOR, NOT, ->
    comparison,  //
    arithmetic,  //
    constant,    // TRUE, FALSE
    mode,        // modes of the engine
    part,        // stands inside of something else: of, on, off
    signal,      // names that the program gives itself
};

struct WordHelp {
    std::string word;
    std::string form;     // an example of its use
    std::string meaning;  // one line
    WordKind kind = WordKind::part;
    Op op = Op::truth;  // blocks and operators
    Mode mode = Mode::stopped;
};

// In the order in which help prints it.
const std::vector<WordHelp>& element_table();

// The entry of a word or operator sign, exactly as written there; null if there is none.
const WordHelp* find_word(std::string_view word);

// The same for a word in any mixture of capitals ("and", "Ton"): for messages.
const WordHelp* find_word_any_case(std::string_view word);

// A unit that somebody meant by a symbol that is none ("sec", "C", "PSI"); empty if there is no idea.
std::string unit_meant_by(std::string_view symbol);

}  // namespace lanyard::lang
