// Which of the runs that answer a question is shown: the most ordinary one that can be found with little work.
#pragma once

#include "prove/ask.hpp"

namespace lanyard::prove {

// `found` answers the question; so does what is returned, and the interpreter has played it. Throws InternalError.
Run ordinary_run(const Question& q, const Run& found, const JudgeOptions& options);

}  // namespace lanyard::prove
