#include <cstdlib>

#include "model/format.hpp"

namespace lanyard {

namespace {

KeyHelp key(std::string name, Shape shape, std::string meaning, std::string default_text, std::string example) {
    KeyHelp k;
    k.key = std::move(name);
    k.shape = shape;
    k.meaning = std::move(meaning);
    k.default_text = std::move(default_text);
    k.example = std::move(example);
    return k;
}

KeyHelp needed(std::string name, Shape shape, std::string meaning, std::string example) {
    KeyHelp k = key(std::move(name), shape, std::move(meaning), "", std::move(example));
    k.required = true;
    return k;
}

KeyHelp choice(std::string name, std::vector<std::string> choices, std::string meaning, std::string default_text) {
    KeyHelp k = key(std::move(name), Shape::choice, std::move(meaning), std::move(default_text), "");
    k.example = '"' + choices.front() + '"';
    k.choices = std::move(choices);
    return k;
}

KeyHelp nested(std::string name, Shape shape, std::vector<std::string> objects, std::string meaning,
               std::string example, Shape shorthand = Shape::none) {
    KeyHelp k = key(std::move(name), shape, std::move(meaning), "", std::move(example));
    k.objects = std::move(objects);
    k.shorthand = shorthand;
    return k;
}

KeyHelp terminal() {
    return key("terminal", Shape::text, "terminal of the controller's connector; no two may share one", "", R"("A7")");
}

ObjectHelp model_object() {
    auto inputs = nested("inputs", Shape::map, {"sensor", "switch", "loop_back"}, "what the controller is told",
                         R"({ "oil": { "senses": "oil_pressure" }, "key": "maintained" })", Shape::choice);
    inputs.shorthand_choices = {"maintained", "momentary"};
    auto version = needed("lanyard", Shape::version, "version of this format; always 1", "1");
    return {"model",
            "model",
            "one controller with one scan period, the engine around it, and what is claimed of them",
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
             nested("supply", Shape::object, {"supply"}, "when the controller has power; without it, always",
                    R"("ignition AND battery_voltage > 6 V")", Shape::expression),
             nested("engine", Shape::object, {"engine"}, "the engine; without it there are no engine modes",
                    R"({ "fires_with": ["injectors", "coils"], "cranks_with": "starter" })"),
             nested("conditions", Shape::map, {"condition"}, "named conditions for claims; any and healthy are there",
                    R"({ "hot_day": "coolant_temperature > 90 degC" })", Shape::expression),
             nested("claims", Shape::claim_map, {"always", "response", "possible", "procedure"},
                    "what is to be proved or refuted; the names are free text of up to 120 characters",
                    R"({ "no trip": { "always": "NOT tripped" } })")}};
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
         "its name stands for the true value, as claims and the world see it; the text alone is its range",
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
    return {
        {"sensor",
         "sensor",
         "tells the controller a physical quantity",
         {needed("senses", Shape::name, "the quantity", R"("oil_pressure")"),
          key("accuracy", Shape::amount, "the reading lies within this much of the true value", "exact",
              R"("0.1 bar")"),
          key("delay", Shape::time, "the reading may be this much behind", "none", R"("50 ms")"), terminal()}},
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
         "exact at its points, linear between them, and beyond them as at its edge",
         {rows,
          nested("columns", Shape::object, {"axis"}, "the axis of the second value; left out in tables with one axis",
                 R"({ "of": "road speed", "unit": "km/h", "at": [0, 60] })"),
          key("unit", Shape::unit, "unit of bare numbers in the cells", "none: plain numbers", R"("%")"),
          needed("cells", Shape::cells, "one line for each row, with one cell for each column",
                 R"([["0 %", "0 %"], ["100 %", "40 %"]])")}},
        {"axis",
         "table axis",
         "2 to 256 rising points",
         {key("of", Shape::text, "what stands along it; a label for readers only", "", R"("coolant")"),
          key("unit", Shape::unit, "unit of bare numbers", "none: plain numbers", R"("degC")"),
          needed("at", Shape::points, "the points", R"(["80 degC", "95 degC"])")}},
    };
}

