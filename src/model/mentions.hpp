// Which words an expression mentions, found without compiling it: the order of compilation depends on it, and so does
// whether a message would only follow from another one.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/layers.hpp"

namespace lanyard::model {

struct Mention {
    std::string word;
    bool earlier = false;  // inside previous( ... ): its value of the scan before
    std::size_t at = 0;    // where it begins
};

std::vector<Mention> mentions(std::string_view text);

}  // namespace lanyard::model
