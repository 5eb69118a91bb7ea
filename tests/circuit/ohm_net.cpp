#include "ohm_net.hpp"

#include <algorithm>

namespace lanyard::test::ohm {

namespace {

std::string word_of(const Json& part) { return part.is_string() ? part.get<std::string>() : part.value("is", ""); }
bool flag(const Json& part, const char* key, bool otherwise) {
    return part.is_object() ? part.value(key, otherwise) : otherwise;
}

std::vector<std::string> split_path(const std::string& path) {
    std::vector<std::string> names;
    std::size_t begin = 0;
    while (true) {
        const std::size_t end = path.find(" - ", begin);
        names.push_back(path.substr(begin, end == std::string::npos ? end : end - begin));
        if (end == std::string::npos) return names;
        begin = end + 3;
    }
}

// What a name in a path stands for: the node at which a path enters, that at which it leaves.
struct Ends {
    int in = 0, out = 0;
};

class Reader {
 public:
    explicit Reader(const Json& model)
        : model_(model),
          parts_(circuit().value("parts", Json::object())),
          inputs_(model.value("inputs", Json::object())),
          outputs_(model.value("outputs", Json::object())) {}

    Net read() {
        net_.nodes = {"ground"};
        note_mentioned();
        for (const auto& [name, part] : parts_.items()) add_part(name, part);
        for (const auto& [name, output] : outputs_.items()) add_output(name, output);
        if (mentioned("controller.plus")) add_controller();
        for (const auto& [name, input] : inputs_.items()) add_input(name, input);
        for (const auto& [name, wire] : circuit()["wires"].items()) add_wire(name, path_of(wire));
        return std::move(net_);
    }

 private:
    const Json& circuit() const { return model_["circuit"]; }
    static std::string path_of(const Json& wire) {
        return wire.is_string() ? wire.get<std::string>() : wire["path"].get<std::string>();
    }
    void note_mentioned() {
        for (const auto& wire : circuit()["wires"])
            for (const auto& name : split_path(path_of(wire))) mentioned_.insert(name);
    }
    bool mentioned(const std::string& name) const { return mentioned_.count(name) != 0; }

    // The far end of a supply, that is the chassis unless it is wired.
    int other_end(const std::string& name) { return mentioned(name) ? net_.node(name) : 0; }
    Element& add(Kind kind, const std::string& name, int from, int to) {
        net_.elements.push_back({kind, name, from, to, "", "", true, true, false, false});
        return net_.elements.back();
    }
    // Two ends with names of their own, and perhaps a second name each.
    Element& between(Kind kind, const std::string& name, const std::string& in, const std::string& out) {
        ends_[name] = {net_.node(in), net_.node(out)};
        return add(kind, name, net_.node(in), net_.node(out));
    }
    Element& plain(Kind kind, const std::string& name) { return between(kind, name, name + ".in", name + ".out"); }
    void contact(const std::string& name, const std::string& in, const std::string& out, const std::string& lever,
                 const std::string& pole, bool makes) {
        Element& e = between(Kind::contact, name, in, out);
        e.lever = lever;
        e.pole = pole;
        e.makes = makes;
    }

    void add_part(const std::string& name, const Json& part) {
        const std::string is = word_of(part);
        if (is == "battery" || is == "alternator") return add_source(name, part, is == "alternator");
        if (is == "fuse" || is == "breaker") plain(Kind::fuse, name);
        if (is == "diode") between(Kind::diode, name, name + ".anode", name + ".cathode");
        if (is == "load" || is == "magneto") {
            if (is == "magneto") return;
            Element& e = plain(Kind::consumer, name);
            e.lets_through = flag(part, "lets_through", true);
            e.polar = flag(part, "polar", false);
        }
        if (is == "connector")
            for (int k = 1; k <= part["terminals"].get<int>(); ++k) plain(Kind::wire, name + "." + std::to_string(k));
        if (is == "ground") add(Kind::wire, name, net_.node(name), 0);
        if (is == "switch") add_switch(name, part);
        if (is == "relay") add_relay(name, part);
    }

    void add_source(const std::string& name, const Json& part, bool turns) {
        Emf s{name, net_.node(name), other_end(name + ".minus"), turns, "", -1};
        alias_[name + ".plus"] = s.plus;
        if (part.is_object()) s.live = part.value("live", "");
        if (mentioned(name + ".field")) {
            s.field = net_.node(name + ".field");
            add(Kind::winding, name + ".field", s.field, s.minus).polar = true;
        }
        net_.sources.push_back(s);
    }

    void add_switch(const std::string& name, const Json& part) {
        net_.levers.push_back(name);
        const int poles = part.value("poles", 1);
        const std::string contact_kind = part.value("contact", "make");
        for (int k = 1; k <= poles; ++k) {
            const std::string pole = poles == 1 ? name : name + "." + std::to_string(k);
            if (contact_kind == "change-over") {
                contact(pole + ".make", pole + ".in", pole + ".make.out", name, pole, true);
                contact(pole + ".break", pole + ".in", pole + ".break.out", name, pole, false);
                alias_[pole + ".make.in"] = alias_[pole + ".break.in"] = net_.node(pole + ".in");
            } else {
                contact(pole, pole + ".in", pole + ".out", name, pole, contact_kind == "make");
            }
        }
    }

