// Everything that can break: which faults a model has, what the file says of them, and conditions that let them arise.
#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

#include "helpers.hpp"
#include "model/fault_kinds.hpp"
#include "model/format.hpp"

using namespace lanyard::model;
using namespace lanyard::test;

namespace {

const std::string plain_car =
    "'inputs': { 'key': 'maintained', 'oil': { 'senses': 'oil_pressure' }, 'loop': { 'reads_back': 'pump' } },"
    "'outputs': { 'pump': 'key AND oil > 1 bar OR loop', 'main': { 'on': 'key', 'relay': 'K1' } },"
    "'relays': { 'K1': { 'pulls_in': '10 ms', 'drops_out': '20 ms' } }";

const std::string wired_car =
    "'inputs': { 'kill_in': { 'reads': 'ground' } },"
    "'outputs': { 'hi': { 'on': 'kill_in', 'drives': 'high side' }, 'br': { 'on': 'kill_in', 'drives': 'half bridge' "
    "} },"
    "'circuit': { 'parts': { 'b': 'battery', 'alt': 'alternator', 'spare': 'alternator', 'F1': 'fuse', 'D1': 'diode',"
    " 'lamp': 'load', 'motor': 'load', 'K1': 'relay', 'X1': { 'is': 'connector', 'terminals': 2 }, 'G1': 'ground',"
    " 'two': { 'is': 'switch', 'switch': 'maintained', 'poles': 2 },"
    " 'sel': { 'is': 'switch', 'switch': 'maintained', 'contact': 'change-over' } },"
    "'wires': { 'W1': 'b - F1 - two.1 - bus', 'W2': 'bus - controller.plus', 'W3': 'alt - bus',"
    " 'W4': 'bus - two.2 - alt.field', 'W5': 'spare - bus', 'W6': 'hi - K1.coil - G1',"
    " 'W7': 'bus - K1.make - D1 - lamp - X1.1 - ground', 'W8': 'br - motor - ground',"
    " 'W9': 'kill_in - sel.make - ground', 'W10': 'kill_in - sel.break - bus' } }";

std::string with_faults(const std::string& car, const std::string& faults) {
    return car + ", 'faults': {" + faults + "}";
}
std::string with_claim(const std::string& car, const std::string& under) {
    return car + ", 'claims': { 'c': { 'always': 'TRUE', 'under': '" + under + "' } }";
}

const Fault* find(const Model& m, const std::string& name) {
    for (const auto& f : m.faults)
        if (f.name == name) return &f;
    return nullptr;
}
const Fault& fault(const Model& m, const std::string& name) {
    const Fault* f = find(m, name);
    INFO(name);
    REQUIRE(f != nullptr);
    return *f;
}
std::set<std::string> names(const Model& m) {
    std::set<std::string> all;
    for (const auto& f : m.faults) all.insert(f.name);
    return all;
}
std::set<std::string> names(const Model& m, const std::vector<FaultId>& faults) {
    std::set<std::string> all;
    for (const FaultId f : faults) all.insert(m.faults.at(f).name);
    return all;
}
// Branches on which the fault acts in this way.
std::set<std::string> hit(const Model& m, const std::string& name, std::vector<FaultId> Branch::*list) {
    const FaultId wanted = index_of(m.faults, &Fault::name, name);
    std::set<std::string> all;
    for (const auto& b : m.circuit.branches)
        for (const FaultId f : b.*list)
            if (f == wanted) all.insert(b.name);
    return all;
}
const Condition& last_condition(const Model& m) { return m.conditions.back(); }

using Names = std::set<std::string>;

}  // namespace

TEST_CASE("the table of fault kinds is in the order of its enumeration, and complete") {
    const auto& table = fault_kind_table();
    REQUIRE(table.size() == ordinal(FaultKind::event) + 1);
    std::set<std::string> forms;
    for (std::size_t i = 0; i < table.size(); ++i) {
        const auto& k = table[i];
        INFO(k.part << " " << k.word);
        CHECK(ordinal(k.kind) == i);
        CHECK(forms.insert(k.part + "." + k.word).second);
        CHECK_FALSE(k.meaning.empty());
        CHECK_FALSE(k.story.empty());
        CHECK(k.word.empty() == (k.kind == FaultKind::event));
        if (k.value.empty()) continue;
        const auto& keys = object_help("fault").keys;
        CHECK(std::any_of(keys.begin(), keys.end(), [&](const auto& key) { return key.key == k.value; }));
    }
}

