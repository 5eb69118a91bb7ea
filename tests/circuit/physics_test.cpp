// The levels against Ohm and Kirchhoff: what the voltages of a network of resistances do lies between what must and
// what may be, whatever the resistances.
#include <catch2/catch.hpp>

#include "physics.hpp"

using namespace lanyard;
using namespace lanyard::test;

namespace {

constexpr double little = 0.02, full = 11.9;  // V; wires drop a few millivolts

struct Count {
    long circuits = 0, on = 0, off = 0;
};

void check_consumers(const Model& m, const Flow& flow, const Voltages& v, Count& count) {
    for (std::size_t b = 0; b < m.circuit.branches.size(); ++b) {
        const Branch& branch = m.circuit.branches[b];
        if (branch.kind != BranchKind::load && branch.kind != BranchKind::coil) continue;
        const Fed works = flow.works(static_cast<int>(b));
        const double across = branch.polar ? v.consumers[b] : std::abs(v.consumers[b]);
        INFO(branch.name << " has " << across << " V");
        if (works.must) CHECK(across > full);
        if (across > little) CHECK(works.may);
        count.on += across > little ? 1 : 0;
        count.off += works.may ? 0 : 1;
    }
}

// Against the chassis; so by no other return.
void check_nodes(const Model& m, const Flow& flow, const Voltages& v) {
    for (std::size_t n = 0; n < m.circuit.nodes.size(); ++n) {
        const Fed plus = flow.has_plus(static_cast<int>(n)), ground = flow.is_grounded(static_cast<int>(n));
        INFO(m.circuit.nodes[n].name << " has " << v.nodes[n] << " V");
        if (plus.must) CHECK(v.nodes[n] > full);
        if (v.nodes[n] > little) CHECK(plus.may);
        if (ground.must) CHECK(v.nodes[n] < little);
    }
}

// The circuits of these seeds.
void compare_voltages(unsigned first, unsigned last) {
    Count count;
    for (unsigned seed = first; seed <= last; ++seed) {
        sim::Dice dice(seed);
        const std::string text = random_circuit(dice, {false, seed % 2 == 0, true});
        INFO("seed " << seed << ": " << text);
        const Model m = circuit_of(text);
        for (unsigned n = 0; n < 2 * count_of_positions(m); ++n) {
            Positions where = positions(m, n / 2);
            if (n % 2 == 1)
                for (auto&& f : where.faults) f = dice.one_in(8);
            INFO("positions " << n / 2 << (n % 2 == 1 ? " with faults" : ""));
            const auto v = voltages(m, where, dice);
            if (!v) continue;
            ++count.circuits;
            const Flow flow = where.flow(m);
            check_consumers(m, flow, *v, count);
            if (returns_of(m.circuit).size() == 1) check_nodes(m, flow, *v);
        }
    }
    const auto seeds = static_cast<long>(last - first + 1);
    CHECK(count.circuits * 3 > seeds * 5);
    CHECK(count.on * 6 > seeds * 5);
    CHECK(count.off * 6 > seeds * 5);
}

}  // namespace

TEST_CASE("random circuits obey the levels, whatever their resistances", "[random]") { compare_voltages(1, 1200); }
TEST_CASE("random circuits obey the levels, a few", "[short]") { compare_voltages(1201, 1260); }
