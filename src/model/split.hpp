// Text in parts: commas between brackets do not part anything.
#pragma once

#include <string>
#include <vector>

#include "lang/compile.hpp"

namespace lanyard::model {

// The parts between top-level commas, without white space at their ends.
std::vector<LocatedText> split_at_commas(const LocatedText& text);

// If the text begins with these words (single spaces stand for any white space), the rest of it.
std::optional<LocatedText> behind_words(const LocatedText& text, const std::string& words);

// The first word of the text (up to white space), and what stands behind it.
std::pair<LocatedText, LocatedText> first_word(const LocatedText& text);

}  // namespace lanyard::model
