#include "ohm_judge.hpp"

#include <algorithm>
#include <sstream>

#include "model/read.hpp"

namespace lanyard::test::ohm {

using namespace sim;

namespace {

bool any_there(const std::vector<FaultId>& by, const Model& m, const State& s) {
    return std::any_of(by.begin(), by.end(), [&](FaultId f) { return s.broken(m.faults[f].name); });
}

bool conducts_in_program(const Branch& b, const Model& m, const State& s) {
    bool closed = b.kind != BranchKind::stray;
    if (b.kind == BranchKind::pole) closed = s.at(m.name_of(m.switches[b.index].position)) == b.makes;
    if (b.kind == BranchKind::contact) closed = s.at(m.name_of(m.relays[b.index].contact)) == b.makes;
    if (b.kind == BranchKind::output) closed = s.at(m.name_of(m.outputs[b.index].signal)) == b.makes;
    return (closed || any_there(b.closed_by, m, s)) && !any_there(b.opened_by, m, s);
}

Flow flow_of(const Model& m, const Net& net, const State& s) {
    Indexed<Branch, bool> closed, both_ways;
    Indexed<Source, bool> live;
    for (const auto& b : m.circuit.branches) {
        closed.push_back(conducts_in_program(b, m, s));
        both_ways.push_back(any_there(b.closed_by, m, s));
    }
    for (const auto& source : m.circuit.sources)
        live.push_back(std::any_of(net.sources.begin(), net.sources.end(),
                                   [&](const Emf& e) { return e.name == source.name && gives(e, s); }));
    return {m.circuit, closed, both_ways, live};
}

const char* currents_of(const Readings& r) { return r.shorted ? "short" : r.blown ? "fuse gone" : "no short"; }

const std::map<std::string, Reading>& readings_of(const Readings& r, const std::string& kind) {
    if (kind == "works") return r.consumers;
    if (kind == "high") return r.pins;
    return kind == "plus" ? r.plus : r.chassis;
}

// What kind of wiring it is, for the table of what is left in doubt.
std::string shape_of_state(const Net& net, const State& s, const Readings& r) {
    const auto has = [&](Kind kind) {
        return std::any_of(net.elements.begin(), net.elements.end(), [&](const Element& e) { return e.kind == kind; });
    };
    std::string shape = currents_of(r);
    if (has(Kind::diode)) shape += ", diode";
    if (net.sources.size() > 1) shape += ", sources";
    if (std::any_of(net.sources.begin(), net.sources.end(), [](const Emf& e) { return e.minus != 0; }))
        shape += ", minus lead";
    if (!s.faults.empty()) shape += ", fault";
    return shape;
}

class Judge {
 public:
    Judge(std::string shape, Tally& tally) : shape_(std::move(shape)), tally_(tally) {}
    void hold(const std::string& kind, const std::string& name, Fed fed, const std::map<std::string, Reading>& known) {
        const auto found = known.find(name);
        if (found == known.end() || !found->second.judged) return;
        const Reading& r = found->second;
        if (fed.must && !r.surely()) differences.push_back({kind + " " + name, "surely on", r, ""});
        if (!fed.may && !r.surely_not()) differences.push_back({kind + " " + name, "surely off", r, ""});
        if (!r.surely() && !r.surely_not()) return;
        const std::string row = kind + ", " + r.word() + ", " + shape_;
        ++tally_.clear[row];
        if (fed.may && !fed.must) ++tally_.doubted[row];
    }
    std::vector<Difference> differences;