TEST_CASE("stories of faults") {
    const Model m = good(wired_car);
    CHECK(fault_story(fault(m, "W1.2.open")) == "the wire W1.2 breaks");
    CHECK(fault_story(fault(m, "W1.2.to_ground")) == "the wire W1.2 is shorted to ground");
    CHECK(fault_story(fault(m, "two.1.stuck_on")) == "the contact of two.1 stays as if the switch were on");
    CHECK(fault_story(fault(m, "controller.resets")) == "the controller resets");
}

TEST_CASE("faults of a car without wiring") {
    const Model m = good(plain_car);
    CHECK(names(m) == Names{"oil.stuck", "oil.frozen", "oil.open", "oil.to_ground", "oil.to_supply", "key.stuck_off",
                            "key.stuck_on", "key.bounces", "K1.never_pulls", "K1.welded", "K1.slow", "pump.stuck_on",
                            "pump.stuck_off", "main.stuck_on", "main.stuck_off", "loop.open", "controller.resets",
                            "controller.dead"});
    CHECK(names(m, m.sensors.front().faults).size() == 5);
    CHECK(names(m, m.switches.front().stuck_off_by) == Names{"key.stuck_off"});
    CHECK(names(m, m.switches.front().stuck_on_by) == Names{"key.stuck_on"});
    CHECK(names(m, m.switches.front().bounced_by) == Names{"key.bounces"});
    CHECK(names(m, m.relays.front().never_pulls_by) == Names{"K1.never_pulls"});
    CHECK(names(m, m.relays.front().welded_by) == Names{"K1.welded"});
    CHECK(names(m, m.relays.front().slow_by) == Names{"K1.slow"});
    CHECK(names(m, m.outputs[OutputId(1)].stuck_on_by) == Names{"main.stuck_on"});
    CHECK(names(m, m.outputs.front().stuck_off_by) == Names{"pump.stuck_off"});
    CHECK(names(m, m.loops.front().opened_by) == Names{"loop.open"});
    CHECK(names(m, m.supply.resets_by) == Names{"controller.resets"});
    CHECK(names(m, m.supply.dead_by) == Names{"controller.dead"});
    CHECK(fault(m, "K1.slow").value == Rational(1, 5));  // ten times its longest time
    for (const auto& f : m.faults) CHECK(!f.signal);
    CHECK_FALSE(m.may_lose_power());
}

