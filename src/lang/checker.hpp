// Syntax tree -> typed expression: names are looked up, units are compared, constants are worked out.
//
// Temperatures come in two kinds, points on a scale (absolute) and distances between them (differences), because
// "10 degF warmer" and "at 10 degF" convert differently. A constant temperature does not show which it is, so it is
// kept in both readings ("flexible") until what it is compared with, added to or assigned to decides.
// Tested by: tests/lang/tree_test.cpp, tests/lang/messages_test.cpp
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lang/syntax.hpp"

namespace lanyard::lang {

// A constant temperature that may be either kind.
struct Flexible {
    Rational absolute;
    Rational difference;
    bool kelvin = false;  // built of kelvins alone: means a difference where nothing decides
};

// A checked piece. `expr` is null after a reported problem.
struct Checked {
    ExprPtr expr;
    std::optional<Flexible> flexible;
    explicit operator bool() const { return expr != nullptr; }
};

class Checker {
 public:
    Checker(Scope& scope, TextReport& report) : scope_(scope), report_(report) {}
    ExprPtr whole(const SyntaxNode& node, const std::optional<Type>& wanted);

 private:
    Scope& scope_;
    TextReport& report_;
    bool told_no_engine_ = false;

    Checked check(const SyntaxNode& node);
    std::vector<Checked> check_all(const SyntaxNode& node);

    // leaves
    Checked literal(const SyntaxNode& node);
    void unknown_unit(const SyntaxNode& node);
    Checked name(const SyntaxNode& node);
    void unknown_name(const SyntaxNode& node);
    void no_engine(const Span& span);
    Checked mode(const SyntaxNode& node);

    // operators
    Checked apply(const SyntaxNode& node);
    Checked logic(const SyntaxNode& node);
    Checked arithmetic(const SyntaxNode& node);
    Checked comparison(const SyntaxNode& node);
    Checked equality(const SyntaxNode& node, Checked left, Checked right);
    ExprPtr compare_numbers(Op op, const SyntaxNode& node, const SyntaxNode& left_node, Checked left,
                            const SyntaxNode& right_node, Checked right);
    Checked negation(const SyntaxNode& node);
    Checked sum(const SyntaxNode& node);
    Checked temperature_sum(const SyntaxNode& node, const Checked& left, const Checked& right);
    Checked flexible_sum(const SyntaxNode& node, const Checked& left, const Checked& right);
    void ambiguous(const Span& span, const std::string& what);
    Checked product(const SyntaxNode& node);
    Checked quotient(const SyntaxNode& node, Checked left, Checked right);
    bool scalable(const SyntaxNode& node, Checked& value);

    // blocks
    Checked memory(const SyntaxNode& node);
    bool input(const SyntaxNode& node, Operand wanted, Expr& element);
    ExprPtr remembered(const SyntaxNode& node, Operand wanted, Op op);
    bool preset_time(const SyntaxNode& node, Operand wanted, Expr& element);
    bool preset_count(const SyntaxNode& node, Expr& element);
    Checked vote(const SyntaxNode& node);
    Checked band(const SyntaxNode& node);
    Checked table(const SyntaxNode& node);
    std::optional<TableShape> table_shape(const SyntaxNode& node);
    std::optional<long> whole_count(const SyntaxNode& node, const Rational& value, bool plain, long least, long most,
                                    const std::string& what);

    // types
    ExprPtr boolean(const SyntaxNode& node);
    ExprPtr as_boolean(const SyntaxNode& node, Checked value);
    bool is_number(const SyntaxNode& node, const Checked& value);
    ExprPtr settle(const Checked& value, bool difference) const;
    ExprPtr settle_alone(const Checked& value) const;
    ExprPtr assign(const SyntaxNode& node, const Checked& value, const Type& wanted, const std::string& place);
    void mismatch(const SyntaxNode& left_node, const Type& left, const SyntaxNode& right_node, const Type& right,
                  const Span& span, const std::string& why);
    void unit_missing(const SyntaxNode& node, const Type& wanted, const std::string& why);

    // making
    std::shared_ptr<Expr> make(Op op, const SyntaxNode& node, Type type, std::vector<ExprPtr> args = {}) const;
    std::shared_ptr<Expr> element(Op op, const SyntaxNode& node, Type type, std::vector<ExprPtr> args);
    Checked constant(const SyntaxNode& node, const Dimension& dimension, Rational value,
                     std::string written = "") const;
    Checked constant(const SyntaxNode& node, const Flexible& value, std::string written = "") const;
};

// "pressure", "difference of temperatures", "on/off signal", "engine mode", with its article.
std::string describe(const Type& type);
// "1 bar (other units: psi, kPa)": how a value of that kind may be written.
std::string unit_example(const Type& type, const std::string& number);

}  // namespace lanyard::lang
