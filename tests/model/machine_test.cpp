// Inputs, logic, tables, outputs, relays, loads.
#include <catch2/catch.hpp>

#include "helpers.hpp"

using namespace lanyard::model;
using namespace lanyard::test;

namespace {

Rational ms(long n) { return Rational(n) / 1000; }

}  // namespace

TEST_CASE("scan period: exact, 10 ms unless said") {
    CHECK(good("'note': 'x'").scan == ms(10));
    CHECK(good("'scan': '2.5 ms'").scan == Rational(1, 400));
}

TEST_CASE("switches, long and short") {
    const Model m = good(
        "'inputs': { 'key': 'maintained', 'start': 'momentary', 'kill': { 'switch': 'maintained', 'contact': 'normally "
        "closed', 'rests': 'on', 'may_be_missed': true, 'terminal': 'A1' } }");
    REQUIRE(m.switches.size() == 3);
    CHECK_FALSE(m.switches.front().momentary);
    CHECK(m.switches[SwitchId(1)].momentary);
    CHECK_FALSE(m.switches[SwitchId(1)].normally_closed);
    CHECK(m.switches[SwitchId(2)].normally_closed);
    CHECK(m.switches[SwitchId(2)].rests_on);
    CHECK(m.switches[SwitchId(2)].may_be_missed);
    CHECK(m.switches[SwitchId(2)].terminal == "A1");
    CHECK(m.signal(m.switches[SwitchId(2)].position).kind == SignalKind::position);
    CHECK(m.signal(m.switches[SwitchId(2)].seen).kind == SignalKind::seen);
    CHECK(m.name_of(m.switches[SwitchId(2)].seen) == "kill");
}

TEST_CASE("logic sees a switch through its contact, claims see its position") {
    const Model m = good(
        "'inputs': { 'kill': 'maintained' }, 'logic': { 'a': 'NOT kill' }, 'claims': { 'c': { 'always': 'a OR kill' } "
        "}");
    CHECK(m.signal(m.logic.front().is->args[0]->signal).kind == SignalKind::seen);
    const auto& body = std::get<Always>(claim(m, "c").body).body;
    CHECK(m.signal(body->args[1]->signal).kind == SignalKind::position);
}

TEST_CASE("sensors: accuracy is a difference") {
    const Model m = good(
        "'inputs': { 'clt': { 'senses': 'coolant_temperature', 'accuracy': '9 degF', 'delay': '50 ms' },"
        "'oil': { 'senses': 'oil_pressure' } }");
    CHECK(m.sensors.front().accuracy == 5);  // 9 degF apart is 5 K apart: NIST SP 811
    CHECK(m.sensors.front().delay == ms(50));
    CHECK(m.sensors[SensorId(1)].accuracy == 0);
    CHECK(m.signal(m.sensors.front().signal).unit->symbol == "degF");  // as the file has it
    CHECK(m.signal(m.sensors.front().signal).type == m.signal(m.quantities.front().signal).type);
}

