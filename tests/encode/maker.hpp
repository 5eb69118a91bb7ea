// Random small models as JSON texts, made of parts that can be left out one by one.
#pragma once

#include <string>
#include <vector>

namespace lanyard::test {

struct Part {
    std::string section;  // "logic"; empty: a key of the model itself
    std::string name;
    std::string text;  // JSON
};

struct Parts {
    std::vector<Part> list;
    std::string text() const;  // the model file
};

// Elements of all kinds, supply, relays, sensors, loops, tables, an engine, conditions; times of a few scans, so that
// short runs get everywhere. The first claim's truth is the parity of everything that the model names: one signal
// that differs makes it differ.
Parts random_parts(unsigned seed);

// Which models a test takes. LANYARD_SEEDS="1000 500": that many from there instead of the usual ones, for a longer
// search.
struct Seeds {
    unsigned first, count;
};
Seeds seeds(Seeds usual);

}  // namespace lanyard::test
