// What is known of faults, as tables. Plain values in, whole texts out, the same bytes each time.
#pragma once

#include <string>
#include <vector>

#include "claims/faults.hpp"
#include "model/model.hpp"
#include "report/header.hpp"

namespace lanyard::report {

struct FaultTables {
    std::vector<ClaimFaults> claims;
    std::vector<Effect> effects;          // one for each fault that was asked about
    std::vector<Likelihood> likelihoods;  // one for each claim
};

// A row of a table of failure modes. What can be computed of the columns of IEC 60812: effects, what it breaks,
// detection, compensating provision.
struct FailureMode {
    FaultId fault;
    std::string effect;        // on loads
    std::string breaks_alone;  // claims
    std::string breaks_with_others;
    std::string shows;
    // It breaks a claim, alone or with others, or powers something that nobody commanded.
    bool matters = false;
};
std::vector<FailureMode> failure_modes(const Model& model, const FaultTables& tables);

// Different faults that break a claim alone; those of them that do not show in use.
struct FaultCounts {
    std::size_t alone = 0, hidden = 0;
};
FaultCounts fault_counts(const Model& model, const FaultTables& tables);

// All of it comma-separated (RFC 4180), with item, failure mode and reference, and a heading.
std::string faults_csv(const Model& model, const FaultTables& tables);
std::string faults_json(const Model& model, const FaultTables& tables, const Versions& versions);

// "the wire W8.2 from F3 to fuel_pump is shorted to battery plus", "the contact of the relay K1 welds"
std::string fault_words(const Model& model, FaultId fault);
// "W8.2.to_battery, from F3 to fuel_pump"; "K1.welded"
std::string fault_name_with_ends(const Model& model, FaultId fault);

// "lost: coils, fuel pump; powered without command: starter", or "none seen".
inline constexpr const char* no_effect = "none seen";
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

}  // namespace lanyard::report
