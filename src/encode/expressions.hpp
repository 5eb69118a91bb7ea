// What expressions mean; those with memory are elements.
#pragma once

#include "encode/elements.hpp"
#include "encode/products.hpp"
#include "encode/world.hpp"

namespace lanyard::encode {

class Expressions : EncoderPart {
 public:
    Expressions(const EncoderPart& base, EngineModes& engine, PhysicalWorld& world, Elements& elements,
                TableProducts& products)
        : EncoderPart(base), engine_(engine), world_(world), elements_(elements), products_(products) {}

    z3::expr boolean(const Expr& e, const Owner& who);
    Num number(const Expr& e, const Owner& who);

 private:
    EngineModes::Bits mode_bits(const Expr& e);
    z3::expr logic(const Expr& e, const Owner& who);
    z3::expr comparison(const Expr& e, const Owner& who);
    z3::expr vote(const std::vector<z3::expr>& of, long m);
    Num arithmetic(const Expr& e, const Owner& who);
    Num table(const Expr& e, const Owner& who);

    EngineModes& engine_;
    PhysicalWorld& world_;
    Elements& elements_;
    TableProducts& products_;
};

}  // namespace lanyard::encode
