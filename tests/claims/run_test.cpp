// Runs as plain values: what is chosen at a scan inside a segment, and what is left of a run that ends earlier.
#include "claims/run.hpp"

#include "../ids.hpp"

using namespace lanyard::claims;

namespace {

// Two scans at 1, then five from 2 to 4 on a straight line.
Run rising() {
    Segment still, moving;
    still.scans = 2;
    still.first.quantities = {Rational(1)};
    moving.scans = 5;
    moving.first.quantities = {Rational(2)};
    moving.last_quantities = {Rational(4)};
    return {{still, moving}};
}

}  // namespace

TEST_CASE("what is chosen at each scan of a run") {
    const Run run = rising();
    CHECK(run.scans() == 7);
    std::vector<Rational> values;
    each_scan(run, [&](const Choices& c) {
        values.push_back(c.quantities.front());
        return true;
    });
    CHECK(values == std::vector<Rational>{1, 1, 2, Rational(5, 2), 3, Rational(7, 2), 4});
    for (long scan = 0; scan < run.scans(); ++scan)
        CHECK(choices_at(run, scan).quantities.front() == values[static_cast<std::size_t>(scan)]);
    CHECK(choices_at(run, 100).quantities.front() == 4);
}

TEST_CASE("a run that ends earlier is the same until there") {
    const Run run = rising();
    for (long scans = 1; scans <= run.scans(); ++scans) {
        const Run less = first_scans(run, scans);
        CHECK(less.scans() == scans);
        for (long scan = 0; scan < scans; ++scan) CHECK(choices_at(less, scan) == choices_at(run, scan));
    }
}

TEST_CASE("faults of a run, each once, rising") {
    Run run = rising();
    run.segments[0].first.faults = {false, false, true};
    run.segments[1].first.faults = {true, false, true};
    CHECK(faults_of(run) == std::vector{FaultId(0), FaultId(2)});
}
