// Each claim at length: in words, its run as something to look at, causes, what a proof rests on.
#pragma once

#include <string>

#include "page/report_page.hpp"

namespace lanyard::page {

enum class ClaimGroup { broken, undecided, proved };

// Markup; empty if there is none.
std::string claims(const PageInput& input, ClaimGroup group);

}  // namespace lanyard::page
