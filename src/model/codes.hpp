// Every code that a message about a model file can have, and the limits of such files: help prints these tables, and
// tests hold that no message goes without.
#pragma once

#include <string>
#include <vector>

#include "base/diagnostic.hpp"

namespace lanyard::model {

struct CodeHelp {
    std::string code;
    Severity severity = Severity::error;
    std::string meaning;  // what it means and what to do, in one or two sentences
};

const std::vector<CodeHelp>& code_table();

struct LimitHelp {
    std::string of;     // "size of the model file"
    std::string limit;  // "64 MB"
};

const std::vector<LimitHelp>& limit_table();

}  // namespace lanyard::model
