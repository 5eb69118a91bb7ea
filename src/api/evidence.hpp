// The evidence folder: what others need to check a verdict without lanyard.
#pragma once

#include <string>
#include <vector>

#include "lanyard/lanyard.hpp"
#include "report/filmed.hpp"
#include "report/safety_case.hpp"

namespace lanyard::api {

// The folder of a claim: number and name, plain letters only ("03-oil-cut").
std::string evidence_folder(const lanyard::model::Model& model, ClaimId claim);

// What stands behind a verdict: the claim's folder and what lies in it, by name.
struct Evidence {
    std::string folder;
    std::vector<FolderFile> files;
    std::vector<Obligation> obligations;  // which are files too
};
Evidence evidence_of(const FilmedResult& result);
// The folder and its hash.
EvidenceMark mark_of(ClaimId claim, const Evidence& evidence);

}  // namespace lanyard::api
