#include "support.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "../models.hpp"

namespace lanyard::test {

using namespace circuit;

Model model_of(const Car& car) {
    return model_of(car.sections + "\n'circuit': { 'parts': {\n" + car.parts + "\n}, 'wires': {\n" + car.wires + "\n}" +
                        car.more + " }",
                    "car");
}

std::vector<WiringFinding> findings(const Car& car) { return findings_of(model_of(car)); }

std::vector<std::string> told(const Car& car) {
    std::vector<std::string> all;
    for (const auto& f : findings(car)) all.push_back(finding_help(f.kind).code + ": " + f.what);
    return all;
}

std::vector<std::string> told(const Car& car, const std::string& code) {
    std::vector<std::string> all;
    for (const auto& f : findings(car))
        if (finding_help(f.kind).code == code) all.push_back(f.what);
    return all;
}

}  // namespace lanyard::test
