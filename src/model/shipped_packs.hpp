// The packs of rules/, put into the program when it is built.
#pragma once

#include <cstddef>

#include "base/layers.hpp"

namespace lanyard::model {

struct PackText {
    const char* id;
    const char* text;
};
extern const PackText pack_texts[];  // in alphabetical order; an entry without id ends it

}  // namespace lanyard::model
