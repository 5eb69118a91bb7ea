// The way into a trap holds nothing that it does not need, and ends in the trap.
#include <catch2/catch.hpp>

#include "../models.hpp"
#include "prove/driver.hpp"
#include "prove/settle_trap.hpp"
#include "trap.hpp"

using namespace lanyard::prove;
using namespace lanyard::test;

namespace {

// A trip by 4 V is never reset.
Model trap_model() {
    return model_of(
        "'quantities': {'u': {'range': '0 .. 5 V'}}, 'inputs': {'key': 'maintained', 'lamp': 'maintained'}, 'logic': "
        "{'trip': {'is': 'RS(TON(key AND u > 4 V, 0.2 s), FALSE)', 'retained': true}}, 'outputs': {'pump': 'key AND "
        "NOT trip', 'light': 'lamp'}, 'claims': {'c': {'no_lock_out': 'pump'}}");
}

Refuted refuted(const Model& m) {
    DriverOptions options;
    options.claims = {ClaimId(0)};
    const DriverReport report = check_claims(m, options);
    const auto* out = std::get_if<Refuted>(&report.results.at(0).verdict);
    REQUIRE(out != nullptr);
    REQUIRE(out->run);
    REQUIRE(out->certificate);
    return *out;
}

}  // namespace

TEST_CASE("the run into a trap is as short as the trap lets it be", "[settled]") {
    const Model m = trap_model();
    const Refuted r = refuted(m);
    check_trapped(m, ClaimId(0), *r.run, *r.certificate);
    CHECK(r.run->scans() == 21);
    for (const auto& s : r.run->segments) {
        CHECK(s.first.positions[SwitchId(0)]);
        CHECK_FALSE(s.first.positions[SwitchId(1)]);
    }
}

TEST_CASE("a run into a trap loses what it does not need", "[settled]") {
    const Model m = trap_model();
    const Refuted r = refuted(m);
    // The lamp comes and goes, the key comes late, and afterwards everybody waits.
    Run roundabout;
    const auto add = [&](long scans, bool key, bool lamp, bool moves_on) {
        Segment s;
        s.scans = scans;
        s.first = choices_at(*r.run, 0);
        s.first.positions[SwitchId(0)] = key;
        s.first.positions[SwitchId(1)] = lamp;
        s.first.claim_moves_on = moves_on;
        roundabout.segments.push_back(s);
    };
    add(10, false, false, false);
    add(10, false, true, false);
    add(40, true, false, false);
    add(30, true, true, false);
    add(1, true, false, true);
    const auto here = behind_settled(question_about(m, ClaimId(0), *r.certificate), roundabout, *r.certificate, {});
    REQUIRE(here);
    check_trapped(m, ClaimId(0), here->before, *r.certificate);
    CHECK(here->before.scans() == 21);
    for (const auto& s : here->before.segments) CHECK_FALSE(s.first.positions[SwitchId(1)]);
    // A run that does not lead into it has no plainer one that does.
    Run harmless = roundabout;
    for (auto& s : harmless.segments) s.first.positions[SwitchId(0)] = false;
    CHECK_FALSE(behind_settled(question_about(m, ClaimId(0), *r.certificate), harmless, *r.certificate, {}));
}
