// The safety case as a drawing, with the shapes of Goal Structuring Notation (GSN Community Standard, version 3, 2021;
// from memory): goal a rectangle, strategy a parallelogram, solution a circle, context a rectangle with round ends,
// assumption and justification ellipses with their letter, a hollow diamond below what is not developed.
//
// The argument is laid out downwards, what supports an element a step to the right of it, what stands beside it in a
// column of its own. Each element is a strip of the same width, so that a long argument breaks between pages; lines go
// on from strip to strip. What several elements stand on is drawn once and called by its name after that.
#pragma once

#include <string>

#include "report/safety_case.hpp"

namespace lanyard::page {

std::string safety_case_drawing(const SafetyCase& argument);

}  // namespace lanyard::page
