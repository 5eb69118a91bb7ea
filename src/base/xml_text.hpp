// Names of ours as text and as identifiers of an XML file.
#pragma once

#include <set>
#include <string>
#include <string_view>

#include "base/layers.hpp"

namespace lanyard::base {

// Text between two tags or in an attribute: & < > and quotes escaped; line ends and other control characters become
// spaces; bytes that are no UTF-8, and characters that XML 1.0 does not have, become U+FFFD.
std::string xml_text(std::string_view text);

// The same, but line feeds and tabs stay: for text that is shown as it stands, never for an attribute, where a reader
// makes spaces of them (XML 1.0, 3.3.3).
std::string xml_lines(std::string_view text);

// Gives each name an identifier of ASCII letters, digits and `_` that begins with a letter, no two of them equal even
// if upper and lower case are.
class Identifiers {
 public:
    std::string fresh(std::string_view name);

 private:
    std::set<std::string> taken_;  // in lower case
};

}  // namespace lanyard::base
