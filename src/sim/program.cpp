#include "sim/program.hpp"

namespace lanyard::sim {

OperationId Program::add(const ExprPtr& e) {
    if (const auto k = known_.find(e.get()); k != known_.end()) return k->second;
    const bool memory = has_memory(e->op);
    if (memory) {
        if (const auto k = by_element_.find(e->element); k != by_element_.end()) return k->second;
    }
    Operation n;
    n.expr = e;
    if (e->op != Op::previous) {
        for (const auto& a : e->args) n.args.push_back(add(a));
    }
    if (has_time(e->op)) {
        n.scans = scans_up(e->value, model_->scan);
        n.span = n.scans * model_->scan;
    }
    const bool read_elsewhere = e->op == Op::number || e->op == Op::signal || e->op == Op::last;
    if (e->type.kind == TypeKind::number && !read_elsewhere) n.number = Id<Rational>(numbers_++);
    const OperationId here = operations_.add(std::move(n));
    known_.emplace(e.get(), here);
    if (memory) {
        by_element_.emplace(e->element, here);
        memory_.push_back(here);
    }
    return here;
}

void Program::close() {
    early_ = size();
    // The list grows on the way: an operand may hold another previous().
    for (std::size_t k = 0; k < memory_.size(); ++k) {
        const ExprPtr e = operation(memory_[k]).expr;
        if (e->op != Op::previous) continue;
        const OperationId operand = add(e->args[0]);
        late_.push_back({e->element, operand});
    }
}

}  // namespace lanyard::sim
