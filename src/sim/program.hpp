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

struct Node {
    ExprPtr expr;
    std::vector<int> args;  // nodes; empty for previous(), whose operand is read at the end of the scan
    long scans = 0;         // the time of an element that has one, in scans, rounded up
    Rational span;          // rate: scans * P
    int number = -1;        // where its value is kept, if it is a number that is not read elsewhere
};

class Program {
 public:
    explicit Program(const Model& model) : model_(&model) {}

    // Appends what is not there yet; the answer is the node of the whole expression. What one call has appended
    // reaches up to size().
    int add(const ExprPtr& e);
    // Appends the operands of every previous(); nothing may be added afterwards. They reach from early() to size().
    void close();

    int size() const { return static_cast<int>(nodes_.size()); }
    int early() const { return early_; }
    int numbers() const { return numbers_; }
    const Node& node(int i) const { return nodes_[static_cast<std::size_t>(i)]; }
    const Model& model() const { return *model_; }

    struct Late {
        ElementId element = -1;
        int operand = -1;
    };
    const std::vector<Late>& late() const { return late_; }
    // One node for each memory element of the program.
    const std::vector<int>& memory() const { return memory_; }

 private:
    const Model* model_;
    std::vector<Node> nodes_;
    std::map<const Expr*, int> known_;
    std::map<ElementId, int> by_element_;  // a comparator's two conditions may hold the same element twice
    std::vector<Late> late_;
    std::vector<int> memory_;
    int early_ = 0;
    int numbers_ = 0;
};

}  // namespace lanyard::sim
