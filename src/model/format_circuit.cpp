// The objects of the sections "circuit" and "faults".
#include "model/format_make.hpp"

namespace lanyard::model::format {

namespace {

// A part says what it is by one word, which is also its short form.
KeyHelp is(const char* kind) {
    KeyHelp k = choice("is", {kind}, "what the part is", "");
    k.required = true;
    return k;
}

KeyHelp draws() {
    return key("draws", Shape::amount, "the current that it draws at the usual voltage", "not known", R"("12 A")");
}

KeyHelp polar() {
    return key("polar", Shape::flag, "works only with plus at the terminal that a path enters first", "false", "true");
}

ObjectHelp circuit_object() {
    auto parts = nested("parts", Shape::map, part_objects(), "what is wired; the word alone says what a part is",
                        R"({ "F1": { "is": "fuse", "rating": "20 A" }, "battery": "battery" })", Shape::choice);
    for (const auto& o : part_object_table())
        if (o.keys.size() < 2 || !o.keys[1].required) parts.shorthand_choices.push_back(o.keys.front().choices.front());
    auto wires = nested("wires", Shape::map, {"wire"}, "what connects them; the text alone is the path",
                        R"({ "W1": "battery - F1 - master - bus" })", Shape::expression);
    wires.required = true;
    const auto table =
        key("wire_table", Shape::text_map, "what wires of each size may carry, to check the fuses that protect them",
            "33 CFR 183.425, table 5, insulation for 105 degC", R"({ "0.75 mm2": "15 A", "16 AWG": "25 A" })");
    const auto hot =
        key("engine_space", Shape::names, "wires that run where the engine heats them", "none", R"(["W1", "W7"])");
    return {"circuit", "circuit", "the wiring of the car: parts, and wires between them", {parts, wires, table, hot}};
}

ObjectHelp wire_object() {
    return {"wire",
            "wire",
            "a path from one end to the other, through parts with two ends; a new name is a splice. `ground` is the "
            "chassis, `controller.plus` and `controller.ground` feed the controller",
            {needed("path", Shape::expression, "what it connects, in order, with hyphens between",
                    R"("battery - F1 - master - bus")"),
             key("size", Shape::text, "cross-section of the conductor, in mm2 or AWG", "not known", R"("1.5 mm2")")}};
}

std::vector<ObjectHelp> sources() {
    return {
        {"part_battery",
         "battery",
         "gives plus at its name (or NAME.plus); NAME.minus is the chassis unless it is wired",
         {is("battery"), key("voltage", Shape::name, "the quantity that is the supply voltage of everything",
                             "always enough", R"("battery_voltage")")}},
        {"part_alternator",
         "alternator",
         "gives plus at its name (or NAME.plus) while it is live and, where NAME.field is wired, its field is fed; "
         "NAME.minus is the chassis unless it is wired",
         {is("alternator"),
          key("live", Shape::expression, "when it turns fast enough: engine modes, switches, quantities",
              "while the engine is running or coasting", R"("engine_speed > 800 rpm")")}},
        {"part_magneto",
         "magneto",
         "an ignition that powers itself: a load that has power unless the lead at its name is grounded",
         {is("magneto")}},
    };
}

std::vector<ObjectHelp> two_ended() {
    const auto rating = key("rating", Shape::amount, "the current that it is rated for", "not known", R"("20 A")");
    return {
        {"part_fuse", "fuse", "conducts until a short blows it; ends NAME.in, NAME.out", {is("fuse"), rating}},
        {"part_breaker", "breaker", "as a fuse, but can be reset; ends NAME.in, NAME.out", {is("breaker"), rating}},
        {"part_diode",
         "diode",
         "lets plus pass from NAME.anode to NAME.cathode only: from left to right in a path",
         {is("diode")}},
        {"part_load",
         "load",
         "has power with plus at one end and ground at the other: NAME.in, NAME.out",
         {is("load"), draws(),
          key("lets_through", Shape::flag, "plus or ground may reach other parts through it, as through a lamp", "true",
              "false"),
          polar()}},
        {"part_connector",
         "connector",
         "NAME.1, NAME.2 ... are used in paths; ends NAME.1.in, NAME.1.out",
         {is("connector"), needed("terminals", Shape::count, "how many it has, up to 200", "8")}},
        {"part_ground", "ground point", "a bolt on the chassis at its name, which may come loose", {is("ground")}},
    };
}

std::vector<ObjectHelp> contacts() {
    auto hand = choice("switch", {"maintained", "momentary"}, "stays, or springs back", "");
    hand.required = true;
    return {
        {"part_switch",
         "wired switch",
         "a hand switch that the controller does not see. Use NAME in a path, with several poles NAME.1, NAME.2 ...; a "
         "change-over switch has NAME.make and NAME.break (NAME.1.make ...), which share the end NAME.in",
         {is("switch"), hand,
          choice("rests", {"off", "on"}, "where it is while no step of a procedure names it", "off"),
          key("poles", Shape::count, "how many contacts it moves, up to 12", "1", "2"),
          choice("contact", {"make", "break", "change-over"},
                 "closed while the switch is on, closed while it is off, or one of each", "make")}},
        {"part_relay",
         "wired relay",
         "its name means its contact. Use NAME.coil (from 86 to 85), NAME.make (from 30 to 87) and NAME.break (from 30 "
         "to 87a) in paths; ends NAME.30, NAME.87, NAME.87a, NAME.85, NAME.86 as in DIN 72552",
         {is("relay"), key("pulls_in", Shape::times, "from coil on to contact closed", "0 s", R"("5 .. 10 ms")"),
          key("drops_out", Shape::times, "from coil off to contact open", "0 s", R"("5 ms")"),
          key("operates_at", Shape::amount, "the voltage at and above which it is certain to pull in", "any",
              R"("8.4 V")"),
          key("releases_at", Shape::amount, "the voltage at and below which it is certain to drop out", "none",
              R"("1.2 V")"),
          draws(), key("suppressed", Shape::flag, "there is a diode or resistor across the coil", "false", "true"),
          polar()}},
    };
}

}  // namespace

const std::vector<ObjectHelp>& part_object_table() {
    static const std::vector<ObjectHelp> table = [] {
        std::vector<ObjectHelp> all = sources();
        for (const auto& more : {two_ended(), contacts()}) all.insert(all.end(), more.begin(), more.end());
        return all;
    }();
    return table;
}

std::vector<std::string> part_objects() {
    std::vector<std::string> ids;
    for (const auto& o : part_object_table()) ids.push_back(o.id);
    return ids;
}

std::vector<ObjectHelp> circuit_objects() {
    std::vector<ObjectHelp> all{circuit_object()};
    all.push_back(wire_object());
    all.insert(all.end(), part_object_table().begin(), part_object_table().end());
    return all;
}

std::vector<ObjectHelp> fault_objects() {
    return {
        {"fault",
         "fault",
         "what is known about a fault, `K1.welded`, or about all faults of a kind, `any wire.open`; a name that is not "
         "a part is an event of your own, which conditions and claims may use. The word \"never\" rules a fault out",
         {key("rate", Shape::text, "how often it occurs", "not known", R"("2e-6 per h")"),
          key("test_every", Shape::time, "the longest time until it is found", "not known", R"("8760 h")"),
          key("probability", Shape::number, "that it is present, instead of a rate", "not known", "0.02"),
          key("reads", Shape::amount,
              "what the sensor reads with its wire broken, or shorted to ground or to its supply", "anything",
              R"("8 bar")"),
          key("by", Shape::amount,
              "how far the sensor drifts on top of its accuracy; without this key it does not drift", "",
              R"("0.2 bar")"),
          key("takes", Shape::time, "the longest time that a slow relay takes", "ten times its own longest time",
              R"("0.5 s")"),
          key("comes_and_goes", Shape::flag, "it may go away and come back", "false", "true")}},
        {"fault_list",
         "list of faults",
         "which faults may occur in a run, and how many of them",
         {needed("of", Shape::expressions,
                 "faults (`K1.welded`), parts (`K1`), words (`welded`), kinds (`any wire`, `any wire.open`), or "
                 "`everything`",
                 R"(["K1", "any wire.open"])"),
          key("at_most", Shape::count, "how many of them may occur in one run", "1", "2"),
          key("from_the_start", Shape::flag, "they are present from the first scan or never", "false", "true")}},
    };
}

}  // namespace lanyard::model::format
