// Pieces of drawings. Whole pixels only: the same bytes on any machine.
#pragma once

#include <string>
#include <vector>

#include "base/layers.hpp"

namespace lanyard::page {

// A drawing with its title, as wide as it is drawn. `id` is not used elsewhere in the page.
std::string svg(const std::string& id, const std::string& shape, int width, int height, const std::string& title,
                const std::string& content);

std::string line(const std::string& shape, int x1, int y1, int x2, int y2);
std::string box(const std::string& shape, int x, int y, int width, int height, int round = 0);
std::string path(const std::string& shape, const std::string& way);
// `more`: further attributes, markup.
std::string label(const std::string& shape, int x, int y, const std::string& words, const std::string& more = "");
// "12 40" of a point in a path.
std::string point(int x, int y);

// The first letters of UTF-8 text.
std::string first_letters(const std::string& words, std::size_t count);
// Words for so many pixels, cut where they are too long; the whole is then a tooltip of the label.
std::string fitted_label(const std::string& shape, int x, int y, const std::string& words, int width);
// Lines of so many pixels. A hash is broken up.
std::vector<std::string> wrapped(const std::string& words, int width);

// An element whose class changes with the moment that is shown: `states` has a letter for each moment, and the class
// is that letter behind "s". Written as at the last moment.
std::string changing(const std::string& shape, const std::string& states, const std::string& content);

}  // namespace lanyard::page
