// Judging a model: verdicts with their evidence, as values.
#pragma once

#include <lanyard/parts.hpp>
#include <lanyard/run.hpp>

namespace lanyard::api {

// What a verdict with a certificate rests on, by name, sorted. Logic, outputs and parts that are not named may be
// changed in any way, and assumptions that are not named may be dropped, without changing the verdict.
struct RestsOn {
    std::vector<std::string> assumptions;      // "engine: firing time 0.5 .. 2 s (common practice)"
    std::vector<std::string> elements;         // logic and outputs
    std::vector<std::string> parts;            // wires, fuses, switches, relays, loads, sensors ...
    std::vector<std::string> unused_elements;  // signals that could be anything
};

// A set of states that holds at the start, is kept by every step, and excludes what must not be reached. What it has to
// show are its obligations: obligations() in write.hpp.
struct Certificate {
    std::vector<std::string> lemmas;  // SMT-LIB 2.6, to be read as a conjunction
    int induction = 1;                // the exclusion needs so many steps inside the set
    RestsOn rests_on;
};

// A choice of the world or the driver in a run, and what instead of it makes the difference.
struct CausePart {
    enum class Kind { position, missed, quantity, reading, contact, free_load, wiring, fault, mode };
    Kind kind = Kind::position;  // of what: a hand switch, one whose change is missed, a quantity, a sensor, a relay
                                 // contact, a load that nothing feeds, an answer of the wiring, a fault, the engine
    long scan = 0;               // from which on it is so
    std::string time_s;          // of that scan, exact, in seconds
    std::string signal;          // which shows it; empty: none does
    std::string what;            // "oil_pressure falls to 12 psi"
    std::string instead;         // "it had stayed at 40 psi"
};
// Choices that together made the difference: if all of them are changed, the run violates nothing. For a trap (a
// refuted recoverable claim): if they are changed, the goal can still be reached.
struct Cause {
    std::vector<CausePart> parts;  // at least one; no smaller part of them makes the difference
    Run otherwise;                 // the run without them; of a trap it goes on to the goal
};
struct Causes {
    std::vector<Cause> list;  // may be empty: often no single choice and no pair makes the difference
    bool complete = false;    // false: not all choices were tried
};

struct Proved {
    // Not for a possible claim. Recoverable: that the playbook leads to the goal from everywhere.
    std::optional<Certificate> certificate;
    std::optional<Run> example;         // in which the claim demands something; possible: that reaches the goal
    std::vector<std::string> playbook;  // recoverable: the steps of the driver
};
struct Refuted {
    std::optional<Run> run;  // ends at the violation. Recoverable: in the trap. Not for a possible claim
    Causes causes;           // of that run
    struct Other {
        Run run;
        Causes causes;
    };
    std::vector<Other> others;               // CheckOptions::counterexamples
    std::optional<Certificate> certificate;  // possible: the goal cannot be reached; recoverable: nor from the trap
    std::string remark;                      // "no controller of this scan period can meet the bound"; may be empty
};
// The claim says nothing: what it waits for cannot happen, or it is true whatever the logic does. A failure.
struct Vacuous {
    std::string reason;                      // which of them
    std::optional<Run> run;                  // to where the condition lets no scan follow
    std::optional<Certificate> certificate;  // that what it waits for cannot happen, or no violation can
};
struct Undecided {
    std::string reason;  // which limit was hit
    long depth = 0;      // leaps (steps of one scan or many alike) up to which there is no counterexample
};
using Verdict = std::variant<Proved, Refuted, Vacuous, Undecided>;

std::string verdict_word(const Verdict& verdict);           // "proved", "refuted", "vacuous", "undecided"
const Certificate* certificate_of(const Verdict& verdict);  // null: it rests on none
// The run that speaks against the claim: that refutes it, or leads to where its condition stops time; null: none does.
const Run* run_against(const Verdict& verdict);

struct Timing {  // seconds; for the terminal only, never for anything that is compared
    double finding = 0;
    double minimising = 0;
    double rechecking = 0;
    double replaying = 0;
    double total() const { return finding + minimising + rechecking + replaying; }
};

struct ClaimReport {
    std::string id;
    std::string kind;
    std::string condition;  // as printed
    std::string rule;       // as in ClaimInfo
    std::size_t line = 0;   // of the claim in the model file
    std::size_t column = 0;
    Verdict verdict = Undecided{};
    std::string prover;   // which one found it
    bool leaps = true;    // false: every step of the search was a single scan
    std::string summary;  // one line for people: "rests on: turning, oil_low"
    // For people: the claim in plain words, the run of a refutation with its causes, the reason of an open end. Whole
    // lines of about 100 columns, without heading, indentation, time of day and colour.
    std::string story;
    std::string folder;  // the name of its folder of evidence, "03-oil-cut"
    Timing timing;
};

struct CheckOptions {
    std::vector<std::string> claims = {};  // ids; empty: all
    std::string prover = {};               // work with this one only, a name of prover_table(); empty: with all
    Limits limits = {};
    bool examples = false;         // the story of a proof shows a run that exercises the claim
    unsigned counterexamples = 1;  // runs of each refuted claim, each with causes of its own; may be fewer
    // A file in which answers are kept from one check to the next; it is created if it does not exist. Answers of the
    // same version to the same questions, also about another state of the model, are checked again instead of searched
    // for. They change no verdict; which of several proofs or runs is shown may be the one that was shown before.
    std::optional<std::filesystem::path> keep = {};
    bool fresh = false;               // what the file has is not looked at, and replaced
    std::optional<Share> share = {};  // of the claims; not together with keep or parts
    std::optional<Parts> parts = {};  // what read_parts() made of all parts of this call
    // Called in the order of the file, each as soon as it and all before it are decided. Never two calls at once.
    std::function<void(const ClaimReport&)> on_claim = {};
    OnProgress on_progress = {};
};

enum class Outcome {
    all_proved,  // at least one claim, and each of them proved
    failed,      // at least one refuted or vacuous
    undecided,   // none refuted or vacuous, at least one undecided
    nothing      // no claim was there to be judged
};

// A value: copies share the evidence. write.hpp makes texts and files of it.
struct Results {
    std::vector<ClaimReport> claims;  // in the order of the file
    Outcome outcome = Outcome::nothing;
    bool interrupted = false;  // some claims are undecided because Limits::stop asked for it
    std::string keep_error;    // why CheckOptions::keep or a part could not be written; empty if all was well

    struct Judged;  // known to the implementation only
    std::shared_ptr<const Judged> judged;
};

// The file in `folder` for what is kept of a model: named after the model's file and where that is.
std::filesystem::path kept_file(const std::filesystem::path& folder, const std::filesystem::path& model);

// Does not change the model. Rejected: an unknown claim or prover, CheckOptions::keep is not such a file, or
// parts are not of this model.
// Throws InternalError, std::bad_alloc, and what its callbacks throw.
std::variant<Results, Rejected> check(const Model& model, const CheckOptions& options);

}  // namespace lanyard::api
