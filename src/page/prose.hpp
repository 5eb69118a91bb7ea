// SAFETY.md as a part of the page.
#pragma once

#include <string>

#include "base/layers.hpp"

namespace lanyard::page {

// What our own texts use of CommonMark (https://spec.commonmark.org/0.30/): headings, paragraphs, lists, **strong**,
// *emphasis*, `code`. Headings come out `deeper` levels deeper.
std::string prose(const std::string& markdown, int deeper);

std::string cautions();

}  // namespace lanyard::page
