// Everything that can break, with what the file says of it.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "model/build.hpp"

namespace lanyard {

// A fault before it is known whether it is ruled out.
struct PossibleFault {
    Fault fault;
    std::function<void(Model&, int fault)> attach;  // tells what it acts on
    bool never = false;
};

std::vector<PossibleFault> possible_faults(const Model& m, const std::vector<WireLine>& wires);

// Does the text name the fault? By its name, its part or pole, its word, `any wire`, `any wire.open`, `everything`.
bool selects(const std::string& text, const Fault& f);

// What an entry "any wire.open" begins with.
inline constexpr const char* any_word = "any ";

}  // namespace lanyard
