#include "circuits.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

#include "model/read.hpp"

namespace lanyard::test {

using namespace sim;

namespace {

class Maker {
 public:
    Maker(Dice& dice, const Kinds& kinds) : dice_(dice), kinds_(kinds) {}

    std::string make() {
        parts_ = "'battery': 'battery'";
        wire("battery - n0");
        used_.insert("n0");
        if (kinds_.minus_leads && dice_.one_in(3)) {
            wire("battery.minus - n1");
            if (dice_.one_in(2)) wire("n1 - " + right("n1"));
            used_.insert("n1");
        }
        const auto n = 4 + dice_.below(6);
        for (std::uint64_t k = 0; k < n; ++k) part("p" + std::to_string(k));
        if (dice_.one_in(3)) alternator();
        std::string inputs;
        for (const char* reads : {"plus", "ground"}) {
            const std::string name = std::string("in_") + reads;
            const std::string pull = dice_.one_in(2) ? "" : std::string(", 'pull': '") + any({"up", "down"}) + "'";
            inputs += (inputs.empty() ? "'" : ", '") + name + "': {'reads': '" + reads + "'" + pull + "}";
            wire(name + " - " + splice());
            claims_ += " XOR " + name;
        }
        for (const auto& u : used_) claims_ += " XOR " + u;
        return "'inputs': {" + inputs + "}, 'circuit': {'parts': {" + parts_ + "}, 'wires': {" + wires_ +
               "}}, 'faults': {'any switch.bounces': 'never'}, 'conditions': {'broken': {'base': 'any'" +
               (kinds_.faults ? ", 'faults': {'of': ['everything'], 'at_most': 60, 'from_the_start': true}" : "") +
               "}, 'cracked': {'base': 'any'" +
               (kinds_.faults ? ", 'faults': {'of': ['everything'], 'at_most': 1, 'from_the_start': true}" : "") +
               "}}, 'claims': {'all': {'always': 'in_plus" + claims_ + "', 'under': 'broken'}}";
    }

 private:
    std::string any(const std::vector<std::string>& list) { return dice_.pick(list); }
    std::string splice() {
        const std::string n = "n" + std::to_string(dice_.below(5));
        used_.insert(n);
        return n;
    }
    // The ends of something: two splices, one of them perhaps the chassis.
    std::string left() { return dice_.one_in(6) ? "ground" : splice(); }
    std::string right(const std::string& other) {
        std::string n = dice_.one_in(3) ? "ground" : splice();
        while (n == other) n = splice();
        return n;
    }
    void wire(const std::string& path) {
        wires_ += (wires_.empty() ? "'w" : ", 'w") + std::to_string(count_++) + "': '" + path + "'";
    }
    void add(const std::string& name, const std::string& is) { parts_ += ", '" + name + "': " + is; }
    void between(const std::string& what) {
        const std::string l = left();
        wire(l + " - " + what + " - " + right(l));
    }

    void part(const std::string& name) {
        switch (dice_.below(8)) {
            case 0:
            case 1:
                hand_switch(name);
                break;
            case 2:
                add(name, "'fuse'");
                between(name);
                break;
            case 3:
                add(name, "'diode'");
                between(name);
                break;
            case 4:
                add(name, "'relay'");
                between(name + ".coil");
                break;
            case 5:
                add(name, "'ground'");
                wire(splice() + " - " + name);
                break;
            default:
                load(name);
                break;
        }
    }

    void hand_switch(const std::string& name) {
        if (switches_ == 4) return load(name);
        ++switches_;
        const auto kind = dice_.below(4);
        const std::string is = "{'is': 'switch', 'switch': 'maintained'";
        if (kind < 2) {
            add(name, is + "}");
            between(name);
        } else if (kind == 2) {
            add(name, is + ", 'contact': 'break'}");
            between(name);
        } else {
            add(name, is + ", 'contact': 'change-over'}");
            wire(left() + " - " + name + ".in");
            wire(name + ".make.out - " + splice());
            wire(name + ".break.out - " + splice());
        }
        last_switch_ = name;
    }

    void load(const std::string& name) {
        std::string is = "{'is': 'load'";
        if (kinds_.shut_consumers && dice_.one_in(4)) is += ", 'lets_through': false";
        if (dice_.one_in(4)) is += ", 'polar': true";
        add(name, is + "}");
        between(name);
        claims_ += " XOR " + name;
    }

    void alternator() {
        add("alt", last_switch_.empty() ? "{'is': 'alternator', 'live': 'TRUE'}"
                                        : "{'is': 'alternator', 'live': '" + last_switch_ + "'}");
        wire("alt - " + splice());
    }

    Dice& dice_;
    Kinds kinds_;
    std::string parts_, wires_, claims_, last_switch_;
    std::set<std::string> used_;
    int count_ = 0, switches_ = 0;
};

bool there(const std::vector<FaultId>& by, const Indexed<Fault, bool>& faults) {
    return std::any_of(by.begin(), by.end(), [&](FaultId f) { return faults[f]; });
}

}  // namespace

std::string random_circuit(Dice& dice, const Kinds& kinds) { return Maker(dice, kinds).make(); }

Indexed<Source, bool> Positions::live(const Model& m) const {
    Indexed<Source, bool> out;
    for (const auto& s : m.circuit.sources) {
        bool on = !there(s.dead_by, faults);
        if (s.live && s.live->op == Op::signal) on = on && switches[m.signal(s.live->signal).index];
        out.push_back(on);
    }
    return out;
}

Indexed<Branch, bool> Positions::closed(const Model& m) const {
    Indexed<Branch, bool> out;
    for (const auto& b : m.circuit.branches) {
        bool closed = b.kind != BranchKind::stray;
        if (b.kind == BranchKind::pole) closed = switches[b.index] == b.makes;
        out.push_back((closed || there(b.closed_by, faults)) && !there(b.opened_by, faults));
    }
    return out;
}

Indexed<Branch, bool> Positions::both_ways(const Model& m) const {
    Indexed<Branch, bool> out;
    for (const auto& b : m.circuit.branches) out.push_back(there(b.closed_by, faults));
    return out;
}

Flow Positions::flow(const Model& m) const { return {m.circuit, closed(m), both_ways(m), live(m)}; }

unsigned count_of_positions(const Model& m) { return 1U << m.switches.size(); }

Positions positions(const Model& m, unsigned n) {
    Positions p;
    for (const SwitchId k : m.switches.ids()) p.switches.push_back(((n >> k.index()) & 1U) != 0);
    p.faults.resize(m.faults.size());
    return p;
}

Positions positions(const Model& m, const std::vector<std::string>& switches_on,
                    const std::vector<std::string>& faults) {
    Positions p = positions(m, 0U);
    for (const auto& name : switches_on) {
        INFO(name);
        const auto all = m.switches.ids();
        const auto found =
            std::find_if(all.begin(), all.end(), [&](SwitchId s) { return m.name_of(m.switches[s].position) == name; });
        REQUIRE(found != all.end());
        p.switches[*found] = true;
    }
    for (const auto& name : faults) p.faults[index_of(m.faults, &Fault::name, name)] = true;
    return p;
}

BranchId branch_named(const Model& m, const std::string& name) {
    return index_of(m.circuit.branches, &Branch::name, name);
}

NodeId node_named(const Model& m, const std::string& name) { return index_of(m.circuit.nodes, &Node::name, name); }

}  // namespace lanyard::test
