// What the reader makes of the section "circuit".
#include <algorithm>
#include <catch2/catch.hpp>

#include "helpers.hpp"

using namespace lanyard::model;
using namespace lanyard::test;

namespace {

// Parts and wires of a circuit; the rest of the model in front.
std::string circuit(const std::string& parts, const std::string& wires, const std::string& rest = "") {
    return rest + "'circuit': { 'parts': {" + parts + "}, 'wires': {" + wires + "} }";
}

const Branch& branch(const Model& m, const std::string& name, std::size_t which = 0) {
    for (const auto& b : m.circuit.branches)
        if (b.name == name && which-- == 0) return b;
    FAIL("no branch " << name);
    return m.circuit.branches.front();
}

std::size_t count(const Model& m, BranchKind kind) {
    return static_cast<std::size_t>(std::count_if(m.circuit.branches.begin(), m.circuit.branches.end(),
                                                  [&](const Branch& b) { return b.kind == kind; }));
}

std::string node(const Model& m, NodeId i) { return i ? m.circuit.nodes.at(i).name : "-"; }
std::string ends(const Model& m, const Branch& b) { return node(m, b.from) + " > " + node(m, b.to); }
std::string ends(const Model& m, const std::string& name, std::size_t which = 0) {
    return ends(m, branch(m, name, which));
}
const Probe& probe(const Model& m, ProbeId i) { return m.circuit.probes.at(i); }

}  // namespace

TEST_CASE("without the section there is no circuit") {
    const Model m = good("'inputs': { 'key': 'maintained' }, 'outputs': { 'pump': 'key' }");
    CHECK_FALSE(m.circuit.exists());
    CHECK_FALSE(m.may_lose_power());
    CHECK(m.circuit.probes.empty());
}

TEST_CASE("a path is a chain of wires, parts and splices") {
    const Model m = good(circuit("'battery': 'battery', 'F1': { 'is': 'fuse', 'rating': '20 A' }, 'pump': 'load'",
                                 "'W1': { 'path': 'battery - F1 - bus', 'size': '16 AWG' }, 'W2': 'bus - pump - "
                                 "ground', 'W3': { 'path': 'bus - tap - pump.in', 'size': '1.5 mm2' }"));
    CHECK(node(m, ground_node) == "ground");
    CHECK(ends(m, "W1.1") == "battery.plus > F1.in");
    CHECK(ends(m, "W1.2") == "F1.out > bus");
    CHECK(ends(m, "W2.1") == "bus > pump.in");
    CHECK(ends(m, "W2.2") == "pump.out > ground");
    CHECK(ends(m, "W3.1") == "bus > tap");
    CHECK(ends(m, "F1") == "F1.in > F1.out");
    CHECK(branch(m, "F1").kind == BranchKind::fuse);
    CHECK(branch(m, "F1").limit == Rational(20));
    CHECK(branch(m, "W1.1").kind == BranchKind::wire);
    // ASTM B258, 16 AWG: 1.309 mm2 (from memory).
    CHECK(branch(m, "W1.2").gauge == Rational(1309, 1000));
    CHECK(branch(m, "W3.1").gauge == Rational(3, 2));
    CHECK_FALSE(branch(m, "W2.1").gauge);
    REQUIRE(m.circuit.sources.size() == 1);
    CHECK(node(m, m.circuit.sources.front().plus) == "battery.plus");
    CHECK(m.circuit.sources.front().minus == ground_node);
    CHECK(m.circuit.sources.front().live == nullptr);
    CHECK(!m.circuit.voltage);
    CHECK(!m.circuit.supply_plus);
    CHECK(!m.circuit.supply_probe);
}

TEST_CASE("a wire with one piece is called like the whole, and a bare part at its end means the near end") {
    const Model m = good(circuit("'b': 'battery', 'D1': 'diode', 'F1': 'fuse', 'pump': 'load'",
                                 "'W1': 'b - F1', 'W2': 'F1 - D1', 'W3': 'D1 - pump', 'W4': 'pump - ground'"));
    CHECK(ends(m, "W1") == "b.plus > F1.in");
    CHECK(ends(m, "W2") == "F1.out > D1.anode");
    CHECK(ends(m, "W3") == "D1.cathode > pump.in");
    CHECK(ends(m, "W4") == "pump.out > ground");
    CHECK(ends(m, "D1") == "D1.anode > D1.cathode");
    CHECK(branch(m, "D1").kind == BranchKind::diode);
}

