// Symbols of parts, around a point. Fuse, ground and coil follow IEC 60617 in their outlines (from memory); what is on
// or closed differs from what is not in its shape, not in its colour alone.
#pragma once

#include <string>

#include "model/circuit.hpp"

namespace lanyard::page {

inline constexpr int symbol_half = 22;  // half of what a symbol takes of its line

std::string symbol(BranchKind kind, int x, int y);
std::string source_symbol(bool turns, int x, int y);
std::string ground_symbol(int x, int y);

}  // namespace lanyard::page
