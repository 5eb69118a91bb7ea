#include "model/build.hpp"

#include <algorithm>

#include "model/fault_kinds.hpp"
#include "model/faults.hpp"

namespace lanyard::model {

const char* thing_words(Thing t) {
    switch (t) {
        case Thing::quantity:
            return "a quantity";
        case Thing::sensor:
            return "an input";
        case Thing::hand_switch:
            return "a hand switch";
        case Thing::loop:
            return "a loop-back";
        case Thing::wired_input:
            return "a wired input";
        case Thing::logic:
            return "a logic expression";
        case Thing::output:
            return "an output";
        case Thing::relay:
            return "a relay";
        case Thing::load:
            return "a load";
        case Thing::table:
            return "a table";
        case Thing::condition:
            return "a condition";
        case Thing::node:
            return "a node of the wiring";
        case Thing::part:
            return "a part of the wiring";
        case Thing::fault:
            return "a fault";
    }
    return "";
}

SignalId add_signal(Build& b, Signal s) {
    b.model.signals.push_back(std::move(s));
    return b.model.signals.last();
}

SignalId add_on_off(Build& b, const Entry& e, SignalKind kind, AnyId index) {
    return add_signal(b, {e.name, kind, Type::boolean(), std::nullopt, index, e.place, e.pointer});
}

LoadId add_load(Build& b, const Entry& e) {
    const auto index = b.model.loads.next();
    Load load;
    load.signal = add_on_off(b, e, SignalKind::load, index);
    b.model.loads.push_back(std::move(load));
    return b.loads[e.name] = index;
}

void add_quantity(Build& b, Quantity q, bool has_healthy) {
    b.model.quantities.push_back(std::move(q));
    b.seen_by.emplace_back();
    b.has_healthy.push_back(has_healthy);
}

Type value_type(const Unit& unit) { return Type::number(unit.dimension, !unit.dimension.is_temperature()); }

std::string in_line(Place place) { return place.line == 0 ? "" : " (line " + std::to_string(place.line) + ")"; }

bool declare(Build& b, const Entry& e, Named named) {
    if (!e.good_name) {
        b.refused_names.insert(e.name);
        return false;
    }
    named.place = e.place;
    const auto [at, is_new] = b.names.emplace(e.name, named);
    if (is_new) {
        b.name_order.push_back(e.name);
        return true;
    }
    const Named& other = at->second;
    const bool seen = other.thing == Thing::quantity && named.thing == Thing::sensor;
    b.reading.error("duplicate-name", e.pointer, e.place,
                    quoted(e.name) + " is already the name of " + thing_words(other.thing) + in_line(other.place),
                    "an expression could mean either",
                    seen ? "a quantity and its reading by the controller need two names, such as oil_pressure and oil"
                         : "give one of the two another name");
    return false;
}

void add_standard(Build& b, const StandardQuantity& q, const Entry& e) {
    const auto index = b.model.quantities.next();
    const auto written = b.written_units.of(dimension_of(q), e.name);
    const Unit unit = unit_of(q, written);
    Quantity made;
    made.signal = add_signal(b, {e.name, SignalKind::quantity, value_type(unit), unit, index, e.place, e.pointer});
    made.range = range_of(q, written);
    made.range_is_default = true;
    declare(b, e, {Thing::quantity, index, made.signal});
    add_quantity(b, std::move(made));
}

namespace {

SignalId signal_of_node(Build& b, NodeId index) {
    Circuit& c = b.model.circuit;
    Node& node = c.nodes[index];
    if (node.signal) return node.signal;
    c.probes.push_back({ProbeKind::node, index});
    node.signal =
        add_signal(b, {node.name, SignalKind::node, Type::boolean(), std::nullopt, index, node.place, node.pointer});
    return node.signal;
}

SignalId signal_of_fault(Build& b, FaultId index) {
    use_fault(b.model, index);
    return b.model.faults[index].signal;
}

}  // namespace

std::string suggest_thing(Build& b, const std::string& word, Thing wanted) {
    // Collecting the names costs as much as comparing them.
    if (!b.reading.may_suggest(b.name_order.size())) return "";
    std::vector<std::string> all;
    for (const auto& n : b.name_order)
        if (b.names.at(n).thing == wanted) all.push_back(n);
    if (wanted == Thing::quantity)
        for (const auto& q : standard_quantities()) all.push_back(q.name);
    if (wanted == Thing::condition) all.insert(all.end(), {"any", "healthy"});
    return b.reading.suggestion(word, all);
}

const std::vector<FaultId>* fault_group(const Build& b, const std::string& name) {
    if (b.names.find(name) != b.names.end() || name.find('.') == std::string::npos) return nullptr;
    const auto group = b.faults_of.find(name);
    if (group == b.faults_of.end()) return nullptr;
    const FaultKind kind = b.model.faults[group->second.front()].kind;
    // The faults of a part, or of one piece of it, are of several kinds.
    const bool alike = std::all_of(group->second.begin(), group->second.end(),
                                   [&](FaultId f) { return b.model.faults[f].kind == kind; });
    return alike && name.ends_with(std::string(".") + fault_kind_help(kind).word) ? &group->second : nullptr;
}

Named* resolve(Build& b, const std::string& name) {
    const auto found = b.names.find(name);
    if (found != b.names.end()) {
        Named& n = found->second;
        if (!n.signal && n.thing == Thing::node) n.signal = signal_of_node(b, n.index);
        if (!n.signal && n.thing == Thing::fault) n.signal = signal_of_fault(b, n.index);
        return &n;
    }
    const StandardQuantity* q = find_standard(name);
    if (q == nullptr) return nullptr;
    add_standard(b, *q, {name, {}, "/quantities/" + name});
    return &b.names.at(name);
}

std::optional<Unit> unit_named(Build& b, const LocatedText& symbol) {
    if (auto unit = find_unit(symbol.text)) return unit;
    std::vector<std::string> known;
    for (const auto& u : unit_table()) known.push_back(u.symbol);
    b.reading.error("unknown-unit", symbol.pointer, symbol.place, "there is no unit `" + symbol.text + "`", "",
                    b.reading.suggestion(symbol.text, known));
    return std::nullopt;
}

QuantityId quantity_named(Build& b, const LocatedText& name) {
    const Named* n = resolve(b, name.text);
    if (n != nullptr && n->thing == Thing::quantity) return n->index;
    if (n != nullptr) {
        b.reading.error("not-a-quantity", name.pointer, name.place,
                        quoted(name.text) + " is " + thing_words(n->thing) + ", not a physical quantity");
        return {};
    }
    std::string hint = suggest_thing(b, name.text, Thing::quantity);
    if (hint.empty()) hint = R"(declare it: "quantities": { ")" + name.text + R"(": "0 .. 10 bar" })";
    b.reading.error("unknown-quantity", name.pointer, name.place, "there is no quantity " + quoted(name.text),
                    "a quantity of your own needs a range: it says what can happen", hint);
    return {};
}

void take_terminal(Build& b, const ObjectReader& object, const std::string& owner) {
    const auto name = object.text("terminal");
    if (!name) return;
    const auto [at, is_new] = b.terminals.emplace(name->text, owner);
    if (is_new) return;
    b.reading.error(
        "terminal-twice", name->pointer, name->place,
        "terminal " + quoted(name->text) + " of " + quoted(owner) + " is already used by " + quoted(at->second),
        "one terminal has one wire", "");
}

bool inside(const Interval& part, const Interval& whole) { return part.lo >= whole.lo && part.hi <= whole.hi; }

Unit unit_for(const Model& m, const Expr& e) {
    std::optional<Unit> unit;
    const auto walk = [&](const auto& self, const Expr& part) -> void {
        if (part.op == Op::signal || part.op == Op::last) {
            const Signal& s = m.signal(part.signal);
            if (!unit && s.unit && s.type == e.type) unit = s.unit;
        }
        for (const auto& a : part.args) self(self, *a);
    };
    walk(walk, e);
    if (unit) return *unit;
    if (e.type.dimension.is_temperature() && e.type.difference) return find_unit("K").value();
    return default_unit(e.type.dimension);
}

std::string interval_text(const Interval& i, const Unit& unit, bool difference) {
    const std::string lo = exact_text(from_si(i.lo, unit, difference));
    const std::string hi = exact_text(from_si(i.hi, unit, difference));
    return lo + " .. " + hi + (unit.symbol.empty() ? "" : " " + unit.symbol);
}

}  // namespace lanyard::model
