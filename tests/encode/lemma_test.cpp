// The leap lemma holds for every claim of every model of the repository: demo and cases.
#include <catch2/catch.hpp>

#include "encode/leap.hpp"
#include "maker.hpp"
#include "prove/ask.hpp"
#include "shrink.hpp"
#include "support.hpp"

namespace encode = lanyard::encode;
using namespace lanyard::prove;
using namespace lanyard::test;

TEST_CASE("a leap is a run of single scans in every model of the repository") {
    long claims = 0;
    for (const ModelFile& file : all_models()) {
        for (const ClaimId claim : file.model.claims.ids()) {
            INFO(file.path << ", claim " << file.model.claims[claim].id);
            z3::context ctx;
            try {
                const System s = encode::encode(ctx, file.model, file.model.claims[claim].condition, claim, {});
                CHECK(leap_lemma(s, check_budget) == LeapLemma::holds);
                ++claims;
            } catch (const Unsupported& u) {
                // What cannot be encoded is undecided, and cases of that say so.
                INFO(u.what());
                CHECK(file.path.find("/undecided/") != std::string::npos);
            }
        }
    }
    CHECK(claims > 150);
}

TEST_CASE("a leap is a run of single scans in random models", "[short]") {
    const Seeds s = seeds({1, 60});
    long unknown = 0, refuted = 0;
    for (unsigned seed = s.first; seed < s.first + s.count && refuted == 0; ++seed) {
        const Parts parts = random_parts(seed);
        const ReadResult r = read_model("random.json", parts.text());
        REQUIRE(r.model);
        const ConditionId condition(seed % r.model->conditions.size());
        const Trial trial = [condition, &unknown](const Model& m, long, Run&) {
            if (m.claims.empty() || !m.conditions.has(condition)) return std::string();
            z3::context ctx;
            const LeapLemma lemma = leap_lemma(encode::encode(ctx, m, condition, ClaimId(0), {}), 20'000'000);
            unknown += lemma == LeapLemma::unknown ? 1 : 0;
            return std::string(lemma == LeapLemma::refuted ? "the leap lemma is refuted" : "");
        };
        Run run;
        if (trial(*r.model, 0, run).empty()) continue;
        ++refuted;
        FAIL_CHECK("seed " << seed << ", condition " << condition.index() << "\n"
                           << report_shrunk("lemma-" + std::to_string(seed), parts, trial, 0));
    }
    CHECK(unknown * 10 < s.count);
}

TEST_CASE("a quantity that moves within a leap", "[short]") {
    const std::string x =
        "'quantities': {'x': {'range': '0 .. 9 V', 'follows': [{'changes': '-100 .. 100 V/s'}]}, "
        "'y': {'range': '0 .. 9 V', 'follows': [{'changes': '0 .. 50 V/s'}]}}, ";
    const std::string claim = ", 'claims': {'c': {'always': 'NOT q'}}";
    for (const char* rest : {
             // does not jump over a point that it is compared with,
             "'inputs': {'a': 'maintained'}, 'outputs': {'q': 'a AND x = 5 V'}",
             // takes its reading, with whatever error it has, along,
             "'inputs': {'sx': {'senses': 'x', 'accuracy': '1 V'}}, 'outputs': {'q': 'sx > 5 V'}",
             // and stands still while it is remembered.
             "'inputs': {'sx': {'senses': 'x'}}, 'outputs': {'q': 'previous(sx) > 5 V'}",
             "'inputs': {'sx': {'senses': 'x'}}, 'outputs': {'q': 'rate(sx, 30 ms) > 5 V/s'}",
             // Two move together.
             "'inputs': {'sx': {'senses': 'x'}, 'sy': {'senses': 'y'}}, 'outputs': {'q': 'sx > 2 * sy'}",
             "'inputs': {'sx': {'senses': 'x', 'accuracy': '1 V'}, 'sy': {'senses': 'y'}}, 'outputs': {'q': "
             "'previous(sx - sy) > 5 V'}",
         }) {
        INFO(rest);
        const Model m = model_of(x + rest + claim);
        z3::context ctx;
        CHECK(leap_lemma(encode::encode(ctx, m, any_condition, ClaimId(0), {}), 0) == LeapLemma::holds);
    }
}
