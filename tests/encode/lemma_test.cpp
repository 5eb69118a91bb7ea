// The leap lemma holds for every claim of every model of the repository: demo and cases.
#include <catch2/catch.hpp>

#include "encode/leap.hpp"
#include "prove/ask.hpp"
#include "support.hpp"

using namespace lanyard;
using namespace lanyard::test;

TEST_CASE("a leap is a run of single scans in every model of the repository") {
    long claims = 0;
    for (const ModelFile& file : all_models()) {
        for (std::size_t claim = 0; claim < file.model.claims.size(); ++claim) {
            INFO(file.path << ", claim " << file.model.claims[claim].id);
            z3::context ctx;
            try {
                const System s =
                    encode(ctx, file.model, file.model.claims[claim].condition, static_cast<int>(claim), {});
                CHECK(leap_lemma(s, check_budget) == LeapLemma::holds);
                ++claims;
            } catch (const Unsupported& u) {
                FAIL_CHECK(u.why);
            }
        }
    }
    CHECK(claims > 150);
}
