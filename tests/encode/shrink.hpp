// A case that fails, made smaller and written down as files that the program itself replays.
#pragma once

#include <functional>
#include <string>

#include "claims/run.hpp"
#include "maker.hpp"
#include "model/model.hpp"

namespace lanyard::test {

using namespace claims;

// Tries a model for so many scans or steps; the answer tells what is wrong, empty: nothing. `run` is how it came there.
using Trial = std::function<std::string(const Model&, long length, Run& run)>;

// Leaves out what can be left out while the trial goes on failing, and shortens the run. Writes NAME.json, the model,
// and NAME.script.json, the run for `lanyard run`. Answers with what to read.
std::string report_shrunk(const std::string& name, Parts parts, const Trial& trial, long length);

// A run as a script: switches, quantities, readings, free loads, engine. Contacts and boot are left to the player.
std::string script_of(const Model& m, const Run& run);

}  // namespace lanyard::test
