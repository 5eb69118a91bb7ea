// Which further faults undo what others have done.
#pragma once

#include "claims/faults.hpp"
#include "fault/cut_search.hpp"

namespace lanyard::fault {

// For sets of faults that are there from the start: fills `undone_by` and `undone_open` of each set that is smaller
// than the order of the options. Throws InternalError.
void find_undoing(const Model& model, const CutOptions& options, const JudgeOptions& judge, ClaimFaults& claim);

}  // namespace lanyard::fault
