// Everything that can break, with what the file says of it.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "model/build.hpp"

namespace lanyard::model {

// A fault before it is known whether it is ruled out.
struct PossibleFault {
    Fault fault;
    std::function<void(Model&, FaultId fault)> attach;  // tells what it acts on
    bool never = false;
};

std::vector<PossibleFault> possible_faults(const Model& m, const std::vector<WireLine>& wires);

// What an entry "any wire.open" begins with.
inline constexpr const char* any_word = "any ";

// Is the text a word that means faults of many parts: `welded`, `any wire`, `any wire.open`, `everything`?
bool is_kind_of_faults(const std::string& text);
// Does such a word mean this fault?
bool is_of_kind(const Fault& f, const std::string& text);
// Of wires, whose pieces break one by one.
bool is_of_pieces(FaultKind kind);
// What a fault is called and all that it belongs to: `W1.2.to_ground`, `W1.to_ground`, `W1.2`, `W1`.
std::vector<std::string> names_of(const Fault& f);

}  // namespace lanyard::model
