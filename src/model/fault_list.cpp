#include "model/fault_list.hpp"

#include <algorithm>

#include "model/fault_kinds.hpp"

namespace lanyard::model {

namespace {

using Attach = std::function<void(Model&, FaultId)>;

// A pole of a hand switch: a change-over contact has two halves, the others have one.
struct Contact {
    std::string name;
    BranchId make, breaks;
    SwitchId hand_switch;
};

class List {
 public:
    List(const Model& m, const std::vector<WireLine>& wires)
        : m_(m), wires_(wires), of_wire_(like(m.circuit.branches)) {
        for (const auto& line : wires)
            for (const BranchId piece : line.pieces) of_wire_[piece] = true;
    }

    std::vector<PossibleFault> all() {
        sensors();
        switches();
        poles();
        wires();
        relays();
        for (const BranchId i : m_.circuit.branches.ids()) branch(i);
        outputs();
        inputs();
        loops();
        controller();
        sources();
        return std::move(list_);
    }

 private:
    PossibleFault& add(FaultKind kind, const std::string& name, const std::string& part, AnyId index,
                       const Place& place, const std::string& pointer, Attach attach) {
        PossibleFault p;
        p.fault.kind = kind;
        p.fault.name = name + "." + fault_kind_help(kind).word;
        p.fault.part = part;
        p.fault.index = index;
        p.fault.place = place;
        p.fault.pointer = pointer;
        p.attach = std::move(attach);
        list_.push_back(std::move(p));
        return list_.back();
    }
    PossibleFault& add(FaultKind kind, const Signal& s, AnyId index, Attach attach) {
        return add(kind, s.name, s.name, index, s.place, s.pointer, std::move(attach));
    }

    // Where the fault is noted: in that list of the thing that breaks.
    template <class Thing>
    static Attach in(Indexed<Thing> Model::*things, Id<Thing> i, std::vector<FaultId> Thing::*by) {
        return [=](Model& m, FaultId fault) { ((m.*things)[i].*by).push_back(fault); };
    }
    static Attach in_branch(BranchId i, std::vector<FaultId> Branch::*by) {
        return [=](Model& m, FaultId fault) { (m.circuit.branches[i].*by).push_back(fault); };
    }

    void sensors() {
        using K = FaultKind;
        for (const SensorId i : m_.sensors.ids())
            for (const K kind : {K::sensor_stuck, K::sensor_frozen, K::sensor_open, K::sensor_to_ground,
                                 K::sensor_to_supply, K::sensor_drift})
                add(kind, m_.signal(m_.sensors[i].signal), i, in(&Model::sensors, i, &Sensor::faults));
    }

    void switches() {
        for (const SwitchId i : m_.switches.ids()) {
            if (!m_.switches[i].seen_by_controller) continue;
            const Signal& s = m_.signal(m_.switches[i].position);
            add(FaultKind::switch_stuck_off, s, i, in(&Model::switches, i, &Switch::stuck_off_by));
            add(FaultKind::switch_stuck_on, s, i, in(&Model::switches, i, &Switch::stuck_on_by));
            add(FaultKind::switch_bounces, s, i, in(&Model::switches, i, &Switch::bounced_by));
        }
    }

    // The halves of a change-over contact are one pole.
    std::vector<Contact> contacts() const {
        std::vector<Contact> found;
        for (const BranchId i : m_.circuit.branches.ids()) {
            const Branch& b = m_.circuit.branches[i];
            if (b.kind != BranchKind::pole) continue;
            std::string name = b.name;
            for (const char* half : {".make", ".break"})
                if (name.ends_with(half)) name.erase(name.rfind('.'));
            if (found.empty() || found.back().name != name) found.push_back({name, {}, {}, b.index});
            (b.makes ? found.back().make : found.back().breaks) = i;
        }
        return found;
    }

