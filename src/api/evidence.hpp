// The evidence folder: what others need to check a verdict without lanyard.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "claims/verdict.hpp"
#include "model/model.hpp"
#include "report/safety_case.hpp"

namespace lanyard::api {

// The folder of a claim: number and name, plain letters only ("03-oil-cut").
std::string evidence_folder(const lanyard::Model& model, ClaimId claim);

struct EvidenceFile {
    std::string name, text;
};
// What stands behind a verdict: the claim's folder and what lies in it, by name.
struct Evidence {
    std::string folder;
    std::vector<EvidenceFile> files;
};
Evidence evidence_of(const lanyard::Model& model, const ClaimResult& result);
// The folder and its hash.
EvidenceMark mark_of(ClaimId claim, const Evidence& evidence);

// Writes the folder of all of them, with recheck.sh and a note of what lies there (base/folder.hpp). Returns what went
// wrong; empty on success.
std::string write_evidence(const lanyard::Model& model, const std::vector<Evidence>& all,
                           const std::filesystem::path& root);

}  // namespace lanyard::api
