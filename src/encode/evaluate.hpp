// Terms of a system as a plain program over exact numbers: thousands of states a second, where the solver's own
// evaluation makes hundreds.
#pragma once

#include <cstdint>
#include <map>
#include <vector>

#include "encode/system.hpp"

namespace lanyard::encode {

class Evaluator {
 public:
    // The terms that will be asked for; over the constants given here, in their order.
    Evaluator(const std::vector<z3::expr>& constants, const std::vector<z3::expr>& terms);

    // Booleans are 0 and 1.
    void set(std::size_t constant, const Rational& value);
    void set(std::size_t constant, long value);
    void run();
    long whole(std::size_t term) const;
    const Rational& number(std::size_t term) const;

 private:
    struct Node {
        Z3_decl_kind op = Z3_OP_TRUE;
        bool real = false;  // in reals_, otherwise in longs_
        bool real_arguments = false;
        std::vector<std::size_t> args;
    };
    std::size_t add(const z3::expr& root);
    std::size_t leaf(const z3::expr& e);
    void compute(std::size_t i);
    long truth(const Node& n) const;
    int compare(std::size_t a, std::size_t b, bool real) const;
    void arithmetic(const Node& n, std::size_t i);

    std::vector<Node> nodes_;
    std::vector<long> longs_;
    std::vector<Rational> reals_;
    std::map<unsigned, std::size_t> places_;
    std::vector<z3::expr> kept_;
    std::vector<std::size_t> constants_, terms_;
};

}  // namespace lanyard::encode
