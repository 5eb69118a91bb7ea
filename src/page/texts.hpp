// Texts that become part of the program at build time: style.css and script.js of this folder, SAFETY.md.
#pragma once

#include "base/layers.hpp"

namespace lanyard::page {

struct PageText {
    const char* name;  // "style", "script", "safety"
    const char* text;
};
extern const PageText page_texts[];  // ends with two null pointers

}  // namespace lanyard::page
