// Writes fault trees as other programs read them, and beside each what we make of it ourselves:
//   fault_export FOLDER -> FOLDER/NAME.xml, FOLDER/NAME.json
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <nlohmann/json.hpp>
#include <random>

#include "fault/cut_sets.hpp"
#include "fault/importance.hpp"
#include "fault/mef.hpp"
#include "oracle.hpp"
#include "trees.hpp"

namespace {

using namespace lanyard::fault;
using lanyard::test::at_least;
using Json = nlohmann::json;

class Export {
 public:
    explicit Export(std::filesystem::path folder) : folder_(std::move(folder)) {}

    void tree(const std::string& name, Diagrams& s, Function f, const std::vector<BasicEvent>& events, double mission) {
        const auto primes = prime_implicants(s, f);
        std::ofstream(folder_ / (name + ".xml")) << mef_text(name, events, primes, mission);
        Probabilities p;
        for (const Chance& c : chances_at(events, mission)) p.push_back(c.failed);
        Json out = {{"probability", exact_probability(s, f, p)}, {"coherent", is_coherent(s, f)}};
        for (const auto& e : events) out["labels"].push_back(e.name);
        out["products"] = Json::array();
        for (const auto& one : primes) out["products"].push_back({{"failed", one.failed}, {"works", one.works}});
        out["importance"] = Json::array();
        if (const auto measures = importance(s, f, p))
            for (const auto& m : *measures) out["importance"].push_back(measure(m));
        std::ofstream(folder_ / (name + ".json")) << out;
    }

 private:
    static Json measure(const Importance& m) {
        // JSON has no infinity; scram writes 0 for it.
        const double reduction = std::isinf(m.risk_reduction_worth) ? 0 : m.risk_reduction_worth;
        return {{"MIF", m.birnbaum}, {"CIF", m.criticality}, {"RAW", m.risk_achievement_worth}, {"RRW", reduction}};
    }
    std::filesystem::path folder_;
};

std::vector<BasicEvent> constants(const std::vector<std::string>& names, const std::vector<double>& p) {
    std::vector<BasicEvent> out;
    for (std::size_t i = 0; i < names.size(); ++i) out.push_back({names[i], p[i], {}, {}});
    return out;
}

void handbook(Export& to) {
    const lanyard::test::ThreeMotors motors;
    Diagrams eleven(11);
    to.tree("three_motors", eleven, motors.top(eleven), constants(motors.names, motors.p), 1);
    const lanyard::test::PressureTank tank;
    Diagrams six(6);
    to.tree("pressure_tank", six, tank.top(six), constants(tank.names, tank.p), 1);
    Diagrams s(3);
    const auto abc = constants({"A", "a", "3rd & <last>"}, {0.1, 0.2, 0.3});
    to.tree("not_coherent", s, s.if_then_else(s.event(0), s.event(1), s.event(2)), abc, 1);
    to.tree("single", s, s.event(1), abc, 1);
    to.tree("product", s, s.conjunction({s.event(0), s.event(2)}), abc, 1);
}

// Constant ones, ones that are never tested, tested ones; missions that end between tests and at a test.
void over_time(Export& to) {
    Diagrams s(3);
    const std::vector<BasicEvent> events{
        {"constant", 0.01, {}, {}}, {"aging", {}, 2e-5, {}}, {"tested", {}, 5e-5, 1000.0}};
    const Function f = at_least(s, 2, {s.event(0), s.event(1), s.event(2)});
    for (const int mission : {500, 1000, 1700, 4000})
        to.tree("mission_" + std::to_string(mission), s, f, events, mission);
}

void random(Export& to) {
    std::mt19937_64 dice(5);
    for (unsigned n = 0; n < 40;) {
        Diagrams s(3 + n % 4);
        const Function f = lanyard::test::random_circuit(s, dice, n % 2 == 0).first;
        if (s.is_constant(f)) continue;
        std::vector<BasicEvent> events;
        for (std::size_t i = 0; i < s.events(); ++i)
            events.push_back({"event " + std::to_string(i), static_cast<double>(1 + dice() % 99) / 100, {}, {}});
        to.tree("random_" + std::to_string(n++), s, f, events, 1);
    }
}

}  // namespace

int main(int argc, char** argv) {
    if (argc != 2) {
        std::cerr << "fault_export FOLDER\n";
        return 2;
    }
    Export to(argv[1]);
    handbook(to);
    over_time(to);
    random(to);
}
