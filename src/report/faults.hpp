// What is known of faults, as tables. Plain values in, whole texts out, the same bytes each time.
#pragma once

#include <string>
#include <vector>

#include "claims/faults.hpp"
#include "model/model.hpp"
#include "report/header.hpp"

namespace lanyard {

struct FaultTables {
    std::vector<ClaimFaults> claims;
    std::vector<Effect> effects;          // one for each fault that was asked about
    std::vector<Likelihood> likelihoods;  // one for each claim
};

// A table of failure modes: one row a fault. The columns are those of IEC 60812 that can be computed: item, failure
// mode, effects, what it breaks, detection, compensating provision.
struct FailureModes {
    std::vector<std::string> head;
    std::vector<std::vector<std::string>> rows;
};
FailureModes failure_modes(const Model& model, const FaultTables& tables);
// The same comma-separated (RFC 4180), with a heading.
std::string faults_csv(const Model& model, const FaultTables& tables);
std::string faults_json(const Model& model, const FaultTables& tables, const Versions& versions);

// "lost: coils, fuel pump; powered without command: starter", or "none seen".
std::string effect_text(const Model& model, const Effect& effect);
// "in use", "on a bench only", "not seen"; says so where no run of the car in use was played.
std::string shows_text(Shows shows, bool use_was_played);
bool use_was_played(const Model& model, const FaultTables& tables);
// Which runs were played as the car in use; that there was none.
std::string in_use_text(const Model& model, const FaultTables& tables);
// Faults that break a claim and do not show in use, alone or as the first of a pair; empty where no use was played.
std::string hidden_faults_text(const Model& model, const FaultTables& tables);
// "3.2e-05 at the end of 8760 h; average on demand 1.6e-05 ..."
std::string likelihood_text(const Model& model, const Likelihood& likelihood);

}  // namespace lanyard
