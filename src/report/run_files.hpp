// A run as files of its own, for the evidence folder.
#pragma once

#include <string>

#include "claims/run.hpp"
#include "model/model.hpp"
#include "report/header.hpp"

namespace lanyard {

// What the world chose, exactly, segment by segment; with a line end. `claim` is an index in Model::claims.
std::string run_json(const Model& model, const Run& run, ClaimId claim, const Versions& versions);

// A save file for a waveform viewer (.gtkw, the text format that GTKWave documents by example) that shows what changes
// in the run and has a say in the claim, with the marker at the end of the run. `vcd`: the name of the file with the
// signals, which is to lie beside it.
std::string run_view(const Model& model, const Run& run, ClaimId claim, const Versions& versions,
                     const std::string& vcd);

// All signals over time (IEEE 1364 value change dump). Plays the run; it has to be a legal one.
std::string run_vcd(const Model& model, const Run& run, ClaimId claim, const Versions& versions);

}  // namespace lanyard
