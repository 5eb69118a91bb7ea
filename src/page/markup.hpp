// Elements of the page. What comes from a model goes through text(), and nothing else brings a `<` into the page. The
// page is well-formed as XML too, so that any XML reader can check it.
#pragma once

#include <string>
#include <vector>

#include "base/layers.hpp"

namespace lanyard::page {

// One line, without marks of direction, escaped.
std::string text(const std::string& words);
// The same, kept from turning around what stands beside it: for names, which may be written in any script.
std::string name(const std::string& words);

// tag("td class=\"time\"", "...") -> <td class="time">...</td>; the content is markup already.
std::string tag(const std::string& open, const std::string& content);
// An element without content: <br/>
std::string lone(const std::string& open);
// ` key="value"`, the value escaped.
std::string attribute(const std::string& key, const std::string& value);

struct MarkupTable {
    std::string caption;                         // words
    std::string shape;                           // class
    std::vector<std::string> head;               // words
    std::vector<std::vector<std::string>> rows;  // markup; the first cell heads its row
};
// Each cell knows the head of its column, so that a narrow page can show rows as blocks. Empty without rows.
std::string table(const MarkupTable& table);

// A section of the document with its heading.
std::string section(const std::string& id, const std::string& title, const std::string& content);

}  // namespace lanyard::page
