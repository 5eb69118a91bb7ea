// The net under the leap rules: an encoding that forgets one of them must not get past the leap lemma.
#include <catch2/catch.hpp>

#include "encode/leap.hpp"
#include "support.hpp"

namespace encode = lanyard::encode;
using namespace lanyard::sim;
using namespace lanyard::encode;
using namespace lanyard::test;

namespace {

struct Rules {
    bool memory = true, thresholds = true;
};

// "This memory is as it was": part of the rule for each state that is no clock.
bool is_of_memory(const System& s, const z3::expr& e) {
    return std::any_of(s.state.begin(), s.state.end(),
                       [&](const StateVar& v) { return !v.is_clock && z3::eq(e, v.next == v.cur); });
}
// "While it runs the clock is past its threshold at the last scan as at the first": running => (reached == count + k >=
// T).
bool is_of_a_threshold(const System& s, const z3::expr& e) {
    if (!e.is_implies() || !e.arg(1).is_eq() || !e.arg(1).arg(1).is_app() || e.arg(1).arg(1).num_args() == 0)
        return false;
    const z3::expr count = e.arg(1).arg(1).arg(0);
    return std::any_of(s.state.begin(), s.state.end(),
                       [&](const StateVar& v) { return v.is_clock && z3::eq(count, v.cur + s.k); });
}

// Takes the parts of one kind out of what a step of several scans obeys: k >= 1 and (k = 1 or all of the parts).
void forget(System& s, const Rules& kept) {
    const auto rule = std::find_if(s.rules.begin(), s.rules.end(), [](const Rule& r) { return r.label == "leap"; });
    REQUIRE(rule != s.rules.end());
    const z3::expr quiet = rule->holds.arg(1).arg(1);
    const unsigned count = quiet.is_and() ? quiet.num_args() : 1;
    z3::expr_vector left(*s.ctx);
    for (unsigned i = 0; i < count; ++i) {
        const z3::expr part = quiet.is_and() ? quiet.arg(i) : quiet;
        const bool out = (!kept.memory && is_of_memory(s, part)) || (!kept.thresholds && is_of_a_threshold(s, part));
        if (!out) left.push_back(part);
    }
    REQUIRE(left.size() < count);
    rule->holds = s.k >= 1 && (s.k == 1 || all_of(left));
}

LeapLemma lemma(const Model& m, const Rules& kept, ConditionId condition = any_condition) {
    z3::context ctx;
    System s = encode::encode(ctx, m, condition, ClaimId(0), {});
    if (!kept.memory || !kept.thresholds) forget(s, kept);
    return leap_lemma(s, 0);
}

const char* with_memory[] = {
    "'inputs': {'a': 'maintained', 'b': 'maintained'}, 'outputs': {'q': 'CTU(a XOR previous(a), b, 3)'}, "
    "'claims': {'c': {'always': 'NOT q'}}",
    "'inputs': {'a': 'maintained'}, 'outputs': {'q': 'R_TRIG(a)'}, 'claims': {'c': {'always': 'NOT q'}}",
    "'inputs': {'a': 'maintained'}, 'outputs': {'p': 'NOT previous(p) AND a'}, 'claims': {'c': {'always': 'NOT p'}}",
    "'inputs': {'a': 'maintained', 'back': {'reads_back': 'p'}}, 'outputs': {'p': 'NOT back AND a'}, "
    "'claims': {'c': {'always': 'NOT p'}}",
    // A relay that breaks its own coil, and one of two that hand it to and fro.
    "'circuit': {'parts': {'battery': 'battery', 'key': {'is': 'switch', 'switch': 'maintained'}, 'K1': 'relay'}, "
    "'wires': {'w1': 'battery - key - K1.30', 'w2': 'K1.87a - K1.coil - ground'}}, 'claims': {'c': {'always': 'NOT "
    "K1'}}",
    "'circuit': {'parts': {'battery': 'battery', 'K1': 'relay', 'K2': 'relay'}, 'wires': {'w1': 'battery - K2.break - "
    "K1.coil - ground', 'w2': 'battery - K1.make - K2.coil - ground'}}, 'claims': {'c': {'always': 'NOT K2'}}",
};

const char* with_clocks[] = {
    "'inputs': {'a': 'maintained'}, 'outputs': {'q': 'TON(a, 50 ms)'}, 'claims': {'c': {'always': 'NOT q'}}",
    "'inputs': {'a': 'maintained'}, 'outputs': {'q': 'TOF(a, 50 ms)'}, 'claims': {'c': {'always': 'NOT q'}}",
    "'inputs': {'a': 'maintained'}, 'outputs': {'q': 'a'}, "
    "'claims': {'c': {'whenever': 'a', 'for': '50 ms', 'then': 'NOT q', 'within': '50 ms'}}",
    "'inputs': {'a': 'maintained'}, 'outputs': {'q': {'on': 'a', 'relay': 'r'}}, "
    "'relays': {'r': {'pulls_in': '20 .. 50 ms', 'feeds': 'lamp'}}, 'claims': {'c': {'always': 'NOT lamp'}}",
    "'circuit': {'parts': {'battery': 'battery', 'key': {'is': 'switch', 'switch': 'maintained'}, 'K1': {'is': "
    "'relay', "
    "'pulls_in': '20 .. 50 ms'}, 'lamp': 'load'}, 'wires': {'w1': 'battery - key - K1.coil - ground', 'w2': 'battery - "
    "K1.make - lamp - ground'}}, 'claims': {'c': {'always': 'NOT lamp'}}",
};

}  // namespace

TEST_CASE("a leap rule that forgets memory fails the leap lemma", "[short]") {
    for (const char* text : with_memory) {
        INFO(text);
        const Model m = model_of(text);
        CHECK(lemma(m, {}) == LeapLemma::holds);
        CHECK(lemma(m, {false, true}) == LeapLemma::refuted);
    }
}

TEST_CASE("a leap rule that forgets thresholds fails the leap lemma", "[short]") {
    for (const char* text : with_clocks) {
        INFO(text);
        const Model m = model_of(text);
        CHECK(lemma(m, {}) == LeapLemma::holds);
        CHECK(lemma(m, {true, false}) == LeapLemma::refuted);
    }
}

TEST_CASE("an engine's mode and clocks are guarded by the same two rules", "[short]") {
    const Model m = model_of(
        "'inputs': {'key': 'maintained'}, 'outputs': {'coils': 'key', 'starter': 'key'}, "
        "'engine': {'fires_with': ['coils'], 'cranks_with': 'starter'}, "
        "'claims': {'c': {'always': 'engine <> running'}}");
    for (const ConditionId condition : {any_condition, healthy_condition}) {
        CHECK(lemma(m, {}, condition) == LeapLemma::holds);
        CHECK(lemma(m, {false, true}, condition) == LeapLemma::refuted);
    }
    // Under `any` nothing has to happen at a threshold of the engine; what may happen changes its mode, which is
    // memory.
    CHECK(lemma(m, {true, false}, healthy_condition) == LeapLemma::refuted);
}
