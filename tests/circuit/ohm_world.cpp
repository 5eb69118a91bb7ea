#include "ohm_world.hpp"

#include <algorithm>
#include <cmath>

namespace lanyard::test::ohm {

namespace {

constexpr double short_current = 300;  // A
constexpr double probe_ohm = 1e4;

double between(std::mt19937_64& random, double low, double high) {
    const double share = static_cast<double>(random() >> 11U) * 0x1p-53;
    return low * std::pow(high / low, share);
}

// A draw of all resistances.
struct Draw {
    std::vector<double> elements, sources, strays, pulls;
};

Draw draw_of(const Net& net, std::mt19937_64& random) {
    Draw d;
    const double most = random() % 2 == 0 ? 1e4 : 50;
    const auto metal = [&] { return between(random, 3e-7, 3e-4); };
    for (const auto& e : net.elements)
        d.elements.push_back(e.kind == Kind::consumer || e.kind == Kind::winding ? between(random, 5, most) : metal());
    for (std::size_t k = 0; k < net.sources.size(); ++k) d.sources.push_back(metal());
    for (std::size_t k = 0; k < net.elements.size(); ++k) d.strays.push_back(metal());
    for (std::size_t k = 0; k < net.pins.size(); ++k) d.pulls.push_back(between(random, 1e3, 1e5));
    return d;
}

// The network, and which resistor is which fuse.
struct Wired {
    Network n;
    std::map<std::size_t, std::size_t> fuse_at;  // resistor, element
};

Wired network_of(const Net& net, const State& state, const Draw& d, const std::set<std::size_t>& gone) {
    Wired w;
    w.n.nodes = static_cast<int>(net.nodes.size());
    for (std::size_t k = 0; k < net.elements.size(); ++k) {
        const Element& e = net.elements[k];
        if (state.broken(e.name + ".to_ground")) w.n.resistors.push_back({e.to, 0, d.strays[k]});
        if (state.broken(e.name + ".to_battery") && !net.sources.empty())
            w.n.resistors.push_back({e.to, net.sources[0].plus, d.strays[k]});
        if (!conducts(e, state) || gone.count(k) != 0 || (e.kind == Kind::consumer && !e.lets_through)) continue;
        if (e.kind == Kind::diode && !state.broken(e.name + ".shorted")) {
            w.n.diodes.push_back({e.from, e.to, d.elements[k]});
            continue;
        }
        if (e.kind == Kind::fuse) w.fuse_at[w.n.resistors.size()] = k;
        w.n.resistors.push_back({e.from, e.to, d.elements[k]});
    }
    for (std::size_t k = 0; k < net.sources.size(); ++k) {
        const Emf& s = net.sources[k];
        if (!gives(s, state)) continue;
        if (s.turns) {  // its diodes let no current in
            const int inside = w.n.nodes++;
            w.n.diodes.push_back({inside, s.plus, d.sources[k]});
            w.n.batteries.push_back({inside, s.minus, 12, d.sources[k]});
        } else {
            w.n.batteries.push_back({s.plus, s.minus, 12, d.sources[k]});
        }
    }
    return w;
}

double across(const std::vector<double>& v, int a, int b) {
    return v[static_cast<std::size_t>(a)] - v[static_cast<std::size_t>(b)];
}

// All that is to be read of one draw.
class Looker {
 public:
    Looker(const Net& net, const State& state, const Questions& q, const Draw& d, Readings& out)
        : net_(net), state_(state), q_(q), draw_(d), out_(out) {}

    void settle(const std::set<std::size_t>& gone) {
        if (!seen_.insert(gone).second) return;
        const Wired w = network_of(net_, state_, draw_, gone);
        const auto v = voltages_of(w.n);
        if (!v) {
            out_.solved = false;
            return;
        }
        bool calm = true;
        for (const auto& [resistor, fuse] : w.fuse_at) {
            const Resistor& r = w.n.resistors[resistor];
            if (std::fabs(across(*v, r.a, r.b)) / r.ohm < short_current) continue;
            calm = false;
            std::set<std::size_t> more = gone;
            more.insert(fuse);
            settle(more);
        }
        if (!calm) return;
        out_.blown = out_.blown || !gone.empty();
        note_short(w.n, *v);
        read_consumers(w.n, *v);
        read_pins(w.n);
        if (q_.nodes) read_nodes(w.n);
    }

 private:
    void note_short(const Network& n, const std::vector<double>& v) {
        for (const auto& b : n.batteries)
            if (std::fabs(across(v, b.plus, b.minus) - b.volt) / b.ohm > short_current) out_.shorted = true;
    }

    static double seen_by(const Element& e, double volt) { return e.polar ? volt : std::fabs(volt); }

