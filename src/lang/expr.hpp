// The syntax tree of expressions after names are resolved and types are checked. It is shared by the interpreter
// and by the solver's encoding; what an operator *means* is written in each of them separately.
#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <vector>

#include "base/diagnostic.hpp"
#include "base/rational.hpp"
#include "lang/units.hpp"

namespace lanyard {

enum class Mode { stopped, cranking, running, coasting };
inline constexpr int mode_count = 4;
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

using SignalId = int;   // index into Model::signals
using ElementId = int;  // index into Model::elements
using TableId = int;    // index into Model::tables

enum class Op {
    // leaves
    truth,   // `flag`
    number,  // `value`, SI
    mode,    // `mode`
    signal,  // `signal` at the present scan
    last,    // `signal` at the previous scan as the machine remembers it (supply and world lines only; never
             // reset by the controller's power). At scan 0: off, 0 - and for a quantity its present value.
    // logic; and_/or_ have two or more operands, the others as usual
    not_,
    and_,
    or_,
    xor_,
    implies,
    vote,  // at least `count` of the operands
    // comparisons: two numbers, or (eq, ne) two modes or two Booleans
    lt,
    le,
    gt,
    ge,
    eq,
    ne,
    // arithmetic on numbers; mul: any; div: the divisor is a constant other than 0
    add,
    sub,
    mul,
    div,
    neg,
    // look-up: args[0] (rows' axis), args[1] (columns' axis, two-way only); `table`
    table,
    // memory elements; `element` is their state. value = PT or T in seconds, count = PV
    ton,
    tof,
    tp,
    sr,
    rs,
    r_trig,
    f_trig,
    ctu,
    band,      // args[0] = on condition, args[1] = off condition: both strict comparisons of one expression
    rate,      // args[0], value = T in seconds
    previous,  // args[0]
};

struct Expr;
using ExprPtr = std::shared_ptr<const Expr>;

struct Expr {
    Op op = Op::truth;
    Type type;
    std::vector<ExprPtr> args;
    bool flag = false;
    Rational value;
    Mode mode = Mode::stopped;
    SignalId signal = -1;
    ElementId element = -1;
    TableId table = -1;
    long count = 0;
    Place place;  // in the model file
    // How a constant was written, for printing ("104 degC"); empty when computed.
    std::string written;
};

bool has_memory(Op op);
// "TON", "AND", "<=" ...: the word that a model uses.
const char* op_word(Op op);

// Calls f on e and on everything below it, parents first.
template <class F>
void visit(const ExprPtr& e, F&& f) {
    f(*e);
    for (const auto& a : e->args) visit(a, f);
}

}  // namespace lanyard
