// Which parts of a list it takes.
#pragma once

#include <iterator>
#include <utility>
#include <vector>

namespace lanyard::base {

// Of parts that suffice together those that are left when each that the others suffice without is taken out, one after
// the other, the last first. One question a part.
template <class Part, class Suffices>
std::vector<Part> needed_of(std::vector<Part> parts, const Suffices& suffices) {
    for (auto i = std::ssize(parts); i-- > 0;) {
        std::vector<Part> fewer = parts;
        fewer.erase(fewer.begin() + i);
        if (suffices(fewer)) parts = std::move(fewer);
    }
    return parts;
}

}  // namespace lanyard::base
