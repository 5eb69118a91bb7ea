// What follows from the wires: which ends exist, and what hangs on them.
#include "model/wiring.hpp"

#include <algorithm>

namespace lanyard::model {

ProbeId Wiring::probe(ProbeKind kind, AnyId index) {
    b_.model.circuit.probes.push_back({kind, index});
    return b_.model.circuit.probes.last();
}

// Contacts, poles and fuses that no wire touches are left out; what is asked something is always there.
void Wiring::finish_branches() {
    Circuit& c = b_.model.circuit;
    for (auto& t : two_ended_) {
        const bool in = nodes_.count(t.in) > 0, out = nodes_.count(t.out) > 0;
        // The shared end of a change-over contact says nothing of its other half.
        const bool used = t.always || t.inside_at.line > 0 || (in && out) || touched_by_own_end(t);
        if (!used) continue;
        t.branch.from = node(t.in, t.branch.place, t.branch.pointer);
        t.branch.to = node(t.out, t.branch.place, t.branch.pointer);
        const auto index = c.branches.next();
        if (t.branch.kind == BranchKind::load) b_.model.loads[t.branch.index].probe = probe(ProbeKind::load, index);
        if (t.branch.kind == BranchKind::coil)
            b_.model.relays[t.branch.index].coil_probe = probe(ProbeKind::coil, index);
        c.branches.push_back(t.branch);
    }
    for (const PartId part : ground_points_) {
        const WiredPart& p = parts_[part];
        Branch bolt;
        bolt.from = node(p.bare, p.place, p.pointer);
        bolt.to = ground_node;
        bolt.name = p.name;
        bolt.place = p.place;
        bolt.pointer = p.pointer;
        c.branches.push_back(std::move(bolt));
    }
}

bool Wiring::touched_by_own_end(const TwoEnded& t) const {
    for (const auto& end : {t.in, t.out})
        if (sharers_.at(end) == 1 && nodes_.count(end) > 0) return true;
    return false;
}

void Wiring::finish_sources() {
    Circuit& c = b_.model.circuit;
    for (const auto& s : sources_) {
        Source& source = c.sources[s.source];
        source.plus = node(s.name + ".plus", source.place, source.pointer);
        source.minus = existing(s.name + ".minus", ground_node);
        if (s.has_field) source.field_node = existing(s.name + ".field", {});
        if (!source.field_node) continue;
        source.winding = c.branches.next();
        source.field = probe(ProbeKind::field, s.source);
        Branch winding;
        winding.kind = BranchKind::winding;
        winding.index = s.source;
        winding.polar = true;
        winding.from = source.field_node;
        winding.to = source.minus;
        winding.name = s.name + ".field";
        winding.place = source.place;
        winding.pointer = source.pointer;
        c.branches.push_back(std::move(winding));
    }
    for (const auto& [part, load] : magnetos_) {
        const WiredPart& p = parts_[part];
        b_.magneto_leads.emplace_back(load, node(p.bare, p.place, p.pointer));
        b_.model.loads[load].probe = probe(ProbeKind::magneto, load);
    }
}

void Wiring::finish_inputs() {
    for (const auto& pin : inputs_) {
        const WiredPart& p = parts_[pin.part];
        WiredInput& input = b_.model.wired_inputs[pin.index];
        input.node = node(p.bare, p.place, p.pointer);
        input.probe = probe(ProbeKind::input, pin.index);
    }
}

void Wiring::finish_controller() {
    Circuit& c = b_.model.circuit;
    c.supply_plus = existing("controller.plus", {});
    c.supply_minus = existing("controller.ground", c.supply_plus ? ground_node : NodeId{});
    if (c.supply_plus) c.supply_probe = probe(ProbeKind::supply, {});
}

void Wiring::finish_drives() {
    Circuit& c = b_.model.circuit;
    for (const auto& d : drives_) {
        const WiredPart& p = parts_[d.part];
        const NodeId pin = node(p.bare, p.place, p.pointer);
        const bool high = d.drive.how != "low side", low = d.drive.how != "high side";
        if (high && !c.supply_plus) {
            b_.reading.error("no-supply-wire", d.drive.how_text->pointer, d.drive.how_text->place,
                             "the output " + quoted(p.name) + " supplies plus, but no wire feeds the controller",
                             "what it supplies comes from controller.plus",
                             "run a wire to it, as in \"battery - F1 - controller.plus\"");
            continue;
        }
        Branch stage;
        stage.kind = BranchKind::output;
        stage.index = d.drive.output;
        stage.place = p.place;
        stage.pointer = p.pointer;
        stage.limit = d.current;
        stage.name = p.name;
        if (high) {
            Branch upper = stage;
            upper.from = c.supply_plus;
            upper.to = pin;
            if (low) upper.name += ".high";
            c.branches.push_back(std::move(upper));
        }
        if (low) {
            stage.from = pin;
            stage.to = existing("controller.ground", ground_node);
            stage.makes = !high;
            if (high) stage.name += ".low";
            c.branches.push_back(std::move(stage));
        }
    }
}

// Only a contact with both halves can be found between them.
bool Wiring::changes_over(BranchKind kind, AnyId index) const {
    bool makes = false, breaks = false;
    for (const auto& branch : b_.model.circuit.branches) {
        if (branch.kind != kind || branch.index != index) continue;
        (branch.makes ? makes : breaks) = true;
    }
    return makes && breaks;
}

void Wiring::finish_contacts() {
    Model& m = b_.model;
    for (const auto& r : relays_)
        if (changes_over(BranchKind::contact, r.index))
            m.relays[r.index].flight_probe = probe(ProbeKind::flight, r.index);
    for (const SwitchId s : m.switches.ids())
        if (changes_over(BranchKind::pole, s)) m.switches[s].passage_probe = probe(ProbeKind::passage, s);
}

// Claims may speak of nodes: by the names of ends, and by the bare name of a part that is a node.
void Wiring::name_nodes() {
    const auto& nodes = b_.model.circuit.nodes;
    for (const NodeId i : nodes.ids()) {
        if (i == ground_node) continue;
        const Named made{Thing::node, i, {}, false, true, nodes[i].place};
        if (b_.names.emplace(nodes[i].name, made).second) b_.name_order.push_back(nodes[i].name);
    }
    for (const auto& p : parts_) {
        const auto named = b_.names.find(p.name);
        if (p.bare.empty() || named == b_.names.end() || named->second.thing != Thing::part) continue;
        named->second.thing = Thing::node;
        named->second.index = nodes_.at(p.bare);
    }
}

void Wiring::warn_of_splices() {
    std::vector<std::string> known;
    for (const auto& p : parts_) known.push_back(p.name);
    for (const auto& [name, splice] : splices_) known.push_back(name);
    std::sort(known.begin(), known.end());
    for (const auto& [name, splice] : splices_) {
        if (splice.stops > 1) continue;
        std::vector<std::string> others = known;
        others.erase(std::find(others.begin(), others.end(), name));
        const std::string hint = b_.reading.suggestion(name, others);
        // In the middle of one path it may be there to be spoken of.
        if (splice.inside && hint.empty()) continue;
        b_.reading.warning("loose-end", splice.text.pointer, splice.text.place,
                           splice.inside ? quoted(name) + " appears only in this path, and connects nothing"
                                         : "the wire ends at " + quoted(name) + ", and nothing else is connected there",
                           "a new name in a path is a splice", hint);
    }
}

void Wiring::warn() {
    if (b_.reading.out().has_errors()) return;  // what is wrong may well be what was meant to be there
    for (const auto& p : parts_) {
        if (p.wired) continue;
        b_.reading.warning("never-wired", p.pointer, p.place, "no wire goes to " + quoted(p.name),
                           p.words + " without wires does nothing", "");
    }
    for (const auto& t : two_ended_) {
        const bool in = touched_.count(t.in) > 0, out = touched_.count(t.out) > 0;
        if (in == out || (!in && !touched_by_own_end(t)) || !t.branch.from) continue;
        const WiredPart& p = parts_[t.part];
        b_.reading.warning("loose-end", p.pointer, p.place,
                           quoted(t.name) + " is wired at one end only: no wire goes to " + (in ? t.out : t.in),
                           "no current can pass through it", "");
    }
    warn_of_splices();
}

void Wiring::check_voltages() {
    if (b_.model.circuit.voltage) return;
    for (const auto& r : relays_) {
        const Relay& relay = b_.model.relays[r.index];
        if (!relay.operates_at && !relay.releases_at) continue;
        const WiredPart& p = parts_[r.part];
        b_.reading.error("no-voltage", p.pointer, p.place,
                         "the relay " + quoted(p.name) + " needs a voltage, but nothing says what it is",
                         "without a quantity for it, the voltage would always be enough",
                         R"(name it in the battery: { "is": "battery", "voltage": "battery_voltage" })");
    }
}

void Wiring::finish(Place circuit, const std::string& pointer) {
    node("ground", circuit, pointer);
    for (auto& d : drives_) {
        if (!d.drive.gives) continue;
        const auto n = compile_number(*d.drive.gives, find_unit("A")->dimension, true, "what an output can supply",
                                      b_.reading.out());
        if (n && n->si > 0) d.current = n->si;
        if (n && n->si <= 0)
            b_.reading.error("not-above-zero", d.drive.gives->pointer, d.drive.gives->place,
                             "what an output can supply must be above 0");
    }
    finish_controller();
    finish_branches();
    finish_sources();
    finish_inputs();
    finish_drives();
    finish_contacts();
    for (auto& b : std::exchange(b_.model.circuit.branches, {})) b_.model.circuit.add(std::move(b));
    name_nodes();
    check_voltages();
    warn();
}

}  // namespace lanyard::model
