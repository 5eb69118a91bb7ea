// Products of two numbers, for two-way tables.
#pragma once

#include "encode/linear.hpp"
#include "encode/power.hpp"

namespace lanyard::encode {

class TableProducts : EncoderPart {
 public:
    TableProducts(const EncoderPart& base, Power& power) : EncoderPart(base), power_(power) {}

    // x * y, as fine as the table's points need it.
    z3::expr product(const Expr& x, const Expr& y, const Table& t, const Owner& who);
    void finish();  // when all that are asked for are known

 private:
    struct Core {  // what is multiplied: a sum of which the first term's coefficient is 1
        std::vector<Affine::Term> terms;
        z3::expr value;
        std::string name;
    };
    struct Factor {  // scale * core + shift; without a core a constant
        std::optional<std::size_t> core;
        Rational scale, shift;
    };
    struct Multiplied {
        Product product;
        std::set<Rational> us, vs;
        z3::expr_vector used;
        std::set<std::string> tables;
    };
    using Factored = std::pair<const std::pair<std::size_t, std::size_t>, Multiplied>;
    void differences(const Factored& a, const Factored& b);
    Factor factor(const Expr& e, const Owner& who);
    std::size_t core(const Affine& a, const Owner& who);
    Multiplied& multiplied(std::size_t u, std::size_t v);
    void hull(const std::string& label, const Product& p, const Interval& u, const Interval& v);
    void touch(const std::string& label, const Product& p, const Rational& u, const Rational& v);

    Power& power_;
    std::vector<Core> cores_;
    std::map<std::pair<std::size_t, std::size_t>, Multiplied> products_;
};

}  // namespace lanyard::encode
