// The frame of the page: one file that asks for nothing and runs nothing but its own script.
#pragma once

#include <string>

#include "base/layers.hpp"

namespace lanyard::page {

// A text that is part of the program (texts.hpp).
std::string page_text(const std::string& name);

// The content security policy (https://www.w3.org/TR/CSP3/) allows the one style and the one script of the page by the
// SHA-256 of their texts and forbids everything else: no other script, no request.
std::string document(const std::string& title, const std::string& body);

// Base64 (RFC 4648, 4) of bytes that are given as hexadecimal digits.
std::string base64_of_hex(const std::string& digits);

}  // namespace lanyard::page
