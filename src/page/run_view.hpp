// A run as something to look at: timing diagram, wiring, table of moments, and a slider that plays it.
#pragma once

#include <set>
#include <string>

#include "report/film.hpp"

namespace lanyard::page {

struct RunToShow {
    const report::Film& film;
    std::set<SignalId> causes;  // what the verdict hangs on; empty: not known
    std::string id;             // for identifiers in the page
    std::string title;          // "it starts: the run that breaks it"
};

// Markup; empty if the run cannot be played.
std::string run_view(const RunToShow& run);

}  // namespace lanyard::page
