// What the schemas of the files that lanyard writes are made of. They use only keywords that mean the same in draft-07
// and in 2020-12.
#pragma once

#include <string>
#include <vector>

#include "report/json_values.hpp"

namespace lanyard::report::schema {

using report::Json;

Json text(const std::string& description);
Json texts(const std::string& description);
Json flag(const std::string& description);
Json whole(const std::string& description, int least);
Json number_pattern(const std::string& description);
Json one_of(const std::vector<std::string>& words, const std::string& description);
Json list_of(const Json& item, const std::string& description);
Json map_of(const Json& value, const std::string& description);
Json reference(const std::string& name);
// Has no keys but these.
Json object(const Json& properties, const std::vector<std::string>& required, const std::string& description);

// What report::head_json writes.
void add_head(Json& properties);

// "number", "segment", "run" and "certificate", for reference().
Json evidence_definitions();

}  // namespace lanyard::report::schema
