// The programs of a plan, run, with the memory of their elements.
#pragma once

#include <string>

#include "sim/evaluate.hpp"
#include "sim/plan.hpp"
#include "sim/signals.hpp"

namespace lanyard::sim {

class Programs {
 public:
    explicit Programs(const Plan& plan) : plan_(plan), elements_(like(plan.model.elements)) {
        for (const Program* p : plan.programs()) power_up_all(*p, true);
    }

    void see_world(const Signals& signals) {
        run(guards_, plan_.guards, signals);
        run(supply_, plan_.supply, signals);
    }
    // Writes logic and outputs.
    void run_logic(Signals& signals) {
        const auto& order = plan_.model.order;
        const Environment env{signals.now, signals.last, elements_};
        std::size_t from = 0;
        for (std::size_t k = 0; k < order.size(); ++k) {
            const auto [value, to] = plan_.logic_steps[k];
            logic_.run(env, from, to);
            signals.now[order[k]] = logic_.value(env, value);
            from = to;
        }
        logic_.run(env, plan_.logic.early(), plan_.logic.size());
        logic_.remember(env);
    }
    // Instead: the controller does not run.
    void power_down(Signals& signals) {
        for (const SignalId id : plan_.model.order) signals.now[id] = zero_of(plan_.model.signal(id).type);
        power_up_all(plan_.logic, false);
    }
    void observe(const Signals& signals) { run(observers_, plan_.observers, signals); }

    bool guard(OperationId id) const { return guards_.truth(id); }
    bool supply_is_on() const { return !plan_.supply_on || supply_.truth(plan_.supply_on); }
    const Evaluator& observers() const { return observers_; }
    const Indexed<Element, ElementState>& elements() const { return elements_; }
    void append_text(std::string& text) const {
        for (const Program* p : plan_.programs()) {
            for (const OperationId i : p->memory()) {
                const Expr& e = *p->operation(i).expr;
                sim::append_text(text, elements_[e.element], e.op);
            }
            text += "| ";
        }
    }

 private:
    void run(Evaluator& evaluator, const Program& program, const Signals& signals) {
        const Environment env{signals.now, signals.last, elements_};
        evaluator.run(env, 0, program.size());
        evaluator.remember(env);
    }
    void power_up_all(const Program& program, bool also_retained) {
        for (const OperationId i : program.memory()) {
            const Operation& o = program.operation(i);
            const ElementId e = o.expr->element;
            if (also_retained || !plan_.model.elements[e].retained) elements_[e] = power_up(o);
        }
    }

    const Plan& plan_;
    Indexed<Element, ElementState> elements_;
    Evaluator guards_{plan_.guards}, supply_{plan_.supply}, logic_{plan_.logic}, observers_{plan_.observers};
};

}  // namespace lanyard::sim