TEST_CASE("minus, field and voltage of sources") {
    const Model m = good(circuit(
        "'b': { 'is': 'battery', 'voltage': 'battery_voltage' }, 'alt': 'alternator', 'alt2': { 'is': 'alternator', "
        "'live': 'engine_speed > 800 rpm' }",
        "'W1': 'b - bus', 'W2': 'b.minus - isolator', 'W3': 'isolator - ground', 'W4': 'alt - bus', 'W5': 'alt2 - "
        "bus', 'W6': 'bus - alt.field'",
        "'engine': {}, "));
    REQUIRE(m.circuit.sources.size() == 3);
    const auto& s = m.circuit.sources.values();
    CHECK(node(m, s[0].minus) == "b.minus");
    CHECK(s[1].minus == ground_node);
    CHECK_FALSE(s[0].turns);
    CHECK(s[1].turns);
    CHECK(text_of(m, *s[1].live) == "engine = running OR engine = coasting");
    CHECK(text_of(m, *s[2].live) == "engine_speed > 800 rpm");
    CHECK(probe(m, s[1].field).kind == ProbeKind::field);
    CHECK(probe(m, s[1].field).index == SourceId(1));
    CHECK(node(m, s[1].field_node) == "alt.field");
    CHECK(!s[2].field);
    CHECK(!s[2].field_node);
    REQUIRE(m.circuit.voltage);
    CHECK(m.name_of(m.quantities[m.circuit.voltage].signal) == "battery_voltage");
    const Model still = good(circuit("'alt': 'alternator'", "'W1': 'alt - bus', 'W2': 'bus - ground'"));
    CHECK(still.circuit.sources.front().live == nullptr);
}

TEST_CASE("a magneto is a load with a lead that stops it") {
    const Model m = good(circuit("'mag': 'magneto', 'kill': { 'is': 'switch', 'switch': 'momentary' }",
                                 "'W1': 'mag - kill - ground'", "'engine': { 'fires_with': 'mag' }, "));
    REQUIRE(m.loads.size() == 1);
    CHECK(m.engine->fires_with == std::vector{LoadId(0)});
    CHECK(probe(m, m.loads.front().probe).kind == ProbeKind::magneto);
    CHECK(probe(m, m.loads.front().probe).index == LoadId(0));
    REQUIRE(m.circuit.magneto_lead.size() == 1);
    CHECK(node(m, m.circuit.magneto_lead.front()) == "mag.lead");
    CHECK_FALSE(m.loads.front().is_free());
}

TEST_CASE("poles of a switch") {
    const Model m = good(circuit(
        "'b': 'battery', 'master': { 'is': 'switch', 'switch': 'maintained', 'poles': 3, 'rests': 'on' }, 'nc': { "
        "'is': 'switch', 'switch': 'momentary', 'contact': 'break' }, 'sel': { 'is': 'switch', 'switch': "
        "'maintained', 'contact': 'change-over' }, 'two': { 'is': 'switch', 'switch': 'maintained', 'poles': 2, "
        "'contact': 'change-over' }",
        "'W1': 'b - master.1 - bus', 'W2': 'b - master.3 - bus', 'W3': 'bus - nc - x', 'W4': 'x - sel.make - y', "
        "'W5': 'x - sel.break - ground', 'W6': 'y - two.2.make - ground', 'W7': 'x - y'"));
    REQUIRE(m.switches.size() == 4);
    CHECK_FALSE(m.switches.front().seen_by_controller);
    CHECK(m.switches.front().rests_on);
    CHECK(m.switches[SwitchId(1)].momentary);
    CHECK(ends(m, "master.1") == "master.1.in > master.1.out");
    CHECK(branch(m, "master.3").index == SwitchId(0));
    CHECK(branch(m, "master.3").makes);
    CHECK_FALSE(branch(m, "nc").makes);
    CHECK(ends(m, "nc") == "nc.in > nc.out");
    CHECK(ends(m, "sel.make") == "sel.in > sel.make.out");
    CHECK(ends(m, "sel.break") == "sel.in > sel.break.out");
    CHECK_FALSE(branch(m, "sel.break").makes);
    CHECK(ends(m, "two.2.make") == "two.2.in > two.2.make.out");
    CHECK(count(m, BranchKind::pole) == 6);  // what no wire touches is left out
}

