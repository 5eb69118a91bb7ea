// Text in lines and columns.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "base/layers.hpp"

namespace lanyard::report {

// The widest line of a story; the terminal indents it by two, to 80.
inline constexpr std::size_t line_width = 78;

// Characters, not bytes.
std::size_t width_of(const std::string& text);
std::string padded(const std::string& text, std::size_t width);

// Lines of at most `width` characters without line ends; a longer word stands alone. A number stays with its unit.
std::vector<std::string> lines_of(const std::string& text, std::size_t width);

// `label`, padded, with the text beside it, or below it where one of them is too long for that.
std::string labelled(const std::string& label, std::size_t label_width, const std::string& text);

// Each row's first cell is set to the right, the others wrap inside of their columns.
struct Row {
    std::string time;
    std::string left;
    std::string right;
};
std::string table_text(const std::vector<Row>& rows);

}  // namespace lanyard::report
