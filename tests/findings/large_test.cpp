// A wiring of thousands of parts is looked at in bounded time, and what was left out is said.
#include <algorithm>
#include <catch2/catch.hpp>

#include "support.hpp"

using namespace lanyard::circuit;
using namespace lanyard::test;

namespace {

Car harness(int circuits) {
    Car car{
        "'battery': 'battery', 'F0': { 'is': 'fuse', 'rating': '60 A' }, 'master': { 'is': 'switch', 'switch': "
        "'maintained' }",
        "'feed': 'battery - F0 - master - bus'"};
    for (int i = 0; i < circuits; ++i) {
        const std::string n = std::to_string(i);
        car.parts += ",\n'F_" + n + "': { 'is': 'fuse', 'rating': '30 A' }, 'K_" + n + "': 'relay', 'L_" + n +
                     "': { 'is': 'load', 'draws': '1 A' }";
        car.wires += ",\n'V_" + n + "': { 'path': 'bus - F_" + n + " - K_" + n + ".make - L_" + n +
                     " - ground', 'size': '1 mm2' }, 'C_" + n + "': 'bus - K_" + n + ".coil - ground'";
    }
    return car;
}

std::size_t count(const std::vector<WiringFinding>& all, FindingKind kind) {
    return static_cast<std::size_t>(
        std::count_if(all.begin(), all.end(), [&](const WiringFinding& f) { return f.kind == kind; }));
}

}  // namespace

TEST_CASE("a hundred circuits are all looked at") {
    const auto all = findings(harness(100));
    CHECK(count(all, FindingKind::fuse_above_wire) == 100);
    CHECK(count(all, FindingKind::fuse_below_loads) == 1);  // 100 A through F0
    CHECK(count(all, FindingKind::too_large) == 0);
}

TEST_CASE("of three thousand circuits it is said what was not looked for") {
    const auto all = findings(harness(3000));
    REQUIRE(count(all, FindingKind::too_large) == 1);
    const auto said =
        std::find_if(all.begin(), all.end(), [](const WiringFinding& f) { return f.kind == FindingKind::too_large; });
    CHECK(said->what.find("fuse-above-wire") != std::string::npos);
    CHECK(count(all, FindingKind::fuse_above_wire) == 0);
}