TEST_CASE("faults of a wiring act on its branches") {
    const Model m = good(wired_car);
    using B = Branch;
    CHECK(hit(m, "W1.2.open", &B::opened_by) == Names{"W1.2"});
    CHECK(hit(m, "W1.2.to_ground", &B::closed_by) == Names{"W1.2.to_ground"});
    CHECK(hit(m, "W2.to_battery", &B::closed_by) == Names{"W2.to_battery"});
    CHECK(hit(m, "F1.open", &B::opened_by) == Names{"F1"});
    CHECK(hit(m, "D1.open", &B::opened_by) == Names{"D1"});
    CHECK(hit(m, "D1.shorted", &B::closed_by) == Names{"D1"});
    CHECK(hit(m, "lamp.open", &B::opened_by) == Names{"lamp"});
    CHECK(hit(m, "X1.1.open", &B::opened_by) == Names{"X1.1"});
    CHECK(hit(m, "G1.lost", &B::opened_by) == Names{"G1"});
    CHECK(hit(m, "two.1.stuck_on", &B::closed_by) == Names{"two.1"});
    CHECK(hit(m, "two.2.stuck_off", &B::opened_by) == Names{"two.2"});
    CHECK(hit(m, "two.2.bounces", &B::bounced_by) == Names{"two.2"});
    CHECK(hit(m, "sel.stuck_on", &B::closed_by) == Names{"sel.make"});
    CHECK(hit(m, "sel.stuck_on", &B::opened_by) == Names{"sel.break"});
    CHECK(hit(m, "sel.stuck_off", &B::closed_by) == Names{"sel.break"});
    CHECK(hit(m, "sel.stuck_off", &B::opened_by) == Names{"sel.make"});
    CHECK(hit(m, "hi.stuck_on", &B::closed_by) == Names{"hi"});
    CHECK(hit(m, "hi.stuck_off", &B::opened_by) == Names{"hi"});
    CHECK(hit(m, "br.stuck_on", &B::closed_by) == Names{"br.high"});
    CHECK(hit(m, "br.stuck_on", &B::opened_by) == Names{"br.low"});
    CHECK(hit(m, "br.stuck_off", &B::closed_by).empty());
    CHECK(hit(m, "br.stuck_off", &B::opened_by) == Names{"br.high", "br.low"});
    CHECK(names(m, m.wired_inputs.front().stuck_on_by) == Names{"kill_in.stuck_on"});
    CHECK(names(m, m.wired_inputs.front().stuck_off_by) == Names{"kill_in.stuck_off"});
    CHECK(names(m, m.circuit.sources[SourceId(1)].dead_by) == Names{"alt.dead"});
    CHECK(names(m, m.circuit.sources[SourceId(1)].excited_by) == Names{"alt.field_stays_on"});
    CHECK(find(m, "spare.field_stays_on") == nullptr);
    CHECK(find(m, "b.dead") == nullptr);
    CHECK(find(m, "W8.2.to_ground") == nullptr);  // it ends there
    CHECK(find(m, "W10.2.to_ground") != nullptr);
    CHECK(find(m, "K1.slow") == nullptr);  // an ideal relay has no time that could grow
    CHECK(fault(m, "two.1.stuck_on").part == "two");
    CHECK(fault(m, "W1.2.to_ground").part == "W1");
    CHECK(fault(m, "X1.1.open").part == "X1");
}

TEST_CASE("what the file says of faults") {
    const Model m = good(with_faults(wired_car,
                                     "'any wire.open': { 'rate': '2e-6 per h', 'test_every': '8760 h' },"
                                     "'W1.open': { 'probability': '0.02' }, 'W2.open': { 'rate': '3 per min' },"
                                     "'any wire.to_battery': 'never', 'W1.2.to_battery': { 'comes_and_goes': true },"
                                     "'K1.slow': { 'takes': '0.5 s' }, 'rain': { 'probability': 0.25 }"));
    CHECK(fault(m, "W3.open").per_hour == Rational(1, 500000));
    CHECK(fault(m, "W3.open").test_every == Rational(8760));
    for (const char* piece : {"W1.1.open", "W1.2.open", "W1.3.open"}) {
        CHECK_FALSE(fault(m, piece).per_hour);
        CHECK(fault(m, piece).probability == Rational(1, 50));
    }
    CHECK(fault(m, "W2.open").per_hour == Rational(180));
    CHECK(find(m, "W2.to_battery") == nullptr);
    CHECK(fault(m, "W1.2.to_battery").comes_and_goes);
    CHECK(fault(m, "K1.slow").value == Rational(1, 2));
    CHECK(fault(m, "rain").kind == FaultKind::event);
    CHECK(fault(m, "rain").probability == Rational(1, 4));
    // A fault that is ruled out leaves no branch behind.
    for (const auto& b : m.circuit.branches) CHECK(b.name != "W2.to_battery");
}

TEST_CASE("values of faulty sensors") {
    const Model m = good(with_faults(
        "'inputs': { 'oil': { 'senses': 'oil_pressure' }, 'water': { 'senses': 'coolant_temperature' } }, 'outputs': "
        "{ 'lamp': 'oil < 1 bar OR water > 100 degC' }",
        "'oil.open': { 'reads': '5 bar' }, 'oil.drift': { 'by': '0.2 bar' }, 'water.to_ground': { 'reads': '-40 "
        "degC' }, 'water.drift': { 'by': '10 degF' }"));
    CHECK(fault(m, "oil.open").value == Rational(500000));
    CHECK(fault(m, "oil.drift").value == Rational(20000));
    CHECK(fault(m, "water.to_ground").value == Rational(4663, 20));
    CHECK(fault(m, "water.drift").value == Rational(50, 9));  // NIST SP 811: a difference of 10 degF
    CHECK_FALSE(fault(m, "oil.to_supply").value);
    CHECK(m.sensors.front().faults.size() == 6);
}

