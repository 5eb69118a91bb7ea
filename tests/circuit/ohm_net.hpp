// A wiring as electricians see it, read from the text of a model by the words of `lanyard help wiring` alone: nodes,
// what lies between two of them, sources. Shares nothing with the program's own reading.
#pragma once

#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <vector>

namespace lanyard::test::ohm {

using Json = nlohmann::ordered_json;

enum class Kind { wire, fuse, diode, contact, consumer, winding };

// Between two nodes.
struct Element {
    Kind kind = Kind::wire;
    std::string name;  // "W1.2", "master.2", "sel.make", "K1.coil"
    int from = 0, to = 0;
    std::string lever;  // contact: the switch, relay or output that moves it
    std::string pole;   // contact: whose "stuck_on" it obeys
    bool makes = true;
    bool lets_through = true, polar = false;  // consumer
    bool is_piece = false;                    // wire: of a path, no terminal or ground point
};

struct Emf {
    std::string name;
    int plus = 0, minus = 0;
    bool turns = false;  // an alternator: rectified, so no current enters it
    std::string live;    // a lever, "TRUE" or "FALSE"; empty: "TRUE"
    int field = -1;      // node
};

// A wired input of the controller.
struct Pin {
    std::string name;
    int node = 0;
    bool pulled_up = false;
};

struct Net {
    std::vector<std::string> nodes;  // [0] is the chassis
    std::vector<Element> elements;
    std::vector<Emf> sources;
    std::vector<std::string> levers;  // switches, relays, outputs
    std::vector<Pin> pins;
    int supply_plus = -1, supply_minus = 0;  // nodes of the controller; -1: its supply is no matter of the wiring
    int node(const std::string& name);
};

// A good model.
Net read_net(const Json& model);

// Where everything stands, and what is broken, by name.
struct State {
    std::map<std::string, bool> levers;
    std::set<std::string> faults;
    bool at(const std::string& lever) const { return levers.count(lever) != 0 && levers.at(lever); }
    bool broken(const std::string& fault) const { return faults.count(fault) != 0; }
};
bool conducts(const Element& e, const State& s);
bool gives(const Emf& e, const State& s);
// "W1.open", of a wire with several pieces: the pieces; else nothing.
std::vector<std::string> pieces_of(const Net& net, const std::string& fault);
// A fault of which this reading of a wiring knows what it does.
bool knows_fault(const Net& net, const std::string& fault);

}  // namespace lanyard::test::ohm
