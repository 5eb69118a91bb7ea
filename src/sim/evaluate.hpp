// What the operators mean.
#pragma once

#include <vector>

#include "claims/run.hpp"
#include "model/model.hpp"
#include "sim/element.hpp"
#include "sim/program.hpp"

namespace lanyard::sim {

// What expressions read and remember.
struct Environment {
    const std::vector<Value>& now;        // signals at this scan
    const std::vector<Value>& last;       // signals at the scan before
    std::vector<ElementState>& elements;  // by ElementId
};

class Evaluator {
 public:
    explicit Evaluator(const Program& program);

    // Evaluates the nodes from `from` up to `to` (without it), elements included.
    void run(const Environment& env, int from, int to);
    // The end of a scan: what previous() will say at the next one.
    void remember(const Environment& env);

    bool truth(int node) const { return slots_[static_cast<std::size_t>(node)].truth; }
    Value value(const Environment& env, int node) const;

 private:
    struct Slot {
        bool truth = false;
        Mode mode = Mode::stopped;
    };
    Slot& slot(int node) { return slots_[static_cast<std::size_t>(node)]; }
    // Numbers that stand elsewhere (constants, signals) are read there.
    const Rational& number(const Environment& env, int node) const;
    Rational& number_of(const Node& n) { return numbers_[static_cast<std::size_t>(n.number)]; }
    void step(const Environment& env, int node);
    void step_leaf(const Environment& env, const Expr& e, Slot& out);
    bool step_element(const Environment& env, const Node& n);
    void step_previous(const Environment& env, const Node& n, Slot& out);
    bool logic(const Node& n) const;
    bool compare(const Environment& env, const Node& n) const;
    void arithmetic(const Environment& env, const Node& n, Rational& out) const;
    long count_true(const Node& n) const;
    bool arg(const Node& n, std::size_t k) const { return truth(n.args[k]); }

    const Program* program_;
    std::vector<Slot> slots_;
    std::vector<Rational> numbers_;
};

// Exact at the table's points, linear between them, held at the edges. `y` matters in two-way tables only.
Rational look_up(const Table& table, const Rational& x, const Rational& y);

}  // namespace lanyard::sim
