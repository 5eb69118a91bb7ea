// The report: one HTML document for whoever builds, inspects or inherits the car. A pure function of plain values: no
// clock, no file, no path of the machine, the same bytes each time.
#pragma once

#include <string>
#include <vector>

#include "claims/card.hpp"
#include "report/faults.hpp"
#include "report/safety_case.hpp"

namespace lanyard::page {

// Where somebody asked for them: the tables, and the model with all faults that they speak of.
struct PageFaults {
    const Model& model;
    const FaultTables& tables;
};

struct PageInput {
    const Model& model;
    const FilmedResults& results;
    const std::vector<EvidenceMark>& evidence;
    const Versions& versions;
    const PageFaults* faults = nullptr;
    const Card* card = nullptr;  // stands in card.html beside the page
};

std::string report_page(const PageInput& input);

}  // namespace lanyard::page
