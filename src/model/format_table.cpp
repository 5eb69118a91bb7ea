#include <cstdlib>

#include "model/format.hpp"
#include "model/format_make.hpp"
#include "model/patterns.hpp"

namespace lanyard::model {

using format::choice;
using format::key;
using format::needed;
using format::nested;

namespace {

KeyHelp terminal() {
    return key("terminal", Shape::text, "terminal of the controller's connector; no two may share one", "", R"("A7")");
}

ObjectHelp model_object() {
    auto inputs =
        nested("inputs", Shape::map, {"sensor", "switch", "loop_back", "wired_input"}, "what the controller reads",
               R"({ "oil": { "senses": "oil_pressure" }, "key": "maintained" })", Shape::choice);
    inputs.shorthand_choices = {"maintained", "momentary"};
    auto faults = nested("faults", Shape::fault_map, {"fault"},
                         "what is known about faults of parts, by their names, and events of your own",
                         R"({ "W1.open": { "rate": "2e-6 per h", "test_every": "8760 h" }, "W1.to_battery": "never" })",
                         Shape::choice);
    faults.shorthand_choices = {"never"};
    auto version = needed("lanyard", Shape::version, "version of this format; always 1", "1");
    return {
        "model",
        "model",
        "one controller with one scan period, the engine around it, and claims about them",
        {version, needed("name", Shape::text, "what the car is called in reports", R"("Kestrel")"),
         key("scan", Shape::time, "scan period of the controller", "10 ms", R"("10 ms")"),
         nested("quantities", Shape::map, {"quantity"},
                "physical quantities; the usual ones (engine_speed, oil_pressure, coolant_temperature, "
                "battery_voltage, road_speed, throttle) need no entry",
                R"({ "gearbox_temperature": "-40 .. 200 degC" })", Shape::interval),
         inputs,
         nested("logic", Shape::map, {"logic"}, "named expressions of the controller",
                R"({ "hot": "coolant > 104 degC" })", Shape::expression),
         nested("tables", Shape::map, {"table"}, "tables to look values up in, with one axis or two",
                R"({ "fan_map": { "rows": { "unit": "degC", "at": [80, 95] }, "unit": "%", "cells": [0, 100] } })"),
         nested("outputs", Shape::map, {"output", "duty_output"},
                "what the controller switches; the text alone says when it is on", R"({ "pump": "turning" })",
                Shape::expression),
         nested("relays", Shape::map, {"relay"}, "relays between an output and its loads; the name is its contact",
                R"({ "main_relay": { "pulls_in": "10 ms", "drops_out": "5 ms", "feeds": "injectors" } })"),
         nested("circuit", Shape::object, {"circuit"}, "the wiring: batteries, switches, fuses, relays, loads",
                R"({ "parts": { "battery": "battery", "fan": "load" }, "wires": { "W1": "battery - fan - ground" } })"),
         nested("supply", Shape::object, {"supply"}, "when the controller has power; without it, always",
                R"("ignition AND battery_voltage > 6 V")", Shape::expression),
         nested("engine", Shape::object, {"engine"}, "the engine; without it there are no engine modes",
                R"({ "fires_with": ["injectors", "coils"], "cranks_with": "starter" })"),
         faults,
         nested("conditions", Shape::map, {"condition"}, "named conditions for claims; any and healthy are built in",
                R"({ "hot_day": "coolant_temperature > 90 degC" })", Shape::expression),
         nested("claims", Shape::claim_map, claim_forms(),
                "what is to be proved or refuted; their names are free text of up to 120 characters",
                R"({ "no trip": { "always": "NOT tripped" } })"),
         key("roles", Shape::expression_map,
             "what plays the roles in the rules of a pack: a name, or an expression as in claims", "",
             R"({ "kill_switch": "pit_kill", "ignition_on": "key AND NOT pit_kill" })"),
         key("rule_values", Shape::amount_maps, "rules, each with those of its parameters that have another value here",
             "the pack's values", R"({ "small-boats/fuel-pump-off-when-stopped": { "pump_stop_time": "0.2 s" } })")}};
}

std::vector<ObjectHelp> quantity_objects() {
    auto healthy = nested("healthy", Shape::object, {"healthy_modes", "band"},
                          "its values under the condition healthy: one interval, or one for each engine mode", "",
                          Shape::interval);
    healthy.default_text = "common practice for the usual quantities of an engine, otherwise the whole range";
    healthy.example = R"({ "running": { "within": "25 .. 75 psi", "after": "3 s", "before": "0 .. 75 psi" } })";
    const auto mode = [](const char* name, const char* example) {
        return nested(name, Shape::object, {"band"}, std::string("while the engine is ") + name, example,
                      Shape::interval);
    };
    return {
        {"quantity",
         "quantity",
         "its name means the true value, as claims and the world see it; the text alone is its range",
         {key("range", Shape::interval, "all values that are physically possible; pressures are gauge pressures",
              "only for the usual quantities and those named in the engine section", R"("0 .. 10 bar")"),
          healthy,
          nested("follows", Shape::list, {"line_within", "line_changes"}, "how it follows the machine",
                 R"([{ "when": "engine = running", "changes": "-1 .. 2 degC/s" }])")}},
        {"healthy_modes",
         "set of healthy values by engine mode",
         "a mode that is left out has the whole range",
         {mode("stopped", R"("0 .. 2 psi")"), mode("cranking", R"("0 .. 12 psi")"),
          mode("running", R"("25 .. 75 psi")"), mode("coasting", R"("0 .. 75 psi")")}},
        {"band",
         "healthy interval",
         "times count from firing in running and coasting, and from the last scan in one of these two in stopped and "
         "cranking",
         {needed("within", Shape::interval, "the interval", R"("25 .. 75 psi")"),
          key("after", Shape::time, "from when on it holds", "at once", R"("3 s")"),
          key("before", Shape::interval, "the interval until then", "the whole range", R"("0 .. 75 psi")")}},
        {"line_within",
         "line of values",
         "while the expression is true, the quantity lies within the interval",
         {needed("within", Shape::interval, "the interval", R"("8 .. 11 V")"),
          key("when", Shape::expression,
              "engine mode, positions of switches, loads, outputs and contacts at the previous scan, and the quantity "
              "itself (its value at the previous scan)",
              "always", R"("starter")"),
          choice("under", {"any", "healthy"}, "the condition under which it holds", "any")}},
        {"line_changes",
         "line of changes",
         "while the expression is true, the quantity changes by no less and no more than this",
         {needed("changes", Shape::interval, "change per time", R"("-2 .. 0.5 degC/s")"),
          key("when", Shape::expression, "as for within", "always", R"("engine = running")"),
          choice("under", {"any", "healthy"}, "the condition under which it holds", "any")}},
    };
}

std::vector<ObjectHelp> input_objects() {
    auto kind = choice("switch", {"maintained", "momentary"}, "a hand switch: stays, or springs back", "");
    kind.required = true;
    auto reads = choice("reads", {"plus", "ground"}, "it is on while it has plus, or while it is grounded", "");
    reads.required = true;
    return {
        {"sensor",
         "sensor",
         "measures a physical quantity for the controller",
         {needed("senses", Shape::name, "the quantity", R"("oil_pressure")"),
          key("accuracy", Shape::amount, "the reading lies within this much of the true value", "exact",
              R"("0.1 bar")"),
          key("delay", Shape::time,
              "the reading may lag by this much; the logic may then only compare it with constants", "none",
              R"("50 ms")"),
          terminal()}},
        {"switch",
         "hand switch",
         "logic sees it through its contact; claims see its true position",
         {kind,
          choice("contact", {"normally open", "normally closed"},
                 "normally closed: the controller sees on while the switch is off", "normally open"),
          choice("rests", {"off", "on"}, "where it is while no step of a procedure names it", "off"),
          key("may_be_missed", Shape::flag, "in the scan after a change the old position may still be seen", "false",
              "true"),
          terminal()}},
        {"loop_back",
         "loop-back",
         "reads an output back over a wire, one scan later",
         {needed("reads_back", Shape::name, "the output", R"("prime")"), terminal()}},
        {"wired_input",
         "wired input",
         "reads a node of the wiring; its name is used in paths, and in expressions for what the controller sees",
         {reads,
          choice("pull", {"up", "down"}, "where the input is pulled internally while nothing is connected",
                 "down where it reads plus, up where it reads ground"),
          terminal()}},
    };
}

std::vector<ObjectHelp> logic_objects() {
    auto rows = nested("rows", Shape::object, {"axis"}, "the axis of the first value in table(NAME, x, y)",
                       R"({ "of": "coolant", "at": ["80 degC", "95 degC"] })");
    rows.required = true;
    return {
        {"logic",
         "logic expression",
         "a named expression; the text alone is the expression",
         {needed("is", Shape::expression, "the expression", R"("TON(turning, 6 s) AND oil < 1 bar")"),
          key("retained", Shape::flag, "its timers, latches and counters keep their state without power", "false",
              "true"),
          key("unit", Shape::unit,
              "unit in which a number is shown; needed where a number depends on its own earlier value",
              "that of the values in the expression", R"("degC")")}},
        {"table",
         "table",
         "exact at its points, linear between them, and held at its edges beyond them",
         {rows,
          nested("columns", Shape::object, {"axis"}, "the axis of the second value; left out in tables with one axis",
                 R"({ "of": "road speed", "unit": "km/h", "at": [0, 60] })"),
          key("unit", Shape::unit, "unit of bare numbers in the cells", "none: plain numbers", R"("%")"),
          needed("cells", Shape::cells, "one line for each row, with one cell for each column",
                 R"([["0 %", "0 %"], ["100 %", "40 %"]])")}},
        {"axis",
         "table axis",
         "2 to 256 rising points",
         {key("of", Shape::text, "what it is an axis of; a label for readers only", "", R"("coolant")"),
          key("unit", Shape::unit, "unit of bare numbers", "none: plain numbers", R"("degC")"),
          needed("at", Shape::points, "the points", R"(["80 degC", "95 degC"])")}},
    };
}

std::vector<ObjectHelp> output_objects() {
    const auto feeds =
        key("feeds", Shape::names, "the loads that it feeds", "a load of the same name", R"(["injectors", "coils"])");
    const auto relay =
        key("relay", Shape::name, "the relay whose coil it drives, instead of feeds", "", R"("main_relay")");
    const auto drives = choice("drives", {"high side", "low side", "half bridge"},
                               "instead of feeds: its name is a pin in the wiring, to which it gives plus, ground, or "
                               "plus while it is on and ground while it is off",
                               "");
    const auto gives =
        key("gives", Shape::amount, "the current that such an output can supply", "not known", R"("8 A")");
    return {
        {"output",
         "output",
         "switches on and off; the text alone is what switches it on",
         {needed("on", Shape::expression, "when it is on", R"("turning OR pump_hand")"), feeds, relay, drives, gives,
          terminal()}},
        {"duty_output",
         "duty output",
         "driven by a duty; what it feeds has power while that is above 0",
         {needed("duty", Shape::expression, "the duty in %", R"x("table(fan_map, coolant)")x"), feeds, relay, drives,
          gives, terminal()}},
        {"relay",
         "relay",
         "its name means its contact; one output drives its coil",
         {key("pulls_in", Shape::times, "from coil on to contact closed", "0 s", R"("5 .. 10 ms")"),
          key("drops_out", Shape::times, "from coil off to contact open", "0 s", R"("5 ms")"), feeds}},
        {"supply",
         "supply of the controller",
         "true values, positions of switches, and outputs, loads and contacts at the previous scan; the text alone is "
         "the expression",
         {needed("when", Shape::expression, "when there is supply", R"("ignition AND battery_voltage > 6 V")"),
          key("boots_in", Shape::times, "after a loss the controller stays off for this long", "0 s",
              R"("0 .. 50 ms")")}},
    };
}

std::vector<ObjectHelp> make_objects() {
    std::vector<ObjectHelp> all{model_object()};
    const auto add = [&](std::vector<ObjectHelp> more) {
        for (auto& m : more) all.push_back(std::move(m));
    };
    add(quantity_objects());
    add(input_objects());
    add(logic_objects());
    add(output_objects());
    add(format::circuit_objects());
    add(format::fault_objects());
    all.push_back(format::engine_object());
    add(format::claim_objects());
    for (const auto& p : pattern_table()) all.push_back(p.object);
    format::add_notes(all);
    return all;
}

}  // namespace

void format::add_notes(std::vector<ObjectHelp>& objects) {
    const auto note = key("note", Shape::text, "a comment; not read", "", R"("measured 12 May")");
    for (auto& o : objects) o.keys.push_back(note);
}

const std::vector<ObjectHelp>& format_table() {
    static const std::vector<ObjectHelp> table = make_objects();
    return table;
}

const ObjectHelp& object_help(const std::string& id) {
    for (const auto* table : {&format_table(), &pack_format_table()})
        for (const auto& o : *table)
            if (o.id == id) return o;
    std::abort();  // ids are written by us only
}

}  // namespace lanyard::model
