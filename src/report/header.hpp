// What stands first in every output, so that nobody wonders later what a verdict was about.
#pragma once

#include <string>

#include "model/model.hpp"

namespace lanyard::report {

// As shown: "0.1.0", "Z3 4.8.12".
struct Versions {
    std::string lanyard;
    std::string solver;
};

// One line without a line end: the model's name, SHA-256 of its file, versions, scan period.
std::string heading(const Model& model, const Versions& versions);
// The same in lines that are no wider than a page, without the last line end.
std::string heading_on_page(const Model& model, const Versions& versions);

// The same one item a line, each behind `prefix` ("; " in SMT-LIB, "# " in scripts).
std::string heading_lines(const Model& model, const Versions& versions, const std::string& prefix);

}  // namespace lanyard::report