TEST_CASE("terminals of a wired relay are those of DIN 72552") {
    const Model m = good(circuit(
        "'b': { 'is': 'battery', 'voltage': 'battery_voltage' }, 'K1': { 'is': 'relay', 'pulls_in': '10 ms', "
        "'drops_out': '2 .. 5 ms', 'operates_at': '8.4 V', 'releases_at': '1.2 V', 'draws': '0.15 A', 'suppressed': "
        "true, 'polar': true }, 'K2': 'relay', 'K3': 'relay', 'a': 'load', 'c': 'load'",
        "'W1': 'b - K1.coil - ground', 'W2': 'b - K1.30', 'W3': 'K1.87 - a - ground', 'W4': 'K1.87a - c - ground', "
        "'W5': 'b - K2.86', 'W6': 'K2.85 - ground', 'W7': 'b - K2.make - a.in', 'W8': 'b - K3.break - c.in'"));
    REQUIRE(m.relays.size() == 3);
    const Relay& k1 = m.relays.front();
    CHECK(!k1.coil);
    CHECK(probe(m, k1.coil_probe).kind == ProbeKind::coil);
    const Branch& coil = m.circuit.branches.at(probe(m, k1.coil_probe).index);
    CHECK(ends(m, coil) == "K1.86 > K1.85");
    CHECK(coil.polar);
    CHECK(coil.limit == Rational(3, 20));
    CHECK(k1.suppressed);
    CHECK(k1.operates_at == Rational(42, 5));
    CHECK(k1.releases_at == Rational(6, 5));
    CHECK(k1.pulls_in == Interval{0, Rational(1, 100)});
    CHECK(k1.drops_out == Interval{Rational(1, 500), Rational(1, 200)});
    CHECK(ends(m, "K1.make") == "K1.30 > K1.87");
    CHECK(ends(m, "K1.break") == "K1.30 > K1.87a");
    CHECK_FALSE(branch(m, "K1.break").makes);
    CHECK(probe(m, k1.flight_probe).kind == ProbeKind::flight);
    CHECK(probe(m, k1.flight_probe).index == RelayId(0));
    CHECK(!m.relays[RelayId(1)].flight_probe);
    CHECK(!m.relays[RelayId(2)].flight_probe);
    CHECK(count(m, BranchKind::contact) == 4);
    CHECK(m.signal(k1.contact).kind == SignalKind::contact);
}

TEST_CASE("loads, connectors, breakers, ground points") {
    const Model m = good(
        circuit("'b': 'battery', 'B1': { 'is': 'breaker', 'rating': '5 A' }, 'lamp': { 'is': 'load', 'draws': '2 A', "
                "'lets_through': false, 'polar': true }, 'X1': { 'is': 'connector', 'terminals': 4 }, 'G1': 'ground'",
                "'W1': 'b - B1 - lamp - X1.3 - G1'"));
    CHECK(branch(m, "B1").kind == BranchKind::fuse);
    CHECK(ends(m, "lamp") == "lamp.in > lamp.out");
    CHECK_FALSE(branch(m, "lamp").lets_through);
    CHECK(branch(m, "lamp").polar);
    CHECK(ends(m, "X1.3") == "X1.3.in > X1.3.out");
    CHECK(branch(m, "X1.3").kind == BranchKind::terminal);
    CHECK(count(m, BranchKind::terminal) == 1);
    CHECK(ends(m, "G1") == "G1 > ground");
    REQUIRE(m.loads.size() == 1);
    CHECK(probe(m, m.loads.front().probe).kind == ProbeKind::load);
    CHECK(m.circuit.branches.at(probe(m, m.loads.front().probe).index).name == "lamp");
}

