// Expressions laid out as a list in which every node stands behind its operands, so that a scan evaluates each node
// exactly once: a memory element must neither be stepped twice nor be skipped because the other side of an AND
// already decides.
#pragma once

#include <cstddef>
#include <map>
#include <vector>

#include "claims/run.hpp"
#include "model/model.hpp"

namespace lanyard::sim {

struct Operation;
using OperationId = Id<Operation>;

struct Operation {
    ExprPtr expr;
    std::vector<OperationId> args;  // empty for previous(), whose operand is read at the end of the scan
    long scans = 0;                 // the time of an element that has one, in scans, rounded up
    Rational span;                  // rate: scans * P
    Id<Rational> number;            // where its value is kept, if it is a number that is not read elsewhere
};

class Program {
 public:
    explicit Program(const Model& model) : model_(&model) {}

    // Appends what is not there yet; the answer is the whole expression's. What one call has appended
    // reaches up to size().
    OperationId add(const ExprPtr& e);
    // Appends the operands of every previous(); nothing may be added afterwards. They reach from early() to size().
    void close();

    std::size_t size() const { return operations_.size(); }
    std::size_t early() const { return early_; }
    std::size_t numbers() const { return numbers_; }
    const Indexed<Operation>& operations() const { return operations_; }
    const Operation& operation(OperationId i) const { return operations_[i]; }
    const Model& model() const { return *model_; }

    struct Late {
        ElementId element;
        OperationId operand;
    };
    const std::vector<Late>& late() const { return late_; }
    // One for each memory element of the program.
    const std::vector<OperationId>& memory() const { return memory_; }

 private:
    const Model* model_;
    Indexed<Operation> operations_;
    std::map<const Expr*, OperationId> known_;
    std::map<ElementId, OperationId> by_element_;  // a comparator's two conditions may hold the same element twice
    std::vector<Late> late_;
    std::vector<OperationId> memory_;
    std::size_t early_ = 0;
    std::size_t numbers_ = 0;
};

}  // namespace lanyard::sim