TEST_CASE("a standard quantity is shown in the unit that the file writes, with that unit's round numbers") {
    const auto unit_of = [](const Model& m, QuantityId q) { return m.signal(m.quantities[q].signal).unit->symbol; };
    const Model bar = good(
        "'inputs': { 'oil': { 'senses': 'oil_pressure' }, 'boost': { 'senses': 'boost_pressure' } },"
        "'quantities': { 'boost_pressure': '0 .. 200 kPa' }, 'logic': { 'low': 'boost < 50 kPa OR oil < 1.5 bar' }");
    for (const QuantityId q : bar.quantities.ids()) {
        const bool oil = bar.name_of(bar.quantities[q].signal) == "oil_pressure";
        CHECK(unit_of(bar, q) == (oil ? "bar" : "kPa"));
        if (oil) CHECK(bar.quantities[q].range.hi == 700'000);  // 7 bar
    }
    const Model none = good("'inputs': { 'oil': { 'senses': 'oil_pressure' } }");
    CHECK(unit_of(none, QuantityId(0)) == "psi");
}

TEST_CASE("a quantity that no input senses is read exactly, also by its standard name") {
    const Model m = good("'logic': { 'a': 'oil_pressure < 1 bar' }");
    CHECK(m.signal(m.logic.front().is->args[0]->signal).kind == SignalKind::quantity);
}

TEST_CASE("outputs, duties, loops and what they feed") {
    const Model m = good(
        "'inputs': { 'key': 'maintained', 'loop': { 'reads_back': 'main' } },"
        "'outputs': { 'main': { 'on': 'key', 'relay': 'r', 'terminal': 'B1' }, 'fan': { 'duty': '30 %' }, 'pump': "
        "'loop "
        "AND fan > 10 %', 'both': { 'on': 'key', 'feeds': ['x', 'both'] }, 'other': { 'on': 'loop', 'feeds': 'x' } },"
        "'relays': { 'r': { 'pulls_in': '10 ms', 'drops_out': '2 .. 5 ms', 'feeds': ['injectors', 'coils'] } },"
        "'claims': { 'c': { 'possible': 'fan > 20 % AND x AND r' } }");
    CHECK(m.loops.front().output == m.outputs.front().signal);
    CHECK(m.relays.front().coil == m.outputs.front().signal);
    CHECK(m.relays.front().pulls_in == Interval{0, ms(10)});
    CHECK(m.relays.front().drops_out == Interval{ms(2), ms(5)});
    CHECK(m.outputs[OutputId(1)].is_duty);
    CHECK(m.signal(m.outputs[OutputId(1)].signal).type.kind == TypeKind::number);
    std::vector<std::string> loads;
    for (const auto& l : m.loads) {
        std::string text = m.name_of(l.signal) + " <-";
        for (const SignalId f : l.feeders) text += " " + m.name_of(f);
        loads.push_back(text);
    }
    CHECK(loads == std::vector<std::string>{"fan <- fan", "pump <- pump", "x <- both other", "both <- both",
                                            "injectors <- r", "coils <- r"});
    const auto& body = std::get<Possible>(claim(m, "c").body).body;
    CHECK(m.signal(body->args[0]->args[0]->signal).kind == SignalKind::output);  // not the load of that name
}

TEST_CASE("tables: units beside or in the numbers") {
    const Model m = good(
        "'tables': { 'one': { 'rows': { 'at': [0, 1.5] }, 'cells': ['1 bar', '200 kPa'] }, 'two': { 'rows': { 'of': "
        "'coolant', 'unit': 'degC', 'at': [80, '212 degF'] }, 'columns': { 'unit': 'km/h', 'at': [0, 36] }, 'unit': "
        "'%', "
        "'cells': [[0, 10], [20, 30.5]] }, 'gap': { 'rows': { 'at': ['1 K', '2 K'] }, 'cells': [1, 2] } }");
    const Table& one = m.tables.front();
    CHECK(one.rows == std::vector<Rational>{0, Rational(3, 2)});
    CHECK(one.columns.empty());
    CHECK(one.cells == std::vector<std::vector<Rational>>{{100000}, {200000}});
    const Table& two = m.tables[TableId(1)];
    CHECK(two.rows[1] == Rational(7463, 20));  // 212 degF = 100 degC = 373.15 K
    CHECK(two.columns[1] == 10);               // 36 km/h = 10 m/s
    CHECK(two.cells[1][1] == Rational(61, 2));
    REQUIRE(two.shape.axes.size() == 2);
    CHECK_FALSE(two.shape.axes[0].difference);
    CHECK(m.tables[TableId(2)].shape.axes[0].difference);
}

TEST_CASE("definitions come in an order of evaluation") {
    const Model m = good(
        "'inputs': { 'key': 'maintained', 'loop': { 'reads_back': 'out' } },"
        "'logic': { 'c': 'b AND out', 'b': 'a OR previous(c)', 'a': 'key AND loop' }, 'outputs': { 'out': 'b' }");
    std::vector<std::string> names;
    for (const SignalId id : m.order) names.push_back(m.name_of(id));
    CHECK(names == std::vector<std::string>{"a", "b", "out", "c"});
    CHECK(text_of(m, *definition(m, m.order[1])) == "a OR previous(c)");
}

TEST_CASE("types travel against the order of the file and through previous()") {
    const Model m = good(
        "'inputs': { 'oil': { 'senses': 'oil_pressure' }, 'key': 'maintained' },"
        "'logic': { 'rising': 'mean > before', 'before': 'previous(mean)', 'mean': 'oil / 2', 'flip': 'previous(flip) "
        "XOR "
        "key', 'ramp': { 'is': 'previous(ramp) + 1 %', 'unit': '%' }, 'warmth': { 'is': 'coolant_temperature + 5 K', "
        "'unit': 'degF' }, 'gap': 'coolant_temperature - 20 K > 3 degC' }");
    const auto type = [&](const char* name) { return signal_of_kind(m, name, SignalKind::logic)->type; };
    const auto unit = [&](const char* name) { return signal_of_kind(m, name, SignalKind::logic)->unit->symbol; };
    CHECK(type("before") == type("mean"));
    CHECK(unit("mean") == "psi");
    CHECK(type("rising") == Type::boolean());
    CHECK(type("flip") == Type::boolean());
    CHECK(unit("ramp") == "%");
    CHECK(unit("warmth") == "degF");
    CHECK_FALSE(type("warmth").difference);
}

TEST_CASE("elements know their owner") {
    const Model m = good(
        "'inputs': { 'key': 'maintained' }, 'logic': { 'a': 'TON(key, 1 s)', 'b': { 'is': 'SR(key, a)', 'retained': "
        "true "
        "} }, 'conditions': { 'c': 'TON(key, 1 s)' }, 'claims': { 'x': { 'always': 'R_TRIG(b) -> a', 'under': 'c' } }");
    REQUIRE(m.elements.size() == 4);
    const auto& a = m.elements[m.logic.front().is->element];
    CHECK((a.op == Op::ton && !a.observer && !a.retained));
    const auto& b = m.elements[m.logic[LogicId(1)].is->element];
    CHECK((b.op == Op::sr && !b.observer && b.retained));
    const auto& c = m.elements[m.conditions[ConditionId(2)].holds[0]->element];
    CHECK((c.op == Op::ton && c.observer && !c.retained));
    CHECK(m.logic[LogicId(1)].retained);
}

TEST_CASE("notes may stand everywhere") {
    const Model m = good(
        "'note': 'a', 'inputs': { 'note': 'b', 'key': { 'switch': 'maintained', 'note': 'c' } }, 'logic': { 'note': "
        "'d' },"
        "'claims': { 'note': 'e', 'x': { 'possible': 'key', 'note': 'f' } }");
    CHECK(m.switches.size() == 1);
    CHECK(m.logic.empty());
    CHECK(claim(m, "x").note == "f");
}

TEST_CASE("the model knows its file") {
    const auto result = read_model("cars/test.json", model_text("'scan': '5 ms'"));
    REQUIRE(result.model);
    CHECK(result.model->name == "test");
    CHECK(result.model->source.name() == "cars/test.json");
    CHECK(result.model->sha256.size() == 64);
    CHECK(result.model->powered);
    CHECK(result.model->conditions.size() == 2);
}
