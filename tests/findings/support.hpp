// What the tests of findings share: models that have a defect, and twins that have not.
#pragma once

#include <string>
#include <vector>

#include "circuit/finding.hpp"

namespace lanyard::test {

using namespace circuit;

// The rest of a model beside its circuit; ' stands for ".
struct Car {
    std::string parts, wires;
    std::string more = {};      // further keys of the circuit, with a comma in front
    std::string sections = {};  // further sections, each with a comma behind
};

Model model_of(const Car& car);
std::vector<WiringFinding> findings(const Car& car);
// "code: what" of each.
std::vector<std::string> told(const Car& car);
// Those of one code only: "what".
std::vector<std::string> told(const Car& car, const std::string& code);

}  // namespace lanyard::test
