// What the parser makes of a text before names and types are known.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "lang/expr.hpp"
#include "lang/lexer.hpp"

namespace lanyard::lang {

// How deep an expression may be nested. Everything that walks a tree - here, in the interpreter, in the encoding -
// may recurse without thinking of its stack.
inline constexpr int nesting_limit = 200;

enum class SyntaxShape {
    error,    // reported; `args` are pieces that can be judged by themselves
    literal,  // `number` and `unit`
    name,
    truth,
    mode,
    apply,  // operator or block `op` applied to `args`
    band,   // args: value, on point, off point; `flag`: goes on above
};

struct SyntaxNode;
using NodePtr = std::unique_ptr<SyntaxNode>;

struct SyntaxNode {
    SyntaxShape shape = SyntaxShape::error;
    Op op = Op::truth;
    Span span;                 // from the first to the last character
    Span head;                 // the operator, block word or name
    std::string text;          // name; a literal as written; the name of a table
    Rational number;           // literals, votes
    std::optional<Unit> unit;  // literals
    std::string unknown_unit;  // literals: a word where a unit should be
    bool flag = false;
    Mode mode = Mode::stopped;
    bool in_parentheses = false;
    int height = 1;
    std::vector<NodePtr> args;
};

// A whole text as an expression. Never null; problems are in the report.
NodePtr parse_expression_text(TextReport& report);

// A signed number with or without a unit, or an interval of two of them, and nothing else; null = reported.
struct IntervalNodes {
    NodePtr lo;
    NodePtr hi;
};
NodePtr parse_number_text(TextReport& report);
std::optional<IntervalNodes> parse_interval_text(TextReport& report);

// "There is no unit `pis`", for a literal with such a word behind it.
void report_unknown_unit(TextReport& report, const SyntaxNode& literal);

}  // namespace lanyard::lang
