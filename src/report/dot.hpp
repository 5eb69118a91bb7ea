// Pieces of graphs in the DOT language of Graphviz (https://graphviz.org/doc/info/lang.html).
#pragma once

#include <string>

#include "base/layers.hpp"

namespace lanyard::report {

// Text as a label between quotes: no character of it is an escape or an entity, its line feeds are line breaks.
std::string dot_label(const std::string& text);

}  // namespace lanyard::report
