// The solver of ohm_law.hpp against others: by hand, and the operating point of ngspice.
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "ohm_models.hpp"

namespace lanyard::test::ohm {

using namespace sim;

namespace {

// Doubles cannot hold micro-ohms beside giga-ohms; a thousand times as much they can.
Network milder(Network n) {
    for (auto& r : n.resistors) r.ohm *= r.ohm < 1 ? 1000 : 1;
    for (auto& d : n.diodes) d.ohm *= 1000;
    for (auto& b : n.batteries) b.ohm *= 1000;
    return n;
}

// V per node as ngspice says; nothing where it finds no operating point.
std::optional<std::vector<double>> by_ngspice(const Network& n, const std::filesystem::path& folder) {
    const std::string input = (folder / "net.cir").string(), output = (folder / "net.out").string();
    std::ofstream(input) << spice_of(n, "wiring");
    const std::string command = "ngspice -b '" + input + "' > '" + output + "' 2>&1";
    if (std::system(command.c_str()) != 0) return std::nullopt;
    std::vector<double> v(static_cast<std::size_t>(n.nodes), NAN);
    v[0] = 0;
    std::ifstream in(output);
    for (std::string line; std::getline(in, line);) {
        int node = 0;
        double volt = 0;
        if (std::sscanf(line.c_str(), " v(%d) = %lf", &node, &volt) == 2 && node > 0 && node < n.nodes)
            v[static_cast<std::size_t>(node)] = volt;
    }
    for (const double x : v)
        if (std::isnan(x)) return std::nullopt;
    return v;
}

void same_voltages(const Network& n, const std::vector<double>& theirs) {
    const auto ours = voltages_of(n);
    REQUIRE(ours);
    INFO(spice_of(n, "wiring"));
    for (std::size_t k = 0; k < theirs.size(); ++k) {
        INFO("node " << k);
        CHECK(std::fabs((*ours)[k] - theirs[k]) < 0.005);
    }
}

}  // namespace

TEST_CASE("Ohm's law by hand", "[short]") {
    // 12 V behind 1 ohm on 2 and 3 ohm: 12 V * 3 / 6.
    Network row{3, {{1, 2, 2}, {2, 0, 3}}, {}, {{1, 0, 12, 1}}};
    CHECK((*voltages_of(row))[2] == Approx(6));
    CHECK((*voltages_of(row))[1] == Approx(10));
    // The same with a diode instead of the 2 ohm, either way.
    Network forwards{3, {{2, 0, 3}}, {{1, 2, 2}}, {{1, 0, 12, 1}}};
    CHECK((*voltages_of(forwards))[2] == Approx(6));
    Network backwards{3, {{2, 0, 3}}, {{2, 1, 2}}, {{1, 0, 12, 1}}};
    CHECK((*voltages_of(backwards))[2] == Approx(0).margin(1e-6));
    CHECK((*voltages_of(backwards))[1] == Approx(12));
    // Two sources in series, shorted: each node between them stands where its resistances put it.
    Network shorted{3, {{2, 0, 1e-9}}, {}, {{1, 0, 12, 1}, {2, 1, 12, 3}}};
    CHECK((*voltages_of(shorted))[1] == Approx(6));  // 24 V over 4 ohm: 6 A, 12 V - 6 V
    // A bridge rectifier turned round by its source.
    Network bridge{5, {{3, 4, 10}}, {{1, 3, 1e-6}, {2, 3, 1e-6}, {4, 1, 1e-6}, {4, 2, 1e-6}}, {{1, 2, -12, 1e-6}}};
    const auto v = *voltages_of(bridge);
    CHECK(v[3] - v[4] == Approx(12).epsilon(1e-4));
}

TEST_CASE("Ohm's law against ngspice", "[short]") {
    REQUIRE(std::system("ngspice --version > /dev/null 2>&1") == 0);
    std::string folder = (std::filesystem::temp_directory_path() / "lanyard_ohm_XXXXXX").string();
    REQUIRE(mkdtemp(folder.data()) != nullptr);
    int compared = 0, with_diodes = 0, undecided = 0;
    for (unsigned seed = 1; seed <= 60; ++seed) {
        Dice dice(seed);
        const Json model = random_model(dice, 8);
        const auto m = program_model(model);
        REQUIRE(m);
        const Net net = read_net(model);
        std::mt19937_64 random(seed);
        const Network n = milder(any_network(net, states_of(net, *m, dice, 1, false).front(), random));
        const auto theirs = by_ngspice(n, folder);
        if (!theirs) {
            ++undecided;
            continue;
        }
        same_voltages(n, *theirs);
        ++compared;
        with_diodes += n.diodes.empty() ? 0 : 1;
    }
    std::filesystem::remove_all(folder);
    INFO(undecided << " without an operating point");
    CHECK(compared > 40);
    CHECK(with_diodes > 10);
}

}  // namespace lanyard::test::ohm