    void read_consumers(const Network& n, const std::vector<double>& v) {
        for (std::size_t k = 0; k < net_.elements.size(); ++k) {
            const Element& e = net_.elements[k];
            if (e.kind != Kind::consumer && e.kind != Kind::winding) continue;
            Reading& r = out_.consumers[e.name];
            if (!conducts(e, state_)) {
                r.add(0);
                continue;
            }
            // One that hands nothing on to others lives on what it draws itself all the same.
            for (const double ohm : {probe_ohm, draw_.elements[k]})
                r.add(seen_by(e, e.lets_through ? across(v, e.from, e.to) : probe(n, e.from, e.to, ohm)));
        }
    }

    void read_pins(const Network& n) {
        if (net_.supply_plus < 0) return;
        for (std::size_t k = 0; k < net_.pins.size(); ++k) {
            const Pin& pin = net_.pins[k];
            Network pulled = n;
            pulled.resistors.push_back(
                {pin.pulled_up ? net_.supply_plus : net_.supply_minus, pin.node, draw_.pulls[k]});
            const auto v = voltages_of(pulled);
            if (!v) out_.solved = false;
            if (!v) return;
            Reading& r = out_.pins[pin.name];
            r.off_below = 1;
            r.add(across(*v, pin.node, net_.supply_minus));
        }
    }

    double probe(Network n, int a, int b, double ohm) {
        n.resistors.push_back({a, b, ohm});
        const auto v = voltages_of(n);
        if (!v) out_.solved = false;
        return v ? across(*v, a, b) : 0;
    }

    // All that hangs on the chassis through metal, diodes and sources.
    std::set<int> on_chassis(const Network& n) const {
        std::set<int> on{0};
        for (std::size_t size = 0; size != on.size();) {
            size = on.size();
            const auto join = [&](int a, int b) {
                if (on.count(a) + on.count(b) == 1) on.insert({a, b});
            };
            for (const auto& r : n.resistors)
                if (r.ohm < 1) join(r.a, r.b);
            for (const auto& d : n.diodes) join(d.anode, d.cathode);
            for (const auto& b : n.batteries) join(b.plus, b.minus);
        }
        return on;
    }

    void read_nodes(const Network& n) {
        const std::set<int> tied = on_chassis(n);
        std::set<int> returns{0};
        for (const auto& s : net_.sources)
            if (gives(s, state_)) returns.insert(s.minus);
        for (int node = 1; node < static_cast<int>(net_.nodes.size()); ++node) {
            const std::string& name = net_.nodes[static_cast<std::size_t>(node)];
            double by_any = -100, by_cut_off = -100;
            for (const int r : returns) {
                const double v = r == node ? 0 : probe(n, node, r, probe_ohm);
                by_any = std::max(by_any, v);
                if (r == 0 || tied.count(r) + tied.count(node) == 0) by_cut_off = std::max(by_cut_off, v);
            }
            out_.plus[name].low = std::min(out_.plus[name].low, by_any);
            out_.plus[name].high = std::max(out_.plus[name].high, by_cut_off);
            Network pulled = n;
            pulled.batteries.push_back({node, 0, 12, probe_ohm});
            const auto v = voltages_of(pulled);
            if (!v) continue;
            const double volt = across(*v, node, 0);
            Reading& ground = out_.chassis[name];
            ground.add(12 - volt);
            ground.judged = ground.judged && volt > -0.1;
        }
    }

    const Net& net_;
    const State& state_;
    const Questions& q_;
    const Draw& draw_;
    Readings& out_;
    std::set<std::set<std::size_t>> seen_;
};

// A wire of several pieces that is broken is so in one of them, nobody knows in which.
std::vector<State> which_pieces(const Net& net, const State& state) {
    for (const auto& fault : state.faults) {
        std::vector<State> ways;
        for (const std::string& piece : pieces_of(net, fault)) {
            ways.push_back(state);
            ways.back().faults.erase(fault);
            ways.back().faults.insert(piece + ".open");
        }
        if (!ways.empty()) return ways;
    }
    return {state};
}

}  // namespace

Readings look(const Net& net, const State& state, const Questions& q, std::mt19937_64& random) {
    Readings out;
    const auto ways = which_pieces(net, state);
    for (int k = 0; k < q.draws; ++k) {
        const Draw d = draw_of(net, random);
        for (const State& way : ways) Looker(net, way, q, d, out).settle({});
    }
    // A controller without power sees nothing.
    for (auto& [name, pin] : out.pins) pin.judged = out.consumers["controller"].low > 11;
    return out;
}

Network any_network(const Net& net, const State& state, std::mt19937_64& random) {
    return network_of(net, state, draw_of(net, random), {}).n;
}

}  // namespace lanyard::test::ohm
