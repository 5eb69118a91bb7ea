#include "support.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "explain/input_events.hpp"
#include "sim/interpreter.hpp"
#include "sim/script.hpp"

namespace lanyard::test {

using namespace explain;

ScriptedRun scripted(const Model& m, const std::string& text, const std::string& claim) {
    const ScriptResult script = read_script(m, "script", text);
    INFO(render(script.diagnostics, script.source));
    REQUIRE(script.script);
    const ClaimId which = claim.empty() ? ClaimId() : claim_named(m, claim);
    const ConditionId condition = which ? m.claims[which].condition : any_condition;
    const ScriptRun played = play_script(*script.model, *script.script, condition, which);
    INFO(render(played.diagnostics, script.source));
    REQUIRE(played.diagnostics.list().empty());
    return {script.model, played.run};
}

bool breaks(const Model& m, const Run& run, ClaimId claim) {
    const Replay played = replay(m, run, m.claims[claim].condition, claim);
    CHECK(played.legal);
    return std::any_of(played.scans.begin(), played.scans.end(), [](const Scan& s) { return s.violated; });
}

namespace {

Choices choices_of(const Run& run, long scan) {
    const Segment last = first_scans(run, scan + 1).segments.back();
    return choices_at(last, last.scans - 1);
}

void check_parts(const Run& run, const RunCause& cause) {
    CHECK(cause.otherwise.scans() >= run.scans());
    long first = run.scans();
    for (const auto& p : cause.parts) {
        CHECK(event_value(p.event, choices_of(cause.otherwise, p.event.scan)) == p.instead);
        CHECK(event_value(p.event, choices_of(run, p.event.scan)) !=
              event_value(p.event, choices_of(cause.otherwise, p.event.scan)));
        first = std::min(first, p.event.scan);
    }
    for (long n = 0; n < first; ++n) CHECK(choices_of(run, n) == choices_of(cause.otherwise, n));
}

}  // namespace

void check_causes(const Model& m, const Run& run, ClaimId claim, const Causes& causes) {
    for (const auto& cause : causes.list) {
        CHECK_FALSE(breaks(m, cause.otherwise, claim));
        check_parts(run, cause);
    }
}

void check_trap_causes(const Model& m, const Run& run, ClaimId claim, const Causes& causes) {
    for (const auto& cause : causes.list) {
        check_parts(run, cause);
        REQUIRE(cause.otherwise.scans() > run.scans());
        for (long n = 0; n < run.scans(); ++n)
            CHECK(choices_of(cause.otherwise, n).claim_moves_on == (n + 1 == run.scans()));
        const Replay played = replay(m, cause.otherwise, m.claims[claim].condition, claim);
        CHECK(played.legal);
        CHECK(played.scans.back().goal);
    }
}

}  // namespace lanyard::test
