#include "model/fault_list.hpp"

#include <algorithm>

#include "base/slot.hpp"
#include "model/fault_kinds.hpp"

namespace lanyard {

namespace {

using Attach = std::function<void(Model&, int)>;

// A pole of a hand switch: a change-over contact has two halves, the others have one.
struct Contact {
    std::string name;
    int make = -1, breaks = -1;  // branches
    int hand_switch = -1;
};

class List {
 public:
    List(const Model& m, const std::vector<WireLine>& wires)
        : m_(m), wires_(wires), of_wire_(m.circuit.branches.size(), false) {
        for (const auto& line : wires)
            for (const int piece : line.pieces) of_wire_[slot(piece)] = true;
    }

    std::vector<PossibleFault> all() {
        sensors();
        switches();
        poles();
        wires();
        relays();
        for (std::size_t i = 0; i < m_.circuit.branches.size(); ++i) branch(static_cast<int>(i));
        outputs();
        inputs();
        loops();
        controller();
        sources();
        return std::move(list_);
    }

 private:
    PossibleFault& add(FaultKind kind, const std::string& name, const std::string& part, int index, const Place& place,
                       const std::string& pointer, Attach attach) {
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
    PossibleFault& add(FaultKind kind, const Signal& s, int index, Attach attach) {
        return add(kind, s.name, s.name, index, s.place, s.pointer, std::move(attach));
    }

    void sensors() {
        using K = FaultKind;
        for (std::size_t i = 0; i < m_.sensors.size(); ++i)
            for (const K kind : {K::sensor_stuck, K::sensor_frozen, K::sensor_open, K::sensor_to_ground,
                                 K::sensor_to_supply, K::sensor_drift})
                add(kind, m_.signal(m_.sensors[i].signal), static_cast<int>(i),
                    [i](Model& m, int f) { m.sensors[i].faults.push_back(f); });
    }

    void switches() {
        for (std::size_t i = 0; i < m_.switches.size(); ++i) {
            if (!m_.switches[i].seen_by_controller) continue;
            const Signal& s = m_.signal(m_.switches[i].position);
            const int index = static_cast<int>(i);
            add(FaultKind::switch_stuck_off, s, index,
                [i](Model& m, int f) { m.switches[i].stuck_off_by.push_back(f); });
            add(FaultKind::switch_stuck_on, s, index, [i](Model& m, int f) { m.switches[i].stuck_on_by.push_back(f); });
            add(FaultKind::switch_bounces, s, index, [i](Model& m, int f) { m.switches[i].bounced_by.push_back(f); });
        }
    }

    // The halves of a change-over contact are one pole.
    std::vector<Contact> contacts() const {
        std::vector<Contact> found;
        for (std::size_t i = 0; i < m_.circuit.branches.size(); ++i) {
            const Branch& b = m_.circuit.branches[i];
            if (b.kind != BranchKind::pole) continue;
            std::string name = b.name;
            for (const char* half : {".make", ".break"})
                if (name.ends_with(half)) name.erase(name.rfind('.'));
            if (found.empty() || found.back().name != name) found.push_back({name, -1, -1, b.index});
            (b.makes ? found.back().make : found.back().breaks) = static_cast<int>(i);
        }
        return found;
    }

    void poles() {
        for (const auto& c : contacts()) {
            const Signal& s = m_.signal(m_.switches[slot(c.hand_switch)].position);
            const auto stuck = [c](bool on) {
                return [c, on](Model& m, int f) {
                    const int closed = on ? c.make : c.breaks, opened = on ? c.breaks : c.make;
                    if (closed >= 0) m.circuit.branches[slot(closed)].closed_by.push_back(f);
                    if (opened >= 0) m.circuit.branches[slot(opened)].opened_by.push_back(f);
                };
            };
            add(FaultKind::switch_stuck_off, c.name, s.name, c.hand_switch, s.place, s.pointer, stuck(false));
            add(FaultKind::switch_stuck_on, c.name, s.name, c.hand_switch, s.place, s.pointer, stuck(true));
            add(FaultKind::switch_bounces, c.name, s.name, c.hand_switch, s.place, s.pointer, [c](Model& m, int f) {
                for (const int b : {c.make, c.breaks})
                    if (b >= 0) m.circuit.branches[slot(b)].bounced_by.push_back(f);
            });
        }
    }

    // A short lies at the right-hand node of a piece.
    void shorts(const WireLine& line, int piece, int to, FaultKind kind) {
        const Branch& b = m_.circuit.branches[slot(piece)];
        if (to < 0 || b.to == to || b.from == to) return;
        add(kind, b.name, line.name, -1, b.place, line.pointer, [piece, to, kind](Model& m, int f) {
            Branch stray;
            const Branch& wire = m.circuit.branches[slot(piece)];
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
        int plus = -1;
        for (const auto& s : m_.circuit.sources)
            if (plus < 0 && !s.turns) plus = s.plus;
        for (const auto& line : wires_) {
            if (line.pieces.empty()) continue;
            for (const int piece : line.pieces) {
                const Branch& b = m_.circuit.branches[slot(piece)];
                add(FaultKind::wire_open, b.name, line.name, -1, b.place, line.pointer,
                    [piece](Model& m, int f) { m.circuit.branches[slot(piece)].opened_by.push_back(f); });
                shorts(line, piece, 0, FaultKind::wire_to_ground);
                shorts(line, piece, plus, FaultKind::wire_to_battery);
            }
        }
    }

    void relays() {
        for (std::size_t i = 0; i < m_.relays.size(); ++i) {
            const Relay& r = m_.relays[i];
            const Signal& s = m_.signal(r.contact);
            const int index = static_cast<int>(i);
            add(FaultKind::relay_never_pulls, s, index,
                [i](Model& m, int f) { m.relays[i].never_pulls_by.push_back(f); });
            add(FaultKind::relay_welded, s, index, [i](Model& m, int f) { m.relays[i].welded_by.push_back(f); });
            auto& slow =
                add(FaultKind::relay_slow, s, index, [i](Model& m, int f) { m.relays[i].slow_by.push_back(f); });
            const Rational longest = std::max(r.pulls_in.hi, r.drops_out.hi);
            if (longest > 0) slow.fault.value = 10 * longest;
        }
    }

    // What breaks one branch and no more.
    void branch(int index) {
        const Branch& b = m_.circuit.branches[slot(index)];
        const std::string part = b.name.substr(0, b.name.find('.'));
        const auto opens = [index](Model& m, int f) { m.circuit.branches[slot(index)].opened_by.push_back(f); };
        const auto closes = [index](Model& m, int f) { m.circuit.branches[slot(index)].closed_by.push_back(f); };
        const auto say = [&](FaultKind kind, const Attach& attach) {
            add(kind, b.name, part, -1, b.place, b.pointer, attach);
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
                if (!of_wire_[slot(index)]) say(FaultKind::ground_lost, opens);
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
        for (std::size_t i = 0; i < m_.outputs.size(); ++i) {
            const Signal& s = m_.signal(m_.outputs[i].signal);
            const auto stuck = [i](bool on) {
                return [i, on](Model& m, int f) {
                    (on ? m.outputs[i].stuck_on_by : m.outputs[i].stuck_off_by).push_back(f);
                    // Stuck off, neither half of a half bridge conducts.
                    for (auto& b : m.circuit.branches)
                        if (b.kind == BranchKind::output && slot(b.index) == i)
                            (on && b.makes ? b.closed_by : b.opened_by).push_back(f);
                };
            };
            add(FaultKind::output_stuck_on, s, static_cast<int>(i), stuck(true));
            add(FaultKind::output_stuck_off, s, static_cast<int>(i), stuck(false));
        }
    }

    void inputs() {
        for (std::size_t i = 0; i < m_.wired_inputs.size(); ++i) {
            const Signal& s = m_.signal(m_.wired_inputs[i].signal);
            add(FaultKind::input_stuck_on, s, static_cast<int>(i),
                [i](Model& m, int f) { m.wired_inputs[i].stuck_on_by.push_back(f); });
            add(FaultKind::input_stuck_off, s, static_cast<int>(i),
                [i](Model& m, int f) { m.wired_inputs[i].stuck_off_by.push_back(f); });
        }
    }

    void loops() {
        for (std::size_t i = 0; i < m_.loops.size(); ++i)
            add(FaultKind::loop_open, m_.signal(m_.loops[i].signal), static_cast<int>(i),
                [i](Model& m, int f) { m.loops[i].opened_by.push_back(f); });
    }

    void controller() {
        const char* const name = "controller";
        add(FaultKind::controller_resets, name, name, -1, m_.supply.place, "",
            [](Model& m, int f) { m.supply.resets_by.push_back(f); });
        add(FaultKind::controller_dead, name, name, -1, m_.supply.place, "",
            [](Model& m, int f) { m.supply.dead_by.push_back(f); });
    }

    void sources() {
        for (std::size_t i = 0; i < m_.circuit.sources.size(); ++i) {
            const Source& s = m_.circuit.sources[i];
            if (!s.turns) continue;
            const int index = static_cast<int>(i);
            add(FaultKind::alternator_dead, s.name, s.name, index, s.place, s.pointer,
                [i](Model& m, int f) { m.circuit.sources[i].dead_by.push_back(f); });
            if (s.field < 0) continue;
            add(FaultKind::field_stays_on, s.name, s.name, index, s.place, s.pointer,
                [i](Model& m, int f) { m.circuit.sources[i].excited_by.push_back(f); });
        }
    }

    const Model& m_;
    const std::vector<WireLine>& wires_;
    std::vector<bool> of_wire_;  // branches; the other ones of their kind are bolts of ground points
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

}  // namespace lanyard
