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
    const Indexed<Signal, Value>& now;   // at this scan
    const Indexed<Signal, Value>& last;  // at the scan before
    Indexed<Element, ElementState>& elements;
};

class Evaluator {
 public:
    explicit Evaluator(const Program& program);

    // Evaluates the operations from `from` up to `to` (without it), elements included.
    void run(const Environment& env, std::size_t from, std::size_t to);
    // The end of a scan: what previous() will say at the next one.
    void remember(const Environment& env);

    bool truth(OperationId id) const { return slots_[id].truth; }
    Value value(const Environment& env, OperationId id) const;

 private:
    struct Slot {
        bool truth = false;
        Mode mode = Mode::stopped;
    };
    Slot& slot(OperationId id) { return slots_[id]; }
    // Numbers that stand elsewhere (constants, signals) are read there.
    const Rational& number(const Environment& env, OperationId id) const;
    Rational& number_of(const Operation& n) { return numbers_[n.number]; }
    void step(const Environment& env, OperationId id);
    void step_leaf(const Environment& env, const Expr& e, Slot& out);
    bool step_element(const Environment& env, const Operation& n);
    void step_previous(const Environment& env, const Operation& n, Slot& out);
    bool logic(const Operation& n) const;
    bool compare(const Environment& env, const Operation& n) const;
    void arithmetic(const Environment& env, const Operation& n, Rational& out) const;
    long count_true(const Operation& n) const;
    bool arg(const Operation& n, std::size_t k) const { return truth(n.args[k]); }

    const Program* program_;
    Indexed<Operation, Slot> slots_;
    Indexed<Rational> numbers_;
};

// Exact at the table's points, linear between them, held at the edges. `y` matters in two-way tables only.
Rational look_up(const Table& table, const Rational& x, const Rational& y);

}  // namespace lanyard::sim
