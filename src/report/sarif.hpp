// What was refuted, is vacuous or undecided, and what was seen in the wiring, for code viewers and review tools: SARIF
// 2.1.0 (OASIS Standard, 27 March 2020, with errata 01). Section numbers in sarif*.cpp are those of the standard.
//
// Nothing in it is of the machine or of the time: the model is named by a path relative to %SRCROOT%, and what tells
// one result from another (partialFingerprints, 3.27.18) is made of names, not of places, so that it outlives edits.
#pragma once

#include <string>

#include "report/filmed.hpp"
#include "report/header.hpp"

namespace lanyard::report {

// `path`: of the model file, relative, with slashes.
std::string sarif_json(const Model& model, const FilmedResults& results, const Versions& versions,
                       const std::string& path);

}  // namespace lanyard::report
