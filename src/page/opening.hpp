// What stands first and last in the report: what was judged, by which version, and the verdicts in one table.
#pragma once

#include <string>

#include "page/report_page.hpp"

namespace lanyard::page {

std::string opening(const PageInput& input);
std::string verdict_table(const PageInput& input);
std::string closing(const PageInput& input);

// The verdict as a word behind a sign of its own, so that it is not told by colour alone.
std::string badge(const Verdict& verdict);
// "claim-3"
std::string claim_anchor(ClaimId claim);
// What a verdict stands on: a certificate, a run, how it was checked. In full: with the folder of evidence and its
// hash.
std::string evidence_words(const PageInput& input, const FilmedResult& result, bool in_full);

}  // namespace lanyard::page
