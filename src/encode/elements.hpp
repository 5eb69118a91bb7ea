// Memory elements.
#pragma once

#include "encode/power.hpp"

namespace lanyard::encode {

class Elements : EncoderPart {
 public:
    Elements(const EncoderPart& base, Power& power) : EncoderPart(base), power_(power) {}

    z3::expr element(const Expr& e, const Owner& who);
    Num number_element(const Expr& e, const Owner& who);

 private:
    // What each of them means; one without it does not compile.
    template <Op op>
    z3::expr truth_of(const Expr& e, const Owner& who) = delete;
    template <Op op>
    Num number_of(const Expr& e, const Owner& who) = delete;
    z3::expr arg(const Expr& e, const Owner& who, std::size_t i) { return meaning_.boolean(*e.args[i], who); }
    // Memory of one bit: its present value, and its next one, which is also the answer.
    z3::expr bit(const Expr& e, const Owner& who, StateRole role, bool at_start);
    z3::expr keep(const Expr& e, const Owner& who, const z3::expr& cur, const z3::expr& next, bool at_start);
    // Counts the scans for which `running` holds without a break, as far as the controller has power.
    RunClock& count(const Expr& e, const Owner& who, const z3::expr& running, bool starts_full);
    // Memory that follows the controller's power: next value, or its initial one without power, or kept.
    z3::expr with_power(const Expr& e, const Owner& who, const z3::expr& next, const z3::expr& cur,
                        const z3::expr& init);

    Power& power_;
    std::map<ElementId, z3::expr> elements_;
    std::map<ElementId, Num> number_elements_;
};

}  // namespace lanyard::encode
