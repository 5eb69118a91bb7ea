// What may be a name, and why a text that looks like one may not be.
#pragma once

#include <string>

#include "base/diagnostic.hpp"

namespace lanyard::model {

class Reading;

// Reports what is wrong with a name of the user's own; true if nothing is.
bool check_name(Reading& reading, const std::string& name, Place place, const std::string& pointer);

// Claims have free text as names: 1 to 120 characters, none of them a control character.
bool check_claim_name(Reading& reading, const std::string& name, Place place, const std::string& pointer);

// Is this word taken by the language or by the model format itself?
bool is_taken(const std::string& word);

}  // namespace lanyard::model
