#pragma once

#include <string>

#include "page/scheme.hpp"

namespace lanyard::page {

// The drawing, as it stands at the last moment. `id`: the beginning of identifiers in it.
std::string scheme_svg(const Model& model, const Scheme& scheme, const std::string& id, const std::string& title);

}  // namespace lanyard::page
