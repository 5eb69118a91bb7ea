// The operators of the language, one row each: what they are called, how they are written, what goes in and what
// comes out. Whatever only sorts operators - parser, checker, printer, reports - reads it here. What an operator *does*
// is not here: the interpreter and the encoding each say that for themselves.
#pragma once

#include <array>
#include <cstddef>
#include <stdexcept>

#include "base/ids.hpp"

namespace lanyard::lang {

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
    previous,  // args[0]; stays the last of Op
};

// What of an operator most places have to know. The class settles the type of the result as well.
enum class OpClass {
    leaf,
    logic,       // Booleans -> Boolean
    comparison,  // -> Boolean
    arithmetic,  // numbers -> number
    table,       // numbers -> number
    // Those with memory: Boolean, if nothing else is said.
    clock,    // of `value` seconds, begun by its first input
    latch,    // set by its first input, reset by its second
    edge,     // of its first input
    counter,  // up to `count`
    band,
    rate,      // number, per second
    previous,  // as its input
};

// What an element with memory takes, in the order in which it is written.
enum class Operand {
    none,
    truth,     // -> args
    number,    // -> args
    anything,  // a truth or a number -> args
    time,      // a constant of 0 or more -> value
    span,      // a constant above 0 -> value
    pulse,     // the same, for what would never come on with 0
    count,     // a whole number from 1 on -> count
};

struct OperatorRow {
    Op op;
    OpClass kind;
    const char* word;     // as a model writes it; of leaves what messages call them
    const char* form;     // an example of its use; null: no row in the help
    const char* meaning;  // one line
    // How strongly it binds, in the order of IEC 61131-3: NOT and unary minus, * /, + -, < > <= >=, = <>, AND, XOR, OR;
    // then our `->`. 0: its operands stand in parentheses, or it has none.
    int strength = 0;
    std::array<Operand, 3> inputs = {};  // those with memory
    // It begins off, and stays off for as long as its first input has never been on.
    bool off_before_input = false;
};

inline constexpr int strength_of_prefix = 9;

// The rows, in the order in which help prints them.
namespace operator_row {

using C = OpClass;
using I = Operand;

constexpr OperatorRow leaf(Op op, const char* called) { return {op, OpClass::leaf, called, nullptr, nullptr}; }

constexpr OperatorRow sign(Op op, OpClass kind, const char* word, const char* form, const char* meaning, int strength) {
    return {op, kind, word, form, meaning, strength};
}

constexpr OperatorRow block(Op op, OpClass kind, const char* word, const char* form, const char* meaning,
                            std::array<Operand, 3> inputs = {}, bool off_before_input = false) {
    return {op, kind, word, form, meaning, 0, inputs, off_before_input};
}

inline constexpr bool off_before_input = true;

inline constexpr auto table = std::to_array<OperatorRow>({
    block(Op::ton, C::clock, "TON", "TON(low, 1 s)",
          "on once the input has been on for that long without a break (on-delay)", {I::truth, I::time},
          off_before_input),
    block(Op::tof, C::clock, "TOF", "TOF(key, 30 s)",
          "on with the input, and for that long after it went off (off-delay)", {I::truth, I::time}, off_before_input),
    block(Op::tp, C::clock, "TP", "TP(key, 3 s)",
          "on for that long from the moment the input comes on, whatever it does then (pulse)", {I::truth, I::pulse},
          off_before_input),
    block(Op::sr, C::latch, "SR", "SR(start, stop)",
          "latch: on by the first input, off by the second; with both it is on", {I::truth, I::truth},
          off_before_input),
    block(Op::rs, C::latch, "RS", "RS(start, trip)",
          "latch: on by the first input, off by the second; with both it is off", {I::truth, I::truth},
          off_before_input),
    block(Op::r_trig, C::edge, "R_TRIG", "R_TRIG(start)",
          "on for one scan when the input comes on; also if it is on at power-up", {I::truth}, off_before_input),
    block(Op::f_trig, C::edge, "F_TRIG", "F_TRIG(start)",
          "on for one scan when the input goes off; also if it is off at power-up", {I::truth}),
    block(Op::ctu, C::counter, "CTU", "CTU(start, reset, 3)",
          "on once the first input has come on that many times since the second was on",
          {I::truth, I::truth, I::count}),
    // Written with its points; a parser and a checker of its own see to that.
    block(Op::band, C::band, "band", "band(coolant, on > 104 degC, off < 96 degC)",
          "comparison with a separate point for going off; in between it stays as it was", {}, off_before_input),
    block(Op::vote, C::logic, "of", "2 of (a, b, c)", "on when at least that many of the inputs are on (voting)"),
    block(Op::rate, C::rate, "rate", "rate(coolant, 1 s)", "how fast a value has changed over that time, per second",
          {I::number, I::span}),
    block(Op::previous, C::previous, "previous", "previous(pump)",
          "the value at the previous scan; off or 0 at power-up", {I::anything}),
    block(Op::table, C::table, "table", "table(fan_map, coolant, speed)",
          "value read from a table, linear between its points, held at its ends"),
    sign(Op::not_, C::logic, "NOT", "NOT key", "on when the next word is off", strength_of_prefix),
    sign(Op::mul, C::arithmetic, "*", "oil_v * 25 psi/V", "times", 8),
    sign(Op::div, C::arithmetic, "/", "oil / 2", "divided by a number", 8),
    sign(Op::add, C::arithmetic, "+", "oil + 2 psi", "plus", 7),
    sign(Op::sub, C::arithmetic, "-", "coolant - 5 K", "minus", 7),
    sign(Op::lt, C::comparison, "<", "oil < 15 psi", "below", 6),
    sign(Op::le, C::comparison, "<=", "oil <= 15 psi", "below or equal", 6),
    sign(Op::gt, C::comparison, ">", "oil > 15 psi", "above", 6),
    sign(Op::ge, C::comparison, ">=", "oil >= 15 psi", "above or equal", 6),
    sign(Op::eq, C::comparison, "=", "engine = running", "equal", 5),
    sign(Op::ne, C::comparison, "<>", "engine <> running", "not equal", 5),
    sign(Op::and_, C::logic, "AND", "key AND start", "on when both are on", 4),
    sign(Op::xor_, C::logic, "XOR", "up XOR down", "on when one of the two is on, but not both", 3),
    sign(Op::or_, C::logic, "OR", "key OR start", "on when at least one is on", 2),
    sign(Op::implies, C::logic, "->", "trip -> NOT pump",
         "whenever the left side is on, the right side is on (claims only)", 1),
    sign(Op::neg, C::arithmetic, "-", nullptr, nullptr, strength_of_prefix),
    leaf(Op::truth, "constant"),
    leaf(Op::number, "number"),
    leaf(Op::mode, "mode"),
    leaf(Op::signal, "signal"),
    leaf(Op::last, "signal"),
});

}  // namespace operator_row

