// Faults that cannot be told apart.
//
// What it decides: which faults of the wiring give every probe the same answer, whatever switches do, each being the
// only fault there is: a wire, a fuse and a terminal of one line, say. What one of them does each of them does (fault
// collapsing: E. J. McCluskey, F. W. Clegg, "Fault equivalence in combinational logic networks", IEEE Trans. Computers
// 20, 1971).
//
// Why it is sound: the rest of the model sees the wiring by its probes alone, and such a fault acts on nothing else.
// What is taken from it is replayed for each of them.
//
// When it gives up: where the wiring's diagrams grow too large; then each fault is like itself only.
// Tested by: tests/fault/analysis_test.cpp
#pragma once

#include <vector>

#include "model/model.hpp"

namespace lanyard::fault {

using FaultGroups = std::vector<std::vector<FaultId>>;

// Splits the faults into such groups, each rising, in the order of their first ones.
FaultGroups alike(const Model& model, const std::vector<FaultId>& faults);

}  // namespace lanyard::fault
