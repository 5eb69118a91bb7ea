#include "model/scopes.hpp"

namespace lanyard::model {

namespace {

std::string words_joined(const std::vector<std::string>& words) {
    std::string all;
    for (const auto& w : words) all += (all.empty() ? "" : " or ") + quoted(w);
    return all;
}

Scope::Refusal refuse_common(const std::string& name, const Named& n) {
    if (n.thing == Thing::table)
        return {quoted(name) + " is a table", "look a value up in it: `table(" + name + ", x)`"};
    if (n.thing == Thing::part)
        return {quoted(name) + " is a part of the wiring and has no value of its own",
                "claims may use splices and the ends of parts, such as F1.out: on while they have plus"};
    return {quoted(name) + " is a condition, which can only be used in \"under\"", "write out its expression"};
}

Scope::Refusal refuse_fault(const std::string& name) {
    return {quoted(name) + " is a fault, and nothing in the car can see it", "claims and conditions may use it"};
}

}  // namespace

std::optional<Symbol> ModelScope::find(const std::string& name) const {
    if (name == "engine") {
        if (!here_.sees_engine || !b_.model.mode) return std::nullopt;
        return Symbol{Op::signal, b_.model.mode, Type::of_mode()};
    }
    if (name == "powered") {
        if (!here_.sees_powered) return std::nullopt;
        return Symbol{Op::signal, b_.model.powered, Type::boolean()};
    }
    if (const auto* group = fault_group(b_, name)) return any_of(*group);
    Named* n = resolve(b_, name);
    if (n == nullptr) return std::nullopt;
    return symbol(*n);
}

std::optional<Symbol> ModelScope::any_of(const std::vector<FaultId>& faults) const {
    std::optional<Symbol> all;
    for (const FaultId f : faults) {
        const std::string name = b_.model.faults[f].name;
        Named* n = resolve(b_, name);
        const auto one = n == nullptr ? std::nullopt : symbol(*n);
        if (!one) return std::nullopt;
        if (all)
            all->more.push_back(one->signal);
        else
            all = one;
    }
    return all;
}

std::optional<Scope::Refusal> ModelScope::refusal(const std::string& name) const {
    if (name == "engine" || name == "powered") {
        if (name == "engine" && here_.sees_engine) return std::nullopt;  // no engine: the compiler says so
        return Refusal{quoted(name) + " is not for " + here_.words +
                           ": it is the state of the world, not what the controller sees",
                       "claims may use it"};
    }
    if (name == "note") return Refusal{"\"note\" is a comment everywhere, never a name", "give it another name"};
    if (fault_group(b_, name) != nullptr) return refuse_fault(name);
    const Named* n = resolve(b_, name);
    if (n == nullptr) return std::nullopt;
    if (n->thing == Thing::table || n->thing == Thing::condition || n->thing == Thing::part)
        return refuse_common(name, *n);
    if (n->thing == Thing::fault) return refuse_fault(name);
    return refuse(name, *n);
}

std::vector<std::string> ModelScope::names() const {
    std::vector<std::string> all;
    if (!b_.reading.may_suggest(b_.name_order.size())) return all;
    for (const auto& name : b_.name_order) {
        Named& n = b_.names.at(name);
        const bool unmade = !n.signal && (n.thing == Thing::node || n.thing == Thing::fault);
        if (unmade ? (n.thing == Thing::node ? here_.sees_nodes : here_.sees_faults) : symbol(n).has_value())
            all.push_back(name);
    }
    for (const auto& q : standard_quantities())
        if (b_.names.find(q.name) == b_.names.end()) all.push_back(q.name);
    if (here_.sees_engine && b_.model.mode) all.emplace_back("engine");
    if (here_.sees_powered) all.emplace_back("powered");
    return all;
}

std::optional<TableShape> ModelScope::find_table(const std::string& name) const {
    const auto found = b_.names.find(name);
    if (found == b_.names.end() || found->second.thing != Thing::table) return std::nullopt;
    return b_.model.tables[found->second.index].shape;
}

std::vector<std::string> ModelScope::table_names() const {
    std::vector<std::string> all;
    if (!b_.reading.may_suggest(b_.name_order.size())) return all;
    for (const auto& name : b_.name_order)
        if (b_.names.at(name).thing == Thing::table) all.push_back(name);
    return all;
}

ElementId ModelScope::new_element(Op op) {
    Element e = b_.owner;
    e.op = op;
    b_.model.elements.push_back(e);
    return b_.model.elements.last();
}

Symbol ModelScope::present(const Named& n) const { return {Op::signal, n.signal, signal_of(n).type}; }

Symbol ModelScope::before(const Named& n) const { return {Op::last, n.signal, signal_of(n).type}; }

std::optional<Symbol> ModelScope::driven_before(const Named& n) const {
    if (n.thing == Thing::output || n.thing == Thing::relay || n.thing == Thing::load) return before(n);
    return std::nullopt;
}

std::optional<Symbol> LogicScope::symbol(Named& n) const {
    switch (n.thing) {
        case Thing::hand_switch:
            if (!b_.model.switches[n.index].seen_by_controller) return std::nullopt;
            return Symbol{Op::signal, b_.model.switches[n.index].seen, Type::boolean()};
        case Thing::quantity:
            if (!b_.seen_by[n.index].empty()) return std::nullopt;
            return present(n);
        case Thing::logic:
            if (!n.typed) b_.definitions[b_.definition_of.at(n.signal)].was_guessed = true;
            return present(n);
        case Thing::sensor:
        case Thing::loop:
        case Thing::wired_input:
        case Thing::output:
            return present(n);
        case Thing::relay:
        case Thing::load:
        case Thing::table:
        case Thing::condition:
        case Thing::node:
        case Thing::part:
        case Thing::fault:
            return std::nullopt;
    }
    return std::nullopt;
}

Scope::Refusal LogicScope::refuse(const std::string& name, const Named& n) const {
    if (n.thing == Thing::quantity) {
        const std::string inputs = words_joined(b_.seen_by[n.index]);
        return {"the controller cannot see " + quoted(name) + "; it sees it through the input " + inputs,
                "write " + inputs};
    }
    if (n.thing == Thing::hand_switch)
        return {"the hand switch " + quoted(name) + " is in the wiring only: the controller does not see it",
                R"(declare an input and wire it to the switch: { "reads": "plus" })"};
    if (n.thing == Thing::node)
        return {"the controller does not see the node " + quoted(name) + " of the wiring",
                R"(declare an input and wire it to the node: { "reads": "plus" })"};
    if (n.thing == Thing::relay)
        return {"the controller does not see the contact of the relay " + quoted(name),
                "use the output that drives its coil, or an input that reads the contact"};
    return {"the controller does not see whether the load " + quoted(name) + " has power",
            "use the output that feeds it"};
}

std::optional<Symbol> SupplyScope::symbol(Named& n) const {
    if (n.thing == Thing::quantity || n.thing == Thing::hand_switch) return present(n);
    return driven_before(n);
}

Scope::Refusal SupplyScope::refuse(const std::string& name, const Named& n) const {
    if (n.thing == Thing::sensor) {
        const Sensor& s = b_.model.sensors[n.index];
        if (!s.quantity) return {quoted(name) + " is what the controller reads, and the supply is not part of it", ""};
        const auto& q = b_.model.name_of(b_.model.quantities[s.quantity].signal);
        return {quoted(name) + " is what the controller reads, and the supply is not part of it",
                "write the quantity itself: " + quoted(q)};
    }
    if (n.thing == Thing::node)
        return {quoted(name) + " is a node of the wiring, which feeds the controller by wires",
                "run a wire to controller.plus; the supply may say what else is needed"};
    return {quoted(name) + " is inside the controller, and the supply comes before it",
            "use quantities, switches, and outputs, loads and contacts"};
}

std::optional<Symbol> LineScope::symbol(Named& n) const {
    if (n.thing == Thing::hand_switch) return present(n);
    if (n.thing == Thing::quantity && n.index == quantity_) return before(n);
    if (n.thing == Thing::node) return before(n);
    return driven_before(n);
}

Scope::Refusal LineScope::refuse(const std::string& name, const Named& n) const {
    if (n.thing == Thing::quantity)
        return {"a line of one quantity cannot depend on another one, " + quoted(name),
                "use engine modes, switches, outputs, loads, contacts and the quantity itself"};
    return {quoted(name) + " is inside the controller, which the world does not see",
            "use engine modes, switches, outputs, loads, contacts and the quantity itself"};
}

std::optional<Symbol> SourceScope::symbol(Named& n) const {
    if (n.thing == Thing::hand_switch || n.thing == Thing::quantity) return present(n);
    return std::nullopt;
}

Scope::Refusal SourceScope::refuse(const std::string& name, const Named&) const {
    return {"whether a source is live does not depend on " + quoted(name),
            "use engine modes, switches and quantities; what excites an alternator is wired to its field"};
}

std::optional<Symbol> ClaimScope::symbol(Named& n) const {
    if (n.thing == Thing::table || n.thing == Thing::condition || n.thing == Thing::part) return std::nullopt;
    return present(n);
}

Scope::Refusal ClaimScope::refuse(const std::string& name, const Named& n) const { return refuse_common(name, n); }

}  // namespace lanyard::model
