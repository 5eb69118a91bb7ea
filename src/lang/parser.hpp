// A Pratt parser: each operator has a strength, and an operand goes to the stronger of its neighbours (V. R. Pratt,
// "Top down operator precedence", 1973).
//
// After a mistake it goes on at the next place where the text makes sense by itself - the next AND, OR, comma or
// bracket - and says nothing about what lies between, so that one mistake is told once and independent ones are all
// told. Nesting is limited, because a text of brackets alone must not be able to use up the stack.
// Tested by: tests/lang/tree_test.cpp, tests/lang/print_test.cpp, tests/lang/soup_test.cpp
#pragma once

#include <algorithm>

#include "lang/syntax.hpp"
#include "lang/words.hpp"

namespace lanyard::lang {

class Parser {
 public:
    explicit Parser(TextReport& report) : report_(report), tokens_(lex(report)) {}

    NodePtr whole_expression();
    NodePtr signed_literal();  // -5 degC
    std::optional<IntervalNodes> interval();
    bool at_end() const { return now().kind == TokenKind::end; }
    const Token& now() const { return tokens_[at_]; }

 private:
    TextReport& report_;
    std::vector<Token> tokens_;
    std::size_t at_ = 0;
    int nesting_ = 0;
    bool quiet_ = false;      // a mistake was told and the text has not made sense since
    bool abandoned_ = false;  // nested too deeply: nothing more is said

    // tokens
    const Token& ahead(std::size_t n) const { return tokens_[std::min(at_ + n, tokens_.size() - 1)]; }
    const Token& take();
    Span here() const;  // of the present token; at the end of the text, the last one
    bool at_closer() const;

    // mistakes
    void mistake(const Span& span, const std::string& what, const std::string& hint, const std::string& why = "");
    void too_deep(const Span& span, const std::string& what);
    static std::string too_many_levels();

    // nodes
    NodePtr make(SyntaxShape shape, Op op, const Span& head, const Span& span, std::vector<NodePtr> args = {});
    NodePtr binary(Op op, const Token& sign, NodePtr left, NodePtr right);
    NodePtr error_node(std::vector<NodePtr> args = {});

    // grammar
    const WordHelp* infix();
    NodePtr sequence();  // an expression and, as an error, whatever stands between it and the next closer
    NodePtr expression(int least);
    NodePtr nested(int least);  // counts the nesting
    NodePtr prefix();
    NodePtr prefix_word();
    NodePtr parenthesised();
    NodePtr negated();
    NodePtr literal();
    void unit_of(SyntaxNode& literal);
    NodePtr call(const WordHelp& word, const Token& token);
    NodePtr unknown_call(const Token& token);
    NodePtr stray_word(const WordHelp& word, const Token& token);
    NodePtr stray_unit(const Token& token);
    NodePtr vote(NodePtr number, const Token& of);
    NodePtr table_call(const Token& token);
    NodePtr band_call(const Token& token);
    NodePtr band_point(bool& is_on, bool& is_above);
    bool open(const Token& word, const std::string& form);
    std::vector<NodePtr> inputs();  // up to and with the closing bracket
    void close_bracket();
    void missing_operator();
};

}  // namespace lanyard::lang
