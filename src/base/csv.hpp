// Tables as comma-separated values (RFC 4180).
#pragma once

#include <string>
#include <vector>

namespace lanyard {

// One record with its line end. A field with a comma, a quote or a line end stands between quotes.
std::string csv_line(const std::vector<std::string>& fields);

}  // namespace lanyard