    void add_relay(const std::string& name, const Json& part) {
        net_.levers.push_back(name);
        between(Kind::consumer, name + ".coil", name + ".86", name + ".85").polar = flag(part, "polar", false);
        contact(name + ".make", name + ".30", name + ".87", name, "", true);
        contact(name + ".break", name + ".30", name + ".87a", name, "", false);
    }

    void add_output(const std::string& name, const Json& output) {
        if (!output.is_object() || !output.contains("drives")) return;
        net_.levers.push_back(name);
        const std::string drives = output["drives"];
        const int pin = net_.node(name);
        const auto stage = [&](const std::string& part, int to, bool makes) {
            Element& e = add(Kind::contact, name + part, to, pin);
            e.lever = name;
            e.makes = makes;
        };
        if (drives != "low side") stage(".upper", net_.node("controller.plus"), true);
        if (drives == "low side") stage(".lower", other_end("controller.ground"), true);
        if (drives == "half bridge") stage(".lower", other_end("controller.ground"), false);
    }

    // What it draws is no matter of the wiring.
    void add_controller() {
        net_.supply_plus = net_.node("controller.plus");
        net_.supply_minus = other_end("controller.ground");
        Element& e = add(Kind::consumer, "controller", net_.supply_plus, net_.supply_minus);
        e.lets_through = false;
        e.polar = true;
    }

    void add_input(const std::string& name, const Json& input) {
        if (!input.is_object() || !input.contains("reads")) return;
        const std::string pull = input.value("pull", input["reads"] == "ground" ? "up" : "down");
        net_.pins.push_back({name, net_.node(name), pull == "up"});
    }

    Ends ends_of(const std::string& name) {
        if (const auto e = ends_.find(name); e != ends_.end()) return e->second;
        if (const auto a = alias_.find(name); a != alias_.end()) return {a->second, a->second};
        const int node = net_.node(name);
        return {node, node};
    }
    void add_wire(const std::string& name, const std::string& path) {
        const auto names = split_path(path);
        int here = ends_of(names.front()).out;
        for (std::size_t k = 1; k < names.size(); ++k) {
            const Ends next = ends_of(names[k]);
            add(Kind::wire, names.size() == 2 ? name : name + "." + std::to_string(k), here, next.in).is_piece = true;
            here = next.out;
        }
    }

    const Json& model_;
    Json parts_, inputs_, outputs_;
    Net net_;
    std::set<std::string> mentioned_;
    std::map<std::string, Ends> ends_;
    std::map<std::string, int> alias_;
};

}  // namespace

int Net::node(const std::string& name) {
    const auto found = std::find(nodes.begin(), nodes.end(), name);
    if (found != nodes.end()) return static_cast<int>(found - nodes.begin());
    nodes.push_back(name);
    return static_cast<int>(nodes.size()) - 1;
}

Net read_net(const Json& model) { return Reader(model).read(); }

bool conducts(const Element& e, const State& s) {
    if (s.broken(e.name + ".open") || s.broken(e.name + ".lost")) return false;
    if (e.kind != Kind::contact) return true;
    bool on = s.at(e.lever);
    if (!e.pole.empty() && s.broken(e.pole + ".stuck_on")) on = true;
    if (!e.pole.empty() && s.broken(e.pole + ".stuck_off")) on = false;
    return on == e.makes;
}

bool gives(const Emf& e, const State& s) {
    if (s.broken(e.name + ".dead") || e.live == "FALSE") return false;
    return e.live.empty() || e.live == "TRUE" || s.at(e.live);
}

std::vector<std::string> pieces_of(const Net& net, const std::string& fault) {
    const std::size_t point = fault.rfind('.');
    if (fault.substr(point + 1) != "open" || fault.find('.') != point) return {};
    const std::string wire = fault.substr(0, point + 1);
    std::vector<std::string> pieces;
    for (const auto& e : net.elements)
        if (e.kind == Kind::wire && e.is_piece && e.name.rfind(wire, 0) == 0) pieces.push_back(e.name);
    return pieces;
}

bool knows_fault(const Net& net, const std::string& fault) {
    if (!pieces_of(net, fault).empty()) return true;
    const std::size_t point = fault.rfind('.');
    const std::string part = fault.substr(0, point), word = fault.substr(point + 1);
    for (const auto& s : net.sources)
        if (s.name == part && word == "dead") return true;
    for (const auto& e : net.elements) {
        if (e.pole == part && !part.empty() && (word == "stuck_on" || word == "stuck_off")) return true;
        if (e.name != part) continue;
        if (word == "open" || word == "lost") return e.kind != Kind::contact && e.kind != Kind::winding;
        if (word == "shorted") return e.kind == Kind::diode;
        if (word == "to_ground" || word == "to_battery") return e.kind == Kind::wire;
    }
    return false;
}

}  // namespace lanyard::test::ohm
