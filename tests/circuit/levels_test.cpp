// The levels of a circuit, searched (circuit/flow) and as formulas (encode/wiring): for random circuits every position
// of the switches, without faults and with some, gives the same answers to everything that the rest of a model asks.
#include <catch2/catch.hpp>

#include "circuit/least.hpp"
#include "circuit/levels.hpp"
#include "circuits.hpp"
#include "encode/system.hpp"

namespace encode = lanyard::encode;
using namespace lanyard::sim;
using namespace lanyard::encode;
using namespace lanyard::test;

namespace {

Fed searched(const Model& m, const Flow& flow, const Probe& probe, const Positions& where) {
    const auto turned = [](const Fed& f) { return Fed{!f.may, !f.must}; };
    const bool consumer = probe.kind == ProbeKind::load || probe.kind == ProbeKind::coil;
    if (consumer) return flow.works(probe.index);
    if (probe.kind == ProbeKind::node) return flow.has_plus(probe.index);
    REQUIRE(probe.kind == ProbeKind::input);
    const WiredInput& w = m.wired_inputs[probe.index];
    Fed on = w.pulled_up ? turned(flow.input_is_grounded(w.node)) : flow.input_has_plus(w.node);
    if (w.on_when_low) on = turned(on);
    for (const FaultId f : w.stuck_off_by)
        if (where.faults[f]) on = {false, false};
    for (const FaultId f : w.stuck_on_by)
        if (where.faults[f]) on = {true, true};
    return on;
}

// The encoding's answers at the first scan.
class Formulas {
 public:
    Formulas(const Model& m, ConditionId condition) : system_(encode::encode(ctx_, m, condition, ClaimId(0), {})) {}

    Fed answer(ProbeId probe, const Positions& where) {
        const Readback& rb = system_.readback;
        if (!rb.wiring[probe]) return {};
        return {holds(*rb.wiring[probe], where, false), holds(*rb.wiring[probe], where, true)};
    }
    bool asked(ProbeId probe) const { return system_.readback.wiring[probe].has_value(); }

 private:
    bool holds(const z3::expr& e, const Positions& where, bool choices) {
        const Readback& rb = system_.readback;
        z3::expr_vector from(ctx_), to(ctx_);
        const auto put = [&](const auto& names, const auto& value) {
            for (const auto i : names.ids()) {
                if (!names[i]) continue;
                from.push_back(*names[i]);
                to.push_back(ctx_.bool_val(static_cast<bool>(value(i))));
            }
        };
        for (const auto& v : system_.state) {
            from.push_back(v.cur);
            to.push_back(v.init);
        }
        put(rb.positions, [&](SwitchId i) { return where.switches[i]; });
        put(rb.fault_begins, [&](FaultId i) { return where.faults[i]; });
        put(rb.wiring_choices, [&](ProbeId) { return choices; });
        const z3::expr value = z3::expr(e).substitute(from, to).simplify();
        INFO(value.to_string());
        REQUIRE((value.is_true() || value.is_false()));
        return value.is_true();
    }

    z3::context ctx_;
    System system_;
};

struct Unknown;

// Gates over truths themselves: one circuit, put one way.
struct Truths {
    using Term = bool;
    static bool constant(bool b) { return b; }
    static bool both(bool a, bool b) { return a && b; }
    static bool either(bool a, bool b) { return a || b; }
    static bool negation(bool a) { return !a; }
    static bool is(bool a, bool b) { return a == b; }
};

// Of the circuits of these seeds.
void compare_levels(unsigned first, unsigned last) {
    long answers = 0, open = 0, on = 0;
    for (unsigned seed = first; seed <= last; ++seed) {
        Dice dice(seed);
        const std::string text = random_circuit(dice, {});
        INFO("seed " << seed << ": " << text);
        const Model m = model_of(text);
        // Many faults at a time, and one at a time, which is encoded in another way.
        Formulas many(m, condition_named(m, "broken")), one(m, condition_named(m, "cracked"));
        const auto compare = [&](Formulas& formulas, const Positions& where) {
            const Flow flow = where.flow(m);
            for (const ProbeId p : m.circuit.probes.ids()) {
                if (!is_of_the_levels(m.circuit.probes[p].kind)) continue;
                if (!formulas.asked(p)) continue;
                const Fed a = searched(m, flow, m.circuit.probes[p], where), b = formulas.answer(p, where);
                INFO("probe " << p.index());
                REQUIRE(a.must == b.must);
                REQUIRE(a.may == b.may);
                CHECK((!a.must || a.may));
                ++answers;
                open += a.may != a.must ? 1 : 0;
                on += a.must ? 1 : 0;
            }
        };
        for (unsigned n = 0; n < count_of_positions(m); ++n) {
            INFO("positions " << n);
            Positions where = positions(m, n);
            compare(many, where);
            compare(one, where);
            where.faults[FaultId(dice.below(where.faults.size()))] = true;
            compare(one, where);
            for (auto&& f : where.faults) f = dice.one_in(5);
            compare(many, where);
        }
    }
    CHECK(answers > 60 * static_cast<long>(last - first + 1));
    CHECK(open * 20 > answers);
    CHECK(on * 20 > answers);
}

}  // namespace

TEST_CASE("levels of random circuits, searched and as formulas", "[random]") { compare_levels(1, 80); }
TEST_CASE("levels of random circuits, a few", "[short]") { compare_levels(81, 86); }

// S. C. Kleene 1956: the least solution is reached by iterating from nothing, as often as there are unknowns.
TEST_CASE("least solutions of random equations") {
    for (unsigned seed = 1; seed <= 200; ++seed) {
        INFO("seed " << seed);
        Dice dice(seed);
        const std::size_t n = 2 + dice.below(7);
        Indexed<Unknown, bool> own;
        for (std::size_t i = 0; i < n; ++i) own.push_back(dice.one_in(4));
        Truths gates;
        LeastSolution<Truths, Unknown> system(gates, own);
        std::vector<std::pair<Id<Unknown>, Id<Unknown>>> edges;
        for (auto e = dice.below(16); e > 0; --e) {
            const Id<Unknown> a(dice.below(n)), b(dice.below(n));
            const bool is = dice.one_in(2);
            system.add(a, b, is);
            if (is) edges.emplace_back(a, b);
        }
        const Indexed<Unknown, bool> solution = std::move(system).solve();
        for (std::size_t round = 0; round < n; ++round)
            for (const auto& [a, b] : edges) own[b] = own[b] || own[a];
        CHECK(solution == own);
    }
}