    void poles() {
        for (const auto& c : contacts()) {
            const Signal& s = m_.signal(m_.switches[c.hand_switch].position);
            const auto stuck = [c](bool on) {
                return [c, on](Model& m, FaultId f) {
                    const BranchId closed = on ? c.make : c.breaks, opened = on ? c.breaks : c.make;
                    if (closed) m.circuit.branches[closed].closed_by.push_back(f);
                    if (opened) m.circuit.branches[opened].opened_by.push_back(f);
                };
            };
            add(FaultKind::switch_stuck_off, c.name, s.name, c.hand_switch, s.place, s.pointer, stuck(false));
            add(FaultKind::switch_stuck_on, c.name, s.name, c.hand_switch, s.place, s.pointer, stuck(true));
            add(FaultKind::switch_bounces, c.name, s.name, c.hand_switch, s.place, s.pointer, [c](Model& m, FaultId f) {
                for (const BranchId b : {c.make, c.breaks})
                    if (b) m.circuit.branches[b].bounced_by.push_back(f);
            });
        }
    }

    // A short lies at the right-hand node of a piece.
    void shorts(const WireLine& line, BranchId piece, NodeId to, FaultKind kind) {
        const Branch& b = m_.circuit.branches[piece];
        if (!to || b.to == to || b.from == to) return;
        add(kind, b.name, line.name, {}, b.place, line.pointer, [piece, to, kind](Model& m, FaultId f) {
            Branch stray;
            const Branch& wire = m.circuit.branches[piece];
            stray.kind = BranchKind::stray;
            stray.from = wire.to;
            stray.to = to;
            stray.name = wire.name + "." + fault_kind_help(kind).word;
            stray.place = wire.place;
            stray.pointer = wire.pointer;
            stray.closed_by = {f};
            m.circuit.add(std::move(stray));
        });
    }

    void wires() {
        NodeId plus;
        for (const auto& s : m_.circuit.sources)
            if (!plus && !s.turns) plus = s.plus;
        for (const auto& line : wires_) {
            if (line.pieces.empty()) continue;
            for (const BranchId piece : line.pieces) {
                const Branch& b = m_.circuit.branches[piece];
                add(FaultKind::wire_open, b.name, line.name, {}, b.place, line.pointer,
                    in_branch(piece, &Branch::opened_by));
                shorts(line, piece, ground_node, FaultKind::wire_to_ground);
                shorts(line, piece, plus, FaultKind::wire_to_battery);
            }
        }
    }

    void relays() {
        for (const RelayId i : m_.relays.ids()) {
            const Relay& r = m_.relays[i];
            const Signal& s = m_.signal(r.contact);
            add(FaultKind::relay_never_pulls, s, i, in(&Model::relays, i, &Relay::never_pulls_by));
            add(FaultKind::relay_welded, s, i, in(&Model::relays, i, &Relay::welded_by));
            auto& slow = add(FaultKind::relay_slow, s, i, in(&Model::relays, i, &Relay::slow_by));
            const Rational longest = std::max(r.pulls_in.hi, r.drops_out.hi);
            if (longest > 0) slow.fault.value = 10 * longest;
        }
    }

    // What breaks one branch and no more.
    void branch(BranchId index) {
        const Branch& b = m_.circuit.branches[index];
        const std::string part = b.name.substr(0, b.name.find('.'));
        const Attach opens = in_branch(index, &Branch::opened_by), closes = in_branch(index, &Branch::closed_by);
        const auto say = [&](FaultKind kind, const Attach& attach) {
            add(kind, b.name, part, {}, b.place, b.pointer, attach);
        };
        switch (b.kind) {
            case BranchKind::fuse:
                say(FaultKind::fuse_open, opens);
                break;
            case BranchKind::diode:
                say(FaultKind::diode_open, opens);
                say(FaultKind::diode_shorted, closes);
                break;
            case BranchKind::load:
                say(FaultKind::load_open, opens);
                break;
            case BranchKind::terminal:
                say(FaultKind::terminal_open, opens);
                break;
            case BranchKind::wire:
                if (!of_wire_[index]) say(FaultKind::ground_lost, opens);
                break;
            case BranchKind::pole:
            case BranchKind::contact:
            case BranchKind::coil:
            case BranchKind::winding:
            case BranchKind::output:
            case BranchKind::stray:
                break;
        }
    }

