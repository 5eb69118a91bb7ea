// Logic and outputs as names; their expressions are compiled when all names are known.
#include "model/build.hpp"

namespace lanyard::model {

namespace {

Definition new_definition(const Entry& e) {
    Definition d;
    d.name = e.name;
    d.place = e.place;
    d.pointer = e.pointer;
    return d;
}

void keep(Build& b, Definition d) {
    b.definition_of[d.signal] = b.definitions.size();
    b.definitions.push_back(std::move(d));
}

// The type that "unit" promises: needed where an expression asks for it before it is compiled.
void read_unit(Build& b, const ObjectReader& object, Definition& d, Signal& s, bool& good) {
    const auto text = object.text("unit");
    if (!text) return;
    d.unit = s.unit = unit_named(b, *text);
    good = good && d.unit;
    if (!d.unit) return;
    s.type = Type::number(d.unit->dimension, !d.unit->dimension.is_temperature() || d.unit->symbol == "K");
    if (!d.unit->dimension.is_temperature()) d.wanted = s.type;
}

void build_one_logic(Build& b, const Entry& e) {
    const auto index = b.model.logic.next();
    Definition d = new_definition(e);
    Logic logic;
    Signal s{e.name, SignalKind::logic, Type::boolean(), std::nullopt, index, e.place, e.pointer};
    bool good = e.value != nullptr;
    if (good && e.value->kind == json::Kind::string) {
        d.text = b.reading.located(*e.value, e.pointer);
    } else if (good) {
        const ObjectReader object(b.reading, object_help("logic"), *e.value, e.pointer);
        good = object.good();
        d.text = object.text("is");
        d.retained = logic.retained = object.flag("retained");
        read_unit(b, object, d, s, good);
    }
    d.signal = logic.signal = add_signal(b, std::move(s));
    declare(b, e, {Thing::logic, index, d.signal, !good, false});
    b.model.logic.push_back(std::move(logic));
    keep(b, std::move(d));
}

void check_feeds(Build& b, const ObjectReader& object, const Entry& e) {
    const char* other = object.has("feeds") ? "feeds" : "relay";
    if (object.has("drives") && object.has(other))
        b.reading.error("feeds-and-relay", e.pointer, e.place,
                        "the output " + quoted(e.name) + R"( has both "drives" and ")" + other + '"',
                        "an output with \"drives\" has its own pin, and the wires at it decide what it feeds",
                        "keep \"drives\", and run a wire from " + quoted(e.name) + " to what it feeds");
    else if (object.has("feeds") && object.has("relay"))
        b.reading.error("feeds-and-relay", e.pointer, e.place,
                        "the output " + quoted(e.name) + R"( has both "feeds" and "relay")",
                        "it either drives the coil of a relay or feeds loads itself",
                        R"(the relay feeds what is connected to its contact: move "feeds" there)");
}

// The pin is a node of the wiring, which is read later.
void keep_drive(Build& b, const ObjectReader& object, OutputId index) {
    const auto how = object.text("drives");
    const auto gives = object.text("gives");
    if (how) b.drives.push_back({index, how->text, how, gives});
    if (gives && !object.has("drives"))
        b.reading.error("idle-key", gives->pointer, gives->place, "\"gives\" needs \"drives\"",
                        "what an output can supply matters only where the wiring is known");
}

void build_output(Build& b, const Entry& e) {
    const auto index = b.model.outputs.next();
    Definition d = new_definition(e);
    Output o;
    const ObjectHelp* help = nullptr;
    bool typed = e.value != nullptr;
    if (typed && e.value->kind == json::Kind::string) {
        d.text = b.reading.located(*e.value, e.pointer);
    } else if (typed) {
        help = choose_kind(b.reading, {"output", "duty_output"}, *e.value, e.pointer, e.place,
                           "the output " + quoted(e.name));
        typed = help != nullptr;
    }
    b.unclear_outputs = b.unclear_outputs || !typed;
    if (help != nullptr) {
        const ObjectReader object(b.reading, *help, *e.value, e.pointer);
        b.unclear_outputs = b.unclear_outputs || !object.good();
        o.is_duty = help->id == "duty_output";
        d.text = object.text(o.is_duty ? "duty" : "on");
        o.terminal = object.word("terminal");
        take_terminal(b, object, e.name);
        check_feeds(b, object, e);
        keep_drive(b, object, index);
    }
    Signal s{e.name, SignalKind::output, Type::boolean(), std::nullopt, index, e.place, e.pointer};
    if (o.is_duty) {
        s.unit = find_unit("%");
        s.type = value_type(*s.unit);
    }
    d.wanted = s.type;
    d.unit = s.unit;
    d.signal = o.signal = add_signal(b, std::move(s));
    declare(b, e, {Thing::output, index, d.signal, !typed});
    b.model.outputs.push_back(std::move(o));
    keep(b, std::move(d));
}

}  // namespace

void build_logic(Build& b, const ObjectReader& top) {
    for (const auto& e : top.entries("logic")) build_one_logic(b, e);
}

void build_outputs(Build& b, const ObjectReader& top) {
    for (const auto& e : top.entries("outputs")) build_output(b, e);
}

}  // namespace lanyard::model
