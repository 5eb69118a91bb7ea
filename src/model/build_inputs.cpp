#include "model/build.hpp"

namespace lanyard::model {

namespace {

void build_switch(Build& b, const Entry& e, const ObjectReader* object) {
    const auto index = b.model.switches.next();
    Switch s;
    if (object == nullptr) {
        s.momentary = e.value->text == "momentary";
    } else {
        s.momentary = object->word("switch") == "momentary";
        s.rests_on = object->word("rests") == "on";
        s.normally_closed = object->word("contact") == "normally closed";
        s.may_be_missed = object->flag("may_be_missed");
        s.terminal = object->word("terminal");
        take_terminal(b, *object, e.name);
    }
    s.position = add_on_off(b, e, SignalKind::position, index);
    s.seen = add_on_off(b, e, SignalKind::seen, index);
    declare(b, e, {Thing::hand_switch, index, s.position});
    b.model.switches.push_back(std::move(s));
}

void read_accuracy(Build& b, const ObjectReader& object, const Signal& signal, Sensor& s) {
    const auto text = object.text("accuracy");
    if (!text) return;
    const auto a = compile_number(*text, signal.unit->dimension, true, "the accuracy", b.reading.out());
    if (a && a->si < 0)
        b.reading.error("negative-accuracy", text->pointer, text->place, "an accuracy must not be negative");
    if (a && a->si >= 0) s.accuracy = a->si;
}

void build_sensor(Build& b, const Entry& e, const ObjectReader& object) {
    const auto index = b.model.sensors.next();
    Sensor s;
    Signal signal{e.name, SignalKind::reading, Type::number({}, true), std::nullopt, index, e.place, e.pointer};
    if (const auto senses = object.text("senses")) s.quantity = quantity_named(b, *senses);
    const Named* quantity = !s.quantity ? nullptr : resolve(b, b.model.name_of(b.model.quantities[s.quantity].signal));
    const bool typed = quantity != nullptr && !quantity->broken;
    if (typed) {
        const Signal& q = b.model.signal(quantity->signal);
        signal.type = q.type;
        signal.unit = q.unit;
        read_accuracy(b, object, q, s);
    }
    if (s.quantity) b.seen_by[s.quantity].push_back(e.name);
    if (const auto delay = object.text("delay")) {
        const auto d = read_time(b, *delay, "the delay", false);
        if (d) s.delay = *d;
    }
    s.terminal = object.word("terminal");
    take_terminal(b, object, e.name);
    s.signal = add_signal(b, std::move(signal));
    declare(b, e, {Thing::sensor, index, s.signal, !typed});
    b.model.sensors.push_back(std::move(s));
}

// What it reads back is looked up when the outputs are known.
void build_loop(Build& b, const Entry& e, const ObjectReader& object) {
    const auto index = b.model.loops.next();
    Loop l;
    l.terminal = object.word("terminal");
    take_terminal(b, object, e.name);
    if (const auto output = object.text("reads_back")) b.read_backs.emplace_back(index, *output);
    l.signal = add_on_off(b, e, SignalKind::loop, index);
    declare(b, e, {Thing::loop, index, l.signal});
    b.model.loops.push_back(std::move(l));
}

// Its node is made with the wiring.
void build_wired(Build& b, const Entry& e, const ObjectReader& object) {
    const auto index = b.model.wired_inputs.next();
    WiredInput w;
    w.on_when_low = object.word("reads") == "ground";
    w.pulled_up = object.has("pull") ? object.word("pull") == "up" : w.on_when_low;
    w.terminal = object.word("terminal");
    take_terminal(b, object, e.name);
    w.signal = add_on_off(b, e, SignalKind::wired, index);
    declare(b, e, {Thing::wired_input, index, w.signal});
    b.model.wired_inputs.push_back(std::move(w));
}

void build_input(Build& b, const Entry& e) {
    if (e.value != nullptr && e.value->kind == json::Kind::string) {
        build_switch(b, e, nullptr);
        return;
    }
    const ObjectHelp* help = nullptr;
    if (e.value != nullptr)
        help = choose_kind(b.reading, {"sensor", "switch", "loop_back", "wired_input"}, *e.value, e.pointer, e.place,
                           "the input " + quoted(e.name));
    if (help == nullptr) {  // the name exists, whatever it was meant to be
        const SignalId id = add_on_off(b, e, SignalKind::loop, {});
        declare(b, e, {Thing::loop, {}, id, true});
        return;
    }
    const ObjectReader object(b.reading, *help, *e.value, e.pointer);
    if (help->id == "sensor")
        build_sensor(b, e, object);
    else if (help->id == "switch")
        build_switch(b, e, &object);
    else if (help->id == "wired_input")
        build_wired(b, e, object);
    else
        build_loop(b, e, object);
}

}  // namespace

void build_inputs(Build& b, const ObjectReader& top) {
    for (const auto& e : top.entries("inputs")) build_input(b, e);
}

void build_loops(Build& b) {
    for (const auto& [index, text] : b.read_backs) {
        Loop& loop = b.model.loops[index];
        const Named* output = resolve(b, text.text);
        const bool right = output != nullptr && output->thing == Thing::output;
        const bool duty = right && b.model.outputs[output->index].is_duty;
        if (right && !duty) {
            loop.output = output->signal;
            continue;
        }
        if (duty) {
            b.reading.error("duty-read-back", text.pointer, text.place,
                            "the output " + quoted(text.text) + " is a duty; a loop-back reads on and off only");
            continue;
        }
        std::string what = "there is no output " + quoted(text.text);
        if (output != nullptr) what = quoted(text.text) + " is " + thing_words(output->thing) + ", not an output";
        b.reading.error("unknown-output", text.pointer, text.place, what, "",
                        suggest_thing(b, text.text, Thing::output));
    }
}

}  // namespace lanyard::model
