// The net under the leap rules: an encoding that forgets one of them must not get past the leap lemma.
#include <catch2/catch.hpp>

#include <algorithm>

#include "encode/leap.hpp"
#include "model/read.hpp"

using namespace lanyard;

namespace {

Model model_of(std::string text) {
    std::replace(text.begin(), text.end(), '\'', '"');
    ReadResult r = read_model("model.json", "{\"lanyard\": 1, \"name\": \"sabotage\", " + text + "}");
    INFO(render(r.diagnostics, r.source));
    REQUIRE(r.model);
    return std::move(*r.model);
}

struct Rules {
    bool memory = true, thresholds = true;
};

LeapLemma lemma(const Model& m, const Rules& rules, int condition = 0) {
    z3::context ctx;
    EncodeOptions options;
    options.forget_memory_rule = !rules.memory;
    options.forget_threshold_rule = !rules.thresholds;
    return leap_lemma(encode(ctx, m, condition, 0, options), 0);
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

TEST_CASE("a leap rule that forgets memory fails the leap lemma") {
    for (const char* text : with_memory) {
        INFO(text);
        const Model m = model_of(text);
        CHECK(lemma(m, {}) == LeapLemma::holds);
        CHECK(lemma(m, {false, true}) == LeapLemma::refuted);
    }
}

TEST_CASE("a leap rule that forgets thresholds fails the leap lemma") {
    for (const char* text : with_clocks) {
        INFO(text);
        const Model m = model_of(text);
        CHECK(lemma(m, {}) == LeapLemma::holds);
        CHECK(lemma(m, {true, false}) == LeapLemma::refuted);
    }
}

TEST_CASE("an engine's mode and clocks are guarded by the same two rules") {
    const Model m = model_of(
        "'inputs': {'key': 'maintained'}, 'outputs': {'coils': 'key', 'starter': 'key'}, "
        "'engine': {'fires_with': ['coils'], 'cranks_with': 'starter'}, "
        "'claims': {'c': {'always': 'engine <> running'}}");
    for (int condition = 0; condition < 2; ++condition) {
        CHECK(lemma(m, {}, condition) == LeapLemma::holds);
        CHECK(lemma(m, {false, true}, condition) == LeapLemma::refuted);
    }
    // Under `any` nothing has to happen at a threshold of the engine; what may happen changes its mode, which is
    // memory.
    CHECK(lemma(m, {true, false}, 1) == LeapLemma::refuted);
}