std::vector<ObjectHelp> output_objects() {
    const auto feeds =
        key("feeds", Shape::names, "the loads that it feeds", "a load of its own name", R"(["injectors", "coils"])");
    const auto relay =
        key("relay", Shape::name, "the relay whose coil it drives, instead of feeds", "", R"("main_relay")");
    return {
        {"output",
         "output",
         "switches on and off; the text alone is what switches it on",
         {needed("on", Shape::expression, "when it is on", R"("turning OR pump_hand")"), feeds, relay, terminal()}},
        {"duty_output",
         "duty output",
         "driven by a duty; what it feeds has power while that is above 0",
         {needed("duty", Shape::expression, "the duty in %", R"x("table(fan_map, coolant)")x"), feeds, relay,
          terminal()}},
        {"relay",
         "relay",
         "its name stands for its contact; one output drives its coil",
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

ObjectHelp engine_object() {
    const auto role = [](const char* name, const char* standard) {
        return key(name, Shape::name, std::string("the quantity that takes the part of ") + standard,
                   std::string(standard) + ", if the model speaks of it", '"' + std::string(standard) + '"');
    };
    return {"engine",
            "engine",
            "every number that is not given is common practice, and reported as such",
            {key("fires_with", Shape::names, "loads that must have power for it to fire and run", "none",
                 R"(["injectors", "coils", "fuel_pump"])"),
             key("cranks_with", Shape::name, "load that cranks it", "it may be cranked at any time", R"("starter")"),
             role("speed", "engine_speed"), role("oil_pressure", "oil_pressure"),
             role("battery_voltage", "battery_voltage"), role("coolant_temperature", "coolant_temperature"),
             key("firing_time", Shape::times, "cranking time until it fires", "0.5 .. 2 s", R"("0.5 .. 2 s")"),
             key("coast_down", Shape::times, "from losing a load to standstill", "0.3 .. 3 s", R"("0.3 .. 3 s")"),
             key("catches_above", Shape::amount, "a coasting engine may catch again above this speed", "400 rpm",
                 R"("400 rpm")"),
             key("run_on", Shape::times, "how long it runs on after a load is lost", "0 s", R"("0 .. 1 s")"),
             key("push_start", Shape::flag, "it may be pushed or rolled to start", "false", "true")}};
}

std::vector<ObjectHelp> claim_objects() {
    const auto under = [](const char* standard) {
        return key("under", Shape::condition, "the condition under which it is claimed", standard,
                   R"("healthy, except coolant_temperature within 106 .. 114 degC")");
    };
    return {
        {"condition",
         "condition",
         "restricts to runs in which it holds at every scan; the text alone is the expression, with base any",
         {choice("base", {"any", "healthy"}, "what it is added to", "any"),
          key("holds", Shape::expressions, "what is true at every scan", "", R"("NOT pit_kill")"),
          key("except", Shape::interval_map, "intervals that replace the healthy values of quantities", "",
              R"({ "coolant_temperature": "106 .. 114 degC" })")}},
        {"always",
         "claim of the kind always",
         "true after Drive at every scan of every run",
         {needed("always", Shape::expression, "what is always true", R"("starter -> NOT turning")"), under("any")}},
        {"response",
         "claim of the kind response",
         "whenever one thing has been true for a time, the other is true within a time",
         {needed("whenever", Shape::expression, "what calls for a response", R"("oil_pressure < 1 bar")"),
          needed("then", Shape::expression, "the response", R"("NOT injectors")"),
          needed("within", Shape::time, "the longest time to it", R"("200 ms")"),
          key("for", Shape::time, "how long the first must have been true", "0 s", R"("7 s")"), under("any")}},
        {"possible",
         "claim of the kind possible",
         "some run reaches it",
         {needed("possible", Shape::expression, "what can be reached", R"("engine = running")"), under("healthy")}},
        {"procedure",
         "claim of the kind procedure",
         "for every run in which the driver follows the steps from power-up, the goal is reached",
         {needed("procedure", Shape::steps, "the driver's steps",
                 R"(["set key", "wait 1 s", "hold start until engine = running, at most 4 s"])"),
          needed("ends_with", Shape::expression, "the goal", R"("engine = running")"),
          key("within", Shape::time, "the goal is true by this time of the run", "the end of the last step",
              R"("10 s")"),
          under("healthy")}},
    };
}

std::vector<ObjectHelp> make_table() {
    std::vector<ObjectHelp> all{model_object()};
    const auto add = [&](std::vector<ObjectHelp> more) {
        for (auto& m : more) all.push_back(std::move(m));
    };
    add(quantity_objects());
    add(input_objects());
    add(logic_objects());
    add(output_objects());
    all.push_back(engine_object());
    add(claim_objects());
    const auto note = key("note", Shape::text, "a comment; not read", "", R"("measured 12 May")");
    for (auto& o : all) o.keys.push_back(note);
    return all;
}

}  // namespace

const std::vector<ObjectHelp>& format_table() {
    static const std::vector<ObjectHelp> table = make_table();
    return table;
}

const ObjectHelp& object_help(const std::string& id) {
    for (const auto& o : format_table())
        if (o.id == id) return o;
    std::abort();  // ids are written by us only
}

}  // namespace lanyard
