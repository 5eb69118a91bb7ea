// Words that stand in steps of procedures and in lists of faults, and are names of nothing there.
#pragma once

#include <string>

namespace lanyard {

bool is_step_word(const std::string& word);

// Behind "under": "one", "fault", and what breaks and how: "wire", "welded", "wire.open".
bool is_fault_word(const std::string& word);

}  // namespace lanyard