    void outputs() {
        for (const OutputId i : m_.outputs.ids()) {
            const Signal& s = m_.signal(m_.outputs[i].signal);
            const auto stuck = [i](bool on) {
                return [i, on](Model& m, FaultId f) {
                    (on ? m.outputs[i].stuck_on_by : m.outputs[i].stuck_off_by).push_back(f);
                    // Stuck off, neither half of a half bridge conducts.
                    for (auto& b : m.circuit.branches)
                        if (b.kind == BranchKind::output && b.index == i)
                            (on && b.makes ? b.closed_by : b.opened_by).push_back(f);
                };
            };
            add(FaultKind::output_stuck_on, s, i, stuck(true));
            add(FaultKind::output_stuck_off, s, i, stuck(false));
        }
    }

    void inputs() {
        for (const WiredInputId i : m_.wired_inputs.ids()) {
            const Signal& s = m_.signal(m_.wired_inputs[i].signal);
            add(FaultKind::input_stuck_on, s, i, in(&Model::wired_inputs, i, &WiredInput::stuck_on_by));
            add(FaultKind::input_stuck_off, s, i, in(&Model::wired_inputs, i, &WiredInput::stuck_off_by));
        }
    }

    void loops() {
        for (const LoopId i : m_.loops.ids())
            add(FaultKind::loop_open, m_.signal(m_.loops[i].signal), i, in(&Model::loops, i, &Loop::opened_by));
    }

    void controller() {
        const char* const name = "controller";
        add(FaultKind::controller_resets, name, name, {}, m_.supply.place, "",
            [](Model& m, FaultId f) { m.supply.resets_by.push_back(f); });
        add(FaultKind::controller_dead, name, name, {}, m_.supply.place, "",
            [](Model& m, FaultId f) { m.supply.dead_by.push_back(f); });
    }

    void sources() {
        for (const SourceId i : m_.circuit.sources.ids()) {
            const Source& s = m_.circuit.sources[i];
            if (!s.turns) continue;
            add(FaultKind::alternator_dead, s.name, s.name, i, s.place, s.pointer,
                [i](Model& m, FaultId f) { m.circuit.sources[i].dead_by.push_back(f); });
            if (!s.field) continue;
            add(FaultKind::field_stays_on, s.name, s.name, i, s.place, s.pointer,
                [i](Model& m, FaultId f) { m.circuit.sources[i].excited_by.push_back(f); });
        }
    }

    const Model& m_;
    const std::vector<WireLine>& wires_;
    Indexed<Branch, bool> of_wire_;  // branches; the other ones of their kind are bolts of ground points
    std::vector<PossibleFault> list_;
};

}  // namespace

std::vector<PossibleFault> possible_faults(const Model& m, const std::vector<WireLine>& wires) {
    return List(m, wires).all();
}

bool is_of_kind(const Fault& f, const std::string& text) {
    const auto& kind = fault_kind_help(f.kind);
    if (text == "everything") return true;
    if (!text.starts_with(any_word)) return !kind.word.empty() && text == kind.word;
    const std::string of = text.substr(std::string(any_word).size());
    return of == kind.part || (!kind.word.empty() && of == kind.part + "." + kind.word);
}

bool is_kind_of_faults(const std::string& text) {
    const auto& table = fault_kind_table();
    return std::any_of(table.begin(), table.end(), [&](const FaultKindHelp& k) {
        Fault f;
        f.kind = k.kind;
        return is_of_kind(f, text);
    });
}

bool is_of_pieces(FaultKind kind) {
    return kind == FaultKind::wire_open || kind == FaultKind::wire_to_ground || kind == FaultKind::wire_to_battery;
}

std::vector<std::string> names_of(const Fault& f) {
    std::vector<std::string> names{f.name};
    for (std::size_t at = f.name.rfind('.'); at != std::string::npos; at = names.back().rfind('.'))
        names.push_back(f.name.substr(0, at));
    // `W1.open`: any piece of W1.
    const std::string of_any_piece = f.part + f.name.substr(std::min(f.name.rfind('.'), f.name.size()));
    if (is_of_pieces(f.kind) && of_any_piece != f.name) names.push_back(of_any_piece);
    return names;
}

}  // namespace lanyard::model
