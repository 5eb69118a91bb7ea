#pragma once

#include <string>

#include "page/diagram.hpp"

namespace lanyard::page {

// The drawing of a diagram, with a cursor at the last moment. `id`: the beginning of identifiers in it.
std::string diagram_svg(const Model& model, const Diagram& diagram, const std::string& id, const std::string& title);

}  // namespace lanyard::page