 private:
    std::string shape_;
    Tally& tally_;
};

std::vector<std::string> path_names(const std::string& path) {
    std::vector<std::string> names;
    std::istringstream in(path);
    for (std::string word; in >> word;)
        if (word != "-") names.push_back(word);
    return names;
}

std::string joined(const std::vector<std::string>& names) {
    std::string path;
    for (const auto& n : names) path += (path.empty() ? "" : " - ") + n;
    return path;
}

// Every case that is smaller by one thing.
std::vector<Case> smaller(const Case& c) {
    std::vector<Case> out;
    const auto with = [&](const std::function<void(Case&)>& change) {
        out.push_back(c);
        change(out.back());
    };
    const Json& circuit = c.model["circuit"];
    for (const auto& [name, path] : circuit["wires"].items())
        with([&, n = name](Case& x) { x.model["circuit"]["wires"].erase(n); });
    for (const auto& [name, path] : circuit["parts"].items())
        with([&, n = name](Case& x) { x.model["circuit"]["parts"].erase(n); });
    if (c.model.contains("outputs"))
        for (const auto& [name, path] : c.model["outputs"].items())
            with([&, n = name](Case& x) { x.model["outputs"].erase(n); });
    if (c.model.contains("inputs"))
        for (const auto& [name, input] : c.model["inputs"].items())
            with([&, n = name](Case& x) { x.model["inputs"].erase(n); });
    for (const auto& [name, path] : circuit["wires"].items()) {
        const auto names = path_names(path);
        for (std::size_t k = 0; names.size() > 2 && k < names.size(); ++k)
            with([&, n = name](Case& x) {
                auto fewer = names;
                fewer.erase(fewer.begin() + static_cast<long>(k));
                x.model["circuit"]["wires"][n] = joined(fewer);
            });
    }
    for (const auto& f : c.state.faults) with([&](Case& x) { x.state.faults.erase(f); });
    for (const auto& [lever, on] : c.state.levers)
        if (on) with([&, l = lever](Case& x) { x.state.levers[l] = false; });
    for (const auto& [name, part] : circuit["parts"].items())
        for (const char* key : {"polar", "lets_through", "contact", "live"})
            if (part.is_object() && part.contains(key))
                with([&, n = name](Case& x) { x.model["circuit"]["parts"][n].erase(key); });
    return out;
}

// "to_battery" says which.
bool one_battery(const Case& c) {
    if (std::none_of(c.state.faults.begin(), c.state.faults.end(),
                     [](const std::string& f) { return f.find(".to_battery") != std::string::npos; }))
        return true;
    const Net net = read_net(c.model);
    return std::count_if(net.sources.begin(), net.sources.end(), [](const Emf& e) { return !e.turns; }) == 1;
}

// The same answer to the same question, wrong again.
std::optional<Difference> again(const Case& c, const Difference& d, const Questions& q) {
    try {
        const auto m = program_model(c.model);
        if (!m || !one_battery(c) || m->circuit.at.size() != m->circuit.nodes.size() || m->circuit.nodes.empty())
            return std::nullopt;
        Tally ignored;
        for (const auto& other : judge(c, *m, q, 1, ignored))
            if (other.question == d.question && other.answer == d.answer) return other;
    } catch (const Json::exception&) {
    }
    return std::nullopt;
}

}  // namespace

std::optional<Model> program_model(const Json& model) {
    ReadResult r = read_model("circuit.json", model.dump());
    return std::move(r.model);
}

Answers answers_of(const Model& m, const Net& net, const State& state, bool nodes) {
    const Flow flow = flow_of(m, net, state);
    Answers out;
    for (const BranchId b : m.circuit.branches.ids()) {
        const Branch& branch = m.circuit.branches[b];
        if (branch.kind == BranchKind::load || branch.kind == BranchKind::coil)
            out[{"works", branch.name}] = flow.works(b);
    }
    for (const SourceId s : m.circuit.sources.ids())
        if (m.circuit.sources[s].field_node)
            out[{"works", m.circuit.sources[s].name + ".field"}] = flow.works(m.circuit.sources[s].winding);
    if (m.circuit.supply_plus)
        out[{"works", "controller"}] = flow.is_fed(m.circuit.supply_plus, m.circuit.supply_minus);
    for (const WiredInput& w : m.wired_inputs) {
        const Fed low = flow.input_is_grounded(w.node);
        out[{"high", m.name_of(w.signal)}] = w.pulled_up ? Fed{!low.may, !low.must} : flow.input_has_plus(w.node);
    }
    for (const NodeId n : m.circuit.nodes.ids()) {
        if (!nodes || n == ground_node) continue;
        out[{"plus", m.circuit.nodes[n].name}] = flow.has_plus(n);
        out[{"grounded", m.circuit.nodes[n].name}] = flow.is_grounded(n);
    }
    return out;
}

std::vector<Difference> judge(const Case& c, const Model& m, const Questions& q, unsigned seed, Tally& tally) {
    const Net net = read_net(c.model);
    std::mt19937_64 random(seed);
    ++tally.cases;
    const Readings r = look(net, c.state, q, random);
    if (!r.solved) {
        ++tally.unsolved;
        return {};
    }
    Judge judge(shape_of_state(net, c.state, r), tally);
    for (const auto& [question, fed] : answers_of(m, net, c.state, q.nodes)) {
        const auto& [kind, name] = question;
        judge.hold(kind, name, fed, readings_of(r, kind));
    }
    for (auto& d : judge.differences) d.currents = currents_of(r);
    return judge.differences;
}

Case shrink(Case c, Difference& d, const Questions& q) {
    for (bool smaller_yet = true; smaller_yet;) {
        smaller_yet = false;
        for (const Case& next : smaller(c))
            if (const auto same = again(next, d, q)) {
                c = next;
                d = *same;
                smaller_yet = true;
                break;
            }
    }
    return c;
}

std::string told(const Case& c, const Difference& d) {
    std::ostringstream out;
    out << "  parts: " << c.model["circuit"]["parts"].dump() << "\n";
    if (c.model.contains("outputs") && !c.model["outputs"].empty())
        out << "  outputs: " << c.model["outputs"].dump() << "\n";
    if (c.model.contains("inputs") && !c.model["inputs"].empty())
        out << "  inputs: " << c.model["inputs"].dump() << "\n";
    out << "  wires: " << c.model["circuit"]["wires"].dump() << "\n  on:";
    for (const auto& [lever, on] : c.state.levers)
        if (on) out << " " << lever;
    out << "\n  broken:";
    for (const auto& f : c.state.faults) out << " " << f;
    out << "\n  " << d.question << ": the program says " << d.answer << ", Ohm's law " << d.reading.low << " .. "
        << d.reading.high << " V\n";
    return out.str();
}

}  // namespace lanyard::test::ohm
