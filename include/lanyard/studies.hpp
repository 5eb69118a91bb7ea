// What else can be asked of a model: faults, what claims and proofs are worth, the bench card, why a signal is as it
// is. Every call throws InternalError, std::bad_alloc and what its callback throws, and is Rejected for an unknown
// claim.
#pragma once

#include <lanyard/check.hpp>

namespace lanyard::api {

// ---------------------------------------------------------------------------------------------------------------
// Which faults break which claims

struct FaultOptions {
    std::vector<std::string> claims = {};  // ids; empty: all
    unsigned order = 1;                    // sets of at most so many faults; at least 1
    bool from_the_start = false;  // faults are there from the first scan on or never; else they may begin at any scan
    bool stories = false;         // tell a run of each set
    std::optional<Share> share = {};  // of the claims; effects, in_use and hidden are left empty
    std::optional<Parts> parts = {};  // as CheckOptions::parts
    Limits limits = {};
    OnProgress on_progress = {};
};

// What one fault does.
struct FaultEffect {
    std::string fault;
    std::string effect;  // "without power: coils"
    std::string shows;   // "in use", "on a bench only", "not seen"
};

struct FaultSetReport {
    std::vector<std::string> faults;  // names
    // FaultOptions::from_the_start: faults that, there as well, make the claim hold again; where that is undecided.
    std::vector<std::string> undone_by, undone_open;
    std::string story;  // FaultOptions::stories; as ClaimReport::story
};

struct ClaimFaultsReport {
    std::string id;
    std::string condition;
    std::string not_judged;            // why; the claim does not hold without a fault, for example
    bool not_settled = false;          // whether it holds without a fault was not decided
    std::vector<FaultSetReport> sets;  // minimal, by size
    unsigned complete_up_to = 0;       // no other set of at most so many faults breaks the claim: proved
    std::string why_not;               // where that is below FaultOptions::order
    std::string likelihood;            // one line; empty where nothing is known of rates
};

struct FaultsReport {
    std::vector<ClaimFaultsReport> claims;
    std::vector<FaultEffect> effects;  // of each fault that was asked about
    std::string in_use;                // one line: which runs were played as the car in use, or that none was
    std::string hidden;     // lines: faults that break a claim and do not show in use; empty without such runs
    std::string json, csv;  // whole texts: everything; a table of failure modes
    // Open-PSA fault trees of the claims that have sets of faults with numbers: claim, text. And why of others not.
    std::vector<std::pair<std::string, std::string>> trees;
    std::string trees_missing;
    Outcome outcome = Outcome::nothing;  // failed: a single fault breaks a claim
    bool interrupted = false;
    std::string part_error;  // why the part could not be written; empty if all was well

    struct Analysed;  // known to the implementation only: what the page shows
    std::shared_ptr<const Analysed> analysed;
};

std::variant<FaultsReport, Rejected> faults(const Model& model, const FaultOptions& options);

// ---------------------------------------------------------------------------------------------------------------
// What claims that are proved are worth, and what their proofs rest on

struct MutantOptions {
    std::vector<std::string> claims = {};  // ids; empty: all
    Limits limits = {};                    // work: for each question about a mutant
    OnProgress on_progress = {};
    std::optional<Share> share = {};  // of the mutants
    std::optional<Parts> parts = {};  // as CheckOptions::parts
};

struct MutantsReport {
    std::string text;          // whole lines: the score, what no claim notices
    std::string json;          // whole text: every mutant
    bool judged = false;       // at least one claim is proved of the model itself
    std::size_t survived = 0;  // mutants that no claim notices
    bool interrupted = false;
    std::string part_error;  // why the part could not be written; empty if all was well
};
// Which small changes of the logic no claim would notice.
std::variant<MutantsReport, Rejected> mutants(const Model& model, const MutantOptions& options);

struct StudyOptions {
    std::vector<std::string> claims = {};  // ids; empty: all
    Limits limits = {};                    // work: for each question without an assumption
    OnProgress on_progress = {};
};

struct NeedsOfProofs {
    std::string text;  // whole lines: per claim, what it cannot spare and what it holds without
    std::string json;
    bool undecided = false;  // some claim is
    bool interrupted = false;
};
// Which assumptions the claims that are proved cannot do without.
std::variant<NeedsOfProofs, Rejected> needs(const Model& model, const StudyOptions& options);

// ---------------------------------------------------------------------------------------------------------------
// Bench card: what to set and to see on the bench

struct CardReport {
    std::string text, csv, html;         // whole texts
    Outcome outcome = Outcome::nothing;  // undecided: something is neither shown nor proved impossible
    bool interrupted = false;

    struct Made;  // known to the implementation only: what the page shows
    std::shared_ptr<const Made> made;
};
// Limits::time_s: for one round of questions to the provers; Limits::work: for each combination that is asked about.
CardReport bench_card(const Model& model, const Limits& limits);

// A card that was filled in, as CSV.
struct CardCheck {
    std::string text;
    std::size_t read = 0, wrong = 0, missing = 0;  // readings; those that disagree; those that were not filled in
    Outcome outcome = Outcome::nothing;            // failed: a reading disagrees; undecided: one is missing
    bool interrupted = false;
};
std::variant<CardCheck, Rejected> check_card(const Model& model, const std::filesystem::path& filled,
                                             const Limits& limits);

// ---------------------------------------------------------------------------------------------------------------
// Why a signal is what it is at one moment of a run, and what was first to go

struct WhyOptions {
    // Of which run: a script as for run_script(), a run of an evidence folder, or results as JSON. Without a file the
    // claim is judged, and its run is taken: the one against it, else its example.
    std::optional<std::filesystem::path> run = {};
    std::optional<std::string> claim = {};  // an id; chooses from results
    std::optional<std::string> at = {};     // "2.3 s"; without it, the run's last scan
    std::string signal = {};
    Limits limits = {};  // for judging
};
struct WhyReport {
    bool interrupted = false;  // while the claim was judged; there is a text only if it was decided by then
    std::string text;          // whole lines
    std::string json;          // whole text
    std::string warnings;      // as Rejected::text
};
std::variant<WhyReport, Rejected> why(const Model& model, const WhyOptions& options);

}  // namespace lanyard::api
