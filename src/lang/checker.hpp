// Syntax tree -> typed expression: names are looked up, units are compared, constants are worked out.
//
// Temperatures come in two kinds, points on a scale (absolute) and distances between them (differences), because
// "10 degF warmer" and "at 10 degF" convert differently. A constant temperature does not show which it is, so it is
// kept in both readings ("flexible") until what it is compared with, added to or assigned to decides.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lang/syntax.hpp"

namespace lanyard {

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
    ExprPtr whole(const Node& node, const std::optional<Type>& wanted);

 private:
    Scope& scope_;
    TextReport& report_;
    bool told_no_engine_ = false;

    Checked check(const Node& node);
    std::vector<Checked> check_all(const Node& node);

    // leaves
    Checked literal(const Node& node);
    void unknown_unit(const Node& node);
    Checked name(const Node& node);
    void unknown_name(const Node& node);
    void no_engine(const Span& span);
    Checked mode(const Node& node);

    // operators
    Checked apply(const Node& node);
    Checked logic(const Node& node);
    Checked comparison(const Node& node);
    Checked equality(const Node& node, Checked left, Checked right);
    ExprPtr compare_numbers(Op op, const Node& node, const Node& left_node, Checked left, const Node& right_node,
                            Checked right);
    Checked negation(const Node& node);
    Checked sum(const Node& node);
    Checked temperature_sum(const Node& node, const Checked& left, const Checked& right);
    Checked flexible_sum(const Node& node, const Checked& left, const Checked& right);
    void ambiguous(const Span& span, const std::string& what);
    Checked product(const Node& node);
    Checked quotient(const Node& node, Checked left, Checked right);
    bool scalable(const Node& node, Checked& value);

    // blocks
    Checked timer(const Node& node);
    Checked latch(const Node& node);
    Checked counter(const Node& node);
    Checked vote(const Node& node);
    Checked band(const Node& node);
    Checked rate(const Node& node);
    Checked previous(const Node& node);
    Checked table(const Node& node);
    std::optional<TableShape> table_shape(const Node& node);
    std::optional<Rational> preset_time(const Node& node, const std::string& block, bool zero_is_fine);
    std::optional<long> whole_count(const Node& node, const Rational& value, bool plain, long least, long most,
                                    const std::string& what);

    // types
    ExprPtr boolean(const Node& node);
    ExprPtr as_boolean(const Node& node, Checked value);
    bool is_number(const Node& node, const Checked& value);
    ExprPtr settle(const Checked& value, bool difference) const;
    ExprPtr settle_alone(const Checked& value) const;
    ExprPtr assign(const Node& node, const Checked& value, const Type& wanted, const std::string& place);
    void mismatch(const Node& left_node, const Type& left, const Node& right_node, const Type& right, const Span& span,
                  const std::string& why);
    void unit_missing(const Node& node, const Type& wanted, const std::string& why);

    // making
    std::shared_ptr<Expr> make(Op op, const Node& node, Type type, std::vector<ExprPtr> args = {}) const;
    std::shared_ptr<Expr> element(Op op, const Node& node, Type type, std::vector<ExprPtr> args);
    Checked constant(const Node& node, const Dimension& dimension, Rational value, std::string written = "") const;
    Checked constant(const Node& node, const Flexible& value, std::string written = "") const;
};

// "pressure", "difference of temperatures", "on/off signal", "engine mode", with its article.
std::string describe(const Type& type);
// "1 bar (other units: psi, kPa)": how a value of that kind may be written.
std::string unit_example(const Type& type, const std::string& number);

}  // namespace lanyard
