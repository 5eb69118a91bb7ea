// The syntax tree of expressions after names are resolved and types are checked. It is shared by the interpreter
// and by the solver's encoding; what an operator *means* is written in each of them separately.
#pragma once

#include <array>
#include <cstddef>
#include <memory>
#include <string>
#include <vector>

#include "base/diagnostic.hpp"
#include "base/ids.hpp"
#include "base/rational.hpp"
#include "lang/operators.hpp"
#include "lang/units.hpp"

namespace lanyard::model {
// What the model has lists of; here only to number them.
struct Signal;
struct Element;
struct Table;
}  // namespace lanyard::model

namespace lanyard::lang {

enum class Mode { stopped, cranking, running, coasting };
inline constexpr std::size_t mode_count = 4;
inline constexpr std::array<Mode, mode_count> all_modes = {Mode::stopped, Mode::cranking, Mode::running,
                                                           Mode::coasting};
const char* mode_name(Mode m);

enum class TypeKind { boolean, number, mode };

struct Type {
    TypeKind kind = TypeKind::boolean;
    Dimension dimension{};   // numbers only
    bool difference = true;  // temperatures only: a difference (K) or an absolute (degC)

    friend bool operator==(const Type&, const Type&) = default;
    static Type boolean() { return {}; }
    static Type of_mode() { return {TypeKind::mode, {}, true}; }
    static Type number(Dimension d, bool diff) { return {TypeKind::number, d, diff}; }
};

using SignalId = Id<model::Signal>;    // in Model::signals
using ElementId = Id<model::Element>;  // in Model::elements
using TableId = Id<model::Table>;      // in Model::tables

struct Expr;
using ExprPtr = std::shared_ptr<const Expr>;

struct Expr {
    Op op = Op::truth;
    Type type;
    std::vector<ExprPtr> args;
    bool flag = false;
    Rational value;
    Mode mode = Mode::stopped;
    SignalId signal;
    ElementId element;
    TableId table;
    long count = 0;
    Place place;  // in the model file
    // How a constant was written, for printing ("104 degC"); empty when computed.
    std::string written;
};

// Calls f on e and on everything below it, parents first.
template <class F>
void visit(const ExprPtr& e, F&& f) {
    f(*e);
    for (const auto& a : e->args) visit(a, f);
}

}  // namespace lanyard::lang