TEST_CASE("pins of the controller") {
    const Model m = good(circuit(
        "'b': 'battery', 'l1': 'load', 'l2': 'load', 'l3': 'load'",
        "'W1': 'b - controller.plus', 'W2': 'controller.ground - ground', 'W3': 'hi - l1 - ground', 'W4': 'b - l2 - "
        "lo', 'W5': 'br - l3 - ground', 'W6': 'b - up', 'W7': 'dn - ground'",
        "'inputs': { 'up': { 'reads': 'plus' }, 'dn': { 'reads': 'ground' }, 'odd': { 'reads': 'plus', 'pull': 'up' "
        "} }, 'outputs': { 'hi': { 'on': 'up', 'drives': 'high side', 'gives': '8 A' }, 'lo': { 'on': 'dn', "
        "'drives': 'low side' }, 'br': { 'duty': '50 %', 'drives': 'half bridge' }, 'own': 'odd' }, "));
    CHECK(node(m, m.circuit.supply_plus) == "controller.plus");
    CHECK(node(m, m.circuit.supply_minus) == "controller.ground");
    CHECK(probe(m, m.circuit.supply_probe).kind == ProbeKind::supply);
    CHECK(m.may_lose_power());
    CHECK(ends(m, "hi") == "controller.plus > hi.pin");
    CHECK(branch(m, "hi").limit == Rational(8));
    CHECK(ends(m, "lo") == "lo.pin > controller.ground");
    CHECK(branch(m, "lo").makes);
    CHECK(ends(m, "br.high") == "controller.plus > br.pin");
    CHECK(ends(m, "br.low") == "br.pin > controller.ground");
    CHECK_FALSE(branch(m, "br.low").makes);
    CHECK(branch(m, "br.low").index == OutputId(2));
    REQUIRE(m.wired_inputs.size() == 3);
    CHECK(node(m, m.wired_inputs.front().node) == "up.pin");
    CHECK_FALSE(m.wired_inputs.front().pulled_up);
    CHECK_FALSE(m.wired_inputs.front().on_when_low);
    CHECK(m.wired_inputs[WiredInputId(1)].pulled_up);
    CHECK(m.wired_inputs[WiredInputId(1)].on_when_low);
    CHECK(m.wired_inputs[WiredInputId(2)].pulled_up);
    CHECK(probe(m, m.wired_inputs[WiredInputId(1)].probe).kind == ProbeKind::input);
    CHECK(probe(m, m.wired_inputs[WiredInputId(1)].probe).index == WiredInputId(1));
    CHECK(m.signal(m.wired_inputs.front().signal).kind == SignalKind::wired);
    // An output with a pin has no load of its own name.
    CHECK(m.loads.size() == 4);
    CHECK(signal_of_kind(m, "own", SignalKind::load) != nullptr);
    CHECK(signal_of_kind(m, "hi", SignalKind::load) == nullptr);
}

TEST_CASE("a low side needs no wire at controller.plus") {
    const Model m = good(circuit("'b': 'battery', 'lamp': 'load'", "'W1': 'b - lamp - lo'",
                                 "'outputs': { 'lo': { 'on': 'TRUE', 'drives': 'low side' } }, "));
    CHECK(ends(m, "lo") == "lo.pin > ground");
    CHECK(!m.circuit.supply_plus);
    CHECK(!m.circuit.supply_minus);
    CHECK_FALSE(m.may_lose_power());
}

TEST_CASE("a node has a signal where something speaks of it") {
    const std::string parts = "'b': 'battery', 'F1': 'fuse', 'lamp': 'load'";
    const std::string wires = "'W1': 'b - F1 - bus', 'W2': 'bus - lamp - ground'";
    const Model silent = good(circuit(parts, wires));
    CHECK(signal_of_kind(silent, "bus", SignalKind::node) == nullptr);
    const Model m = good(circuit(parts, wires,
                                 "'quantities': { 'heat': { 'range': '0 .. 10 kW', 'follows': [{ 'when': 'bus', "
                                 "'within': '0 .. 1 kW' }] } }, 'claims': { 'a': { 'always': 'F1.out AND b OR bus' } "
                                 "}, "));
    for (const char* name : {"bus", "F1.out", "b.plus"}) {
        INFO(name);
        const Signal* s = signal_of_kind(m, name, SignalKind::node);
        REQUIRE(s != nullptr);
        CHECK(node(m, s->index) == name);
        const auto& probes = m.circuit.probes;
        CHECK(std::count_if(probes.begin(), probes.end(),
                            [&](const Probe& p) { return p.kind == ProbeKind::node && p.index == s->index; }) == 1);
    }
    CHECK(signal_of_kind(m, "F1.in", SignalKind::node) == nullptr);
    CHECK(text_of(m, *std::get<Always>(claim(m, "a").body).body) == "F1.out AND b.plus OR bus");
    const Quantity& heat = quantity(m, "heat");
    CHECK(heat.lines.at(0).when->op == Op::last);
}

TEST_CASE("a large circuit is read in the end") {
    std::string parts = "'b': 'battery'", wires;
    for (int i = 0; i < 3000; ++i) {
        const std::string n = std::to_string(i);
        parts += ", 'F" + n + "': 'fuse', 'L" + n + "': 'load'";
        wires += (i == 0 ? "'W" : ", 'W") + n + "': 'b - F" + n + " - L" + n + " - ground'";
    }
    const Model m = good(circuit(parts, wires,
                                 "'claims': { 'a': { 'possible': 'L7', 'under': 'any, one fault of "
                                 "everything' } }, "));
    CHECK(m.loads.size() == 3000);
    CHECK(m.conditions.back().faults.size() == m.faults.size());
}