TEST_CASE("conditions say which faults may arise") {
    const auto of = [](const std::string& under) {
        const Model m = good(with_claim(wired_car, under));
        const Condition& c = last_condition(m);
        CHECK(std::is_sorted(c.faults.begin(), c.faults.end()));
        for (const FaultId f : c.faults) CHECK(m.faults.at(f).signal);
        for (const FaultId f : m.faults.ids())
            if (std::find(c.faults.begin(), c.faults.end(), f) == c.faults.end()) CHECK(!m.faults[f].signal);
        CHECK(c.text == under);
        return names(m, c.faults);
    };
    CHECK(of("any, one fault of K1.welded") == Names{"K1.welded"});
    CHECK(of("healthy, except one fault of K1, W3.open, K1.welded") == Names{"K1.never_pulls", "K1.welded", "W3.open"});
    CHECK(of("any, one fault of two.1") == Names{"two.1.stuck_off", "two.1.stuck_on", "two.1.bounces"});
    CHECK(of("any, one fault of two").size() == 6);
    CHECK(of("any, one fault of X1") == Names{"X1.1.open"});
    CHECK(of("any, one fault of welded") == Names{"K1.welded"});
    CHECK(of("any, one fault of any diode") == Names{"D1.open", "D1.shorted"});
    CHECK(of("any, one fault of any wire.open").size() == 21);
    CHECK(of("any, one fault of W1.open") == Names{"W1.1.open", "W1.2.open", "W1.3.open"});
    CHECK(of("any, one fault of W1.2") == Names{"W1.2.open", "W1.2.to_ground", "W1.2.to_battery"});
    CHECK(of("any, one fault of everything").size() == good(wired_car).faults.size());
}

TEST_CASE("how many faults, from when on, and beside what") {
    const Model m = good(wired_car +
                         ", 'conditions': { 'worn': { 'base': 'healthy', 'faults': { 'of': ['K1', 'any diode'], "
                         "'at_most': 3, 'from_the_start': true } }, 'text': 'any, one fault of K1' }, 'claims': { "
                         "'a': { 'always': 'TRUE', 'under': 'any, up to 2 faults of K1, F1 from the start, bus' },"
                         "'b': { 'always': 'TRUE', 'under': 'healthy, bus, one fault of K1' } }");
    const Condition& worn = m.conditions.at(ConditionId(2));
    CHECK(worn.healthy);
    CHECK(worn.at_most == 3);
    CHECK(worn.from_the_start);
    CHECK(worn.faults.size() == 4);
    CHECK(m.conditions.at(ConditionId(3)).at_most == 1);
    CHECK_FALSE(m.conditions.at(ConditionId(3)).from_the_start);
    CHECK(m.conditions.at(ConditionId(3)).faults.size() == 2);
    const auto condition = [&](const char* id) { return m.conditions.at(claim(m, id).condition); };
    CHECK(condition("a").at_most == 2);
    CHECK(condition("a").from_the_start);
    CHECK(names(m, condition("a").faults) == Names{"K1.never_pulls", "K1.welded", "F1.open"});
    REQUIRE(condition("a").holds.size() == 1);
    CHECK(text_of(m, *condition("a").holds[0]) == "bus");
    CHECK(condition("b").healthy);
    CHECK(condition("b").holds.size() == 1);
    CHECK(m.conditions.at(any_condition).faults.empty());
    CHECK(m.conditions.at(any_condition).at_most == 0);
}

TEST_CASE("expressions of claims name faults") {
    const Model m = good(plain_car +
                         ", 'claims': { 'a': { 'always': 'K1.welded -> TRUE' }, 'b': { 'possible': "
                         "'controller.dead', 'under': 'any, controller.resets' } }");
    const Fault& welded = fault(m, "K1.welded");
    REQUIRE(welded.signal);
    CHECK(m.signal(welded.signal).kind == SignalKind::fault);
    CHECK(m.signal(welded.signal).name == "K1.welded");
    CHECK(m.circuit.reset_probe);
    CHECK(m.may_lose_power());
}
