// A run read back from what lanyard wrote: the run.json or example.json of an evidence folder, or the results of check
// with the runs of all claims in them. Numbers are exact, so what is read is what was written; whether the model allows
// it is for the interpreter to say.
#pragma once

#include <optional>
#include <string>

#include "base/diagnostic.hpp"
#include "claims/run.hpp"
#include "model/model.hpp"

namespace lanyard::sim {

struct RunFile {
    std::optional<Run> run;  // none if there are errors
    ClaimId claim;           // that it was made for
    Diagnostics diagnostics;
    SourceText source;
};

// Is it such a file, and no script?
bool is_run_file(const std::string& text);

// `claim`: whose run is wanted; empty: the only one that is there.
RunFile read_run(const Model& model, const std::string& shown_name, const std::string& text, const std::string& claim);

}  // namespace lanyard::sim
