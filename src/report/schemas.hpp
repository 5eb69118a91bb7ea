// JSON Schemas of the files that lanyard writes: schemas/*.json, which become part of the program at build time. They
// use only keywords that mean the same in draft-07 and in 2020-12.
#pragma once

#include <string>

#include "base/layers.hpp"

namespace lanyard::report {

struct SchemaText {
    const char* name;  // "result", "faults", "why", "mutants", "needs"
    const char* text;  // with a line end
};
extern const SchemaText schema_texts[];  // ends with two null pointers

// Empty for a name that is not there.
std::string output_schema(const std::string& name);

}  // namespace lanyard::report
