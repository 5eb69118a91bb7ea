// The wiring as a drawing: what can be reached at all, whatever the switches do. Every contact, pole and output counts
// as closed unless a search says otherwise. A power stage passes plus out of the controller and ground into it, never
// the other way; shorts that only a fault makes are not there.
//
// Searches are counted. Once they have cost too much the net is tired: they find nothing any more, and whoever asked
// has to say that it does not know. The limit is a count of steps, so it is the same on every machine.
// Tested by: tests/findings/large_test.cpp, tests/findings/parts_test.cpp
#pragma once

#include <functional>
#include <vector>

#include "circuit/spread.hpp"
#include "model/model.hpp"

namespace lanyard::circuit {

// What turns may stand still; a battery is always live.
inline bool is_battery(const Source& s) { return !s.turns; }

class Net {
 public:
    // May the search pass the branch? What it stands for otherwise (diodes, power stages) is seen to.
    using Passes = std::function<bool(BranchId branch)>;

    explicit Net(const Model& model);

    const Model& model() const { return m_; }
    const Circuit& circuit() const { return m_.circuit; }
    const Branch& branch(BranchId b) const { return circuit().branches[b]; }
    auto branches() const { return circuit().branches.ids(); }
    const std::vector<BranchId>& at(NodeId node) const { return circuit().at[node]; }

    // Upper half of a power stage: gives plus. The lower half gives ground.
    bool is_upper(const Branch& b) const;
    // Always conducts, though a diode in one direction only: wires, terminals, fuses, diodes.
    static bool is_always(const Branch& b);
    static bool is_bare(const Branch& b);  // a wire or a terminal
    // Conducts when closed, and limits nothing: no consumer, fuse or power stage.
    static bool has_no_limit(const Branch& b);

    // What is reached from `start`. It does not enter nodes of `held`, but may begin there.
    NodeSet reach(const NodeSet& start, Sign sign, const NodeSet& held, const Passes& passes) const;
    // Without consumers, plus not into ground at its hardest and ground not into plus at its hardest.
    NodeSet reach(Sign sign, const Passes& passes) const;
    bool budget_exhausted() const { return left_ <= 0; }
    // Work that was done on its data by others.
    void spend(std::size_t steps) const { left_ -= static_cast<long>(steps); }

    NodeSet none() const { return NodeSet(like(circuit().nodes)); }
    NodeSet only(NodeId node) const;
    const NodeSet& starts(Sign sign) const { return sign == Sign::plus ? plus_of_sources_ : chassis_; }
    // Plus of the batteries, which alone are always live; of all sources where there is no battery.
    const NodeSet& feeders(Sign sign) const { return sign == Sign::plus ? feeders_ : chassis_; }
    // Joined to a battery's plus by what always conducts; to the chassis by bare wires.
    const NodeSet& held(Sign sign) const { return sign == Sign::plus ? held_plus_ : held_ground_; }
    // Anything that feeds, and the chassis: where searches for what hangs on something end.
    const NodeSet& ends() const { return ends_; }
    // reach(sign) with everything closed.
    const NodeSet& strong(Sign sign) const { return sign == Sign::plus ? strong_plus_ : strong_ground_; }

 private:
    const Model& m_;
    NodeSet plus_of_sources_, chassis_, feeders_, held_plus_, held_ground_, ends_, strong_plus_, strong_ground_;
    mutable long left_;
};

}  // namespace lanyard::circuit
