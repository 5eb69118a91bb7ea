// The section "circuit": parts first, then the wires that name them, then what hangs on what is wired.
#include "model/scopes.hpp"
#include "model/wiring.hpp"

namespace lanyard::model {

namespace {

constexpr const char* chassis = "ground";
constexpr const char* controller = "controller";

// Words that have a meaning in paths belong to nobody else.
void check_reserved(Build& b) {
    for (const char* word : {chassis, controller}) {
        const auto named = b.names.find(word);
        if (named == b.names.end()) continue;
        const Signal* s = !named->second.signal ? nullptr : &b.model.signal(named->second.signal);
        b.reading.error("reserved-name", s == nullptr ? "" : s->pointer, named->second.place,
                        quoted(word) + " cannot be a name in a model with a circuit",
                        std::string(word) == chassis ? "in paths it is the chassis" : "in paths it is the controller",
                        "give it another name");
    }
}

void add_controller(Build& b, Wiring& w, const Place& place) {
    const PartId index = w.add_part({controller, "the controller", "", {}, true, place, "/circuit"});
    w.add_end(index, "controller.plus");
    w.add_end(index, "controller.ground");
    for (const WiredInputId i : b.model.wired_inputs.ids()) {
        const Signal s = b.model.signal(b.model.wired_inputs[i].signal);
        const PartId part = w.add_part({s.name, "a wired input", s.name + ".pin", {}, false, s.place, s.pointer});
        w.add_end(part, s.name + ".pin");
        w.add_wired_input(part, i);
    }
    for (const auto& d : b.drives) {
        const Signal s = b.model.signal(b.model.outputs[d.output].signal);
        const PartId part = w.add_part({s.name, "an output", s.name + ".pin", {}, false, s.place, s.pointer});
        w.add_end(part, s.name + ".pin");
        w.add_drive(part, d);
    }
}

void need_circuit(Build& b) {
    const auto say = [&](const char* key, const Signal& s) {
        b.reading.error("no-circuit", s.pointer, s.place,
                        quoted(s.name) + " has \"" + key + "\", but this model has no circuit",
                        "what is at its pin is decided by the wires there",
                        R"(add "circuit": { "parts": { "battery": "battery" }, "wires": { ... } })");
    };
    for (const auto& i : b.model.wired_inputs) say("reads", b.model.signal(i.signal));
    for (const auto& d : b.drives) say("drives", b.model.signal(b.model.outputs[d.output].signal));
}

}  // namespace

void build_circuit(Build& b, const ObjectReader& top) {
    b.has_circuit = top.has("circuit");
    const json::Value* v = top.get("circuit");
    if (v == nullptr) {
        if (!b.has_circuit) need_circuit(b);
        return;
    }
    const ObjectReader object(b.reading, object_help("circuit"), *v, top.pointer("circuit"));
    check_reserved(b);
    Wiring w(b);
    add_controller(b, w, object.place());
    for (const auto& e : object.entries("parts")) build_part(b, w, e);
    for (const auto& e : object.entries("wires")) w.read_wire(e);
    build_wire_table(b, object);
    w.finish(object.place(), object.pointer());
}

void build_sources(Build& b) {
    Circuit& c = b.model.circuit;
    if (!c.exists()) return;
    c.magneto_lead = Indexed<Load, NodeId>(like(b.model.loads));
    for (const auto& [load, node] : b.magneto_leads) c.magneto_lead[load] = node;
    for (const auto& [source, text] : b.live_texts) {
        SourceScope scope(b);
        c.sources[source].live = compile_without_memory(b, text, scope, Type::boolean());
    }
}

}  // namespace lanyard::model
