// Tables of the program as text of at most 80 columns.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace lanyard::cli {

// What a mark stands for: "units", or with the beginning of the titles that it is about, "keys claim". Nothing if
// there is no such mark.
std::optional<std::string> table_text(const std::string& mark);
// All marks, without what they are about.
std::vector<std::string> table_marks();

}  // namespace lanyard::cli