inline constexpr const auto& operator_table = operator_row::table;
static_assert(operator_table.size() == static_cast<std::size_t>(Op::previous) + 1, "every operator has one row");

// The row of each Op. A second row for one of them, or none, does not compile.
inline constexpr auto row_numbers = [] {
    std::array<std::size_t, operator_table.size()> at{};
    std::array<bool, operator_table.size()> has{};
    for (std::size_t row = 0; row < operator_table.size(); ++row) {
        const auto op = static_cast<std::size_t>(operator_table[row].op);
        if (has[op]) throw std::logic_error("two rows for one operator");
        has[op] = true;
        at[op] = row;
    }
    return at;
}();

constexpr const OperatorRow& row_of(Op op) { return operator_table[row_numbers[ordinal(op)]]; }
constexpr OpClass class_of(Op op) { return row_of(op).kind; }
constexpr bool has_memory(Op op) { return class_of(op) >= OpClass::clock; }
constexpr bool is_clock(Op op) { return class_of(op) == OpClass::clock; }
// The two clocks that hand on a change of their input late; the others make a pulse of it.
constexpr bool is_delay(Op op) { return op == Op::ton || op == Op::tof; }
constexpr bool is_latch(Op op) { return class_of(op) == OpClass::latch; }
constexpr bool is_comparison(Op op) { return class_of(op) == OpClass::comparison; }
constexpr bool is_arithmetic(Op op) { return class_of(op) == OpClass::arithmetic; }
constexpr int precedence(Op op) { return row_of(op).strength; }
// "TON", "AND", "<=" ...: the word that a model uses.
constexpr const char* op_word(Op op) { return row_of(op).word; }

constexpr bool takes(Op op, Operand wanted) {
    for (const Operand i : row_of(op).inputs)
        if (i == wanted) return true;
    return false;
}
// A constant time, in Expr::value.
constexpr bool has_time(Op op) {
    return takes(op, Operand::time) || takes(op, Operand::span) || takes(op, Operand::pulse);
}

constexpr std::size_t size_of(OpClass kind) {
    std::size_t n = 0;
    for (const OperatorRow& o : operator_table) n += o.kind == kind ? 1 : 0;
    return n;
}

// f.operator()<op>() -> R, the operator as a constant. It is compiled for each operator that is `among` them, so that
// one for which a function is missing does not compile.
template <class R, auto among, std::size_t row = 0, class F>
R dispatch(Op op, const F& f) {
    if constexpr (row == operator_table.size()) {
        throw std::logic_error("an operator of another kind");
    } else {
        constexpr Op here = operator_table[row].op;
        if constexpr (among(here))
            if (op == here) return f.template operator()<here>();
        return dispatch<R, among, row + 1>(op, f);
    }
}

}  // namespace lanyard::lang
