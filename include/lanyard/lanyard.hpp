// The public face of lanyard: a model file goes in, verdicts with their reasons come out, as plain values. No type of
// a solver or of a JSON library appears here. The command line program is built on this and on nothing else.
//
//   auto loaded = lanyard::api::load("car.json");
//   if (auto* model = std::get_if<lanyard::api::Model>(&loaded)) {
//       lanyard::api::CheckReport report = lanyard::api::check(*model, {});
//       for (const auto& claim : report.claims) std::cout << claim.id << ": " << claim.summary << '\n';
//   }
//
// Everything that the user can get wrong comes back as a value; an exception means that lanyard itself is wrong
// (InternalError) or that the machine ran out of memory (std::bad_alloc).
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace lanyard::api {

std::string version();         // "0.1.0"
std::string solver_version();  // "Z3 4.8.12"

// ---------------------------------------------------------------------------------------------------------------
// Models

// A file that was not accepted. `text` is complete: every problem with its place, a caret, the reason and a hint.
struct Rejected {
    std::string text;
    bool unreadable = false;  // the file could not be read at all: nothing was judged
};

struct ClaimInfo {
    std::string id;
    std::string kind;       // "always", "response", "possible", "procedure", "recoverable", "change limit"
    std::string condition;  // as printed in verdict lines
    std::size_t line = 0;
    std::size_t column = 0;
    std::string pattern = {};  // the word that it is written with: "cuts"; empty for a kind written plainly
    std::string written = {};  // the object of the file, on one line
    std::vector<std::string> stands_for = {};  // what that is as a plain claim of its kind, with all expressions
    std::string rule = {};                     // "small-boats/fuel-pump-off": of a rule pack; empty: the model's own
};

// What became of a rule of a chosen pack.
struct RuleInfo {
    std::string rule;      // "small-boats/fuel-pump-off"
    bool judged = false;   // it made claims (ClaimInfo::rule)
    std::string why;       // why it was not judged
    std::string citation;  //
};

// What was seen in the wiring without any claim.
struct FindingInfo {
    std::string code;   // "fuse-above-wire": a row of finding_table()
    std::string level;  // "warning" or "hint"
    std::size_t line = 0;
    std::size_t column = 0;
    std::string what;
    std::string why;   // may be empty
    std::string hint;  // may be empty
};

class Model {
 public:
    Model(Model&&) noexcept;
    Model& operator=(Model&&) noexcept;
    ~Model();

    std::string name() const;
    std::string sha256() const;
    // The line that stands first in every output: name, SHA-256 of the file, versions, scan period.
    std::string heading() const;
    // Warnings of the reader, complete text like Rejected::text; empty if there are none.
    std::string warnings() const;
    std::vector<ClaimInfo> claims() const;  // in the order of the file, then those of rules
    std::vector<RuleInfo> rules() const;    // of the chosen packs, in their order
    // What claims do not tell of the chosen packs: rules that do not apply and why, what is to be inspected by hand,
    // rules that contradict each other. Complete lines like ClaimReport::story; empty without packs.
    std::string rules_text() const;

    // By their places; empty for a model without a circuit.
    std::vector<FindingInfo> findings() const;
    // The same as complete lines like ClaimReport::story.
    std::string findings_text() const;

    struct Impl;  // known to the implementation only
    explicit Model(std::unique_ptr<Impl> impl);
    const Impl& impl() const { return *impl_; }

 private:
    std::unique_ptr<Impl> impl_;
};

// The name is shown in messages as it was given. `rules`: packs whose rules shall become claims; each is the id of a
// pack that is part of lanyard, or (with a slash or the ending .json) a folder that holds a pack.json, or such a file.
std::variant<Model, Rejected> load(const std::filesystem::path& path, const std::vector<std::string>& rules = {});

// ---------------------------------------------------------------------------------------------------------------
// Checking

enum class Verdict { proved, refuted, vacuous, undecided };
std::string verdict_word(Verdict v);  // "proved", "refuted", "vacuous", "undecided"

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
    Verdict verdict = Verdict::undecided;
    std::size_t line = 0;  // of the claim in the model file
    std::size_t column = 0;
    // What is said behind verdict, name and condition on the claim's line: one line, no time, no colour.
    // ("some healthy engine never fires", "rests on: turning, oil_low", "no counterexample up to 40 leaps")
    std::string summary;
    // What is told below the lines: the claim in plain words, the run of a refutation with its causes, what a proof
    // rests on, the reason of an open end. Complete lines of at most about 100 columns, without heading, indentation,
    // time of day and colour.
    std::string story;
    // Vacuous: what cannot happen. Undecided: which limit was hit. Otherwise empty.
    std::string reason;
    long depth = 0;  // undecided: leaps up to which no counterexample exists
    // What a proof (or a certified refutation) rests on; sorted. Logic, outputs and parts that are not named may be
    // changed in any way, and assumptions that are not named may be dropped, without changing the verdict.
    std::vector<std::string> assumptions;      // "engine: firing time 0.5 .. 2 s (common practice)"
    std::vector<std::string> elements;         // names of logic and outputs
    std::vector<std::string> parts;            // names of wires, fuses, switches, relays, loads, sensors ...
    std::vector<std::string> unused_elements;  // names of signals that could be anything
    std::string prover;                        // which one found it
    std::string evidence;                      // folder below CheckOptions::evidence, empty if none was written
    Timing timing;
};

// What is going on, for a progress line.
struct Progress {
    std::size_t decided = 0;  // claims
    std::size_t total = 0;
    std::string claim;  // id of one that is being worked on
    std::string doing;  // "searching, round 3", "checking the certificate" ...; may be empty
};

// Files for other programs and other readers, beside the JSON that is always there.
struct Outputs {
    bool junit = false;
    bool sarif = false;
    bool csv = false;
    bool waves = false;
    bool safety_case = false;
    bool page = false;
    bool page_faults = false;  // the page has a table of single faults too, which takes a search of its own
    bool card = false;         // the bench card too, as bench_card() makes it; the page tells of it
};

struct CheckOptions {
    std::vector<std::string> claims;         // ids; empty = all. Unknown ids are ignored: look in Model::claims()
    std::optional<std::string> prover;       // work with this one only; a name of prover_table()
    unsigned jobs = 0;                       // threads; 0 = one for each processor
    std::optional<double> time_s;            // wall clock for the whole check; verdicts may then differ from run to run
    std::optional<std::uint64_t> work;       // work units for each claim; repeats exactly
    std::optional<std::uint64_t> memory_mb;  // for the whole program
    bool examples = false;         // stories of proofs tell their example, so that one sees what right looks like
    unsigned counterexamples = 1;  // runs of each refuted claim, each with causes of its own; may be fewer
    std::optional<std::filesystem::path> evidence;  // a folder; one folder a claim is written into it
    // A file in which answers are kept from one check to the next, for the same model and version; made if it is not
    // there. What stands in it is checked anew instead of searched for, and does not change the results.
    std::optional<std::filesystem::path> keep;
    Outputs outputs;
    // Called in the order of the file, each as soon as it and all before it are decided. Never two calls at once.
    std::function<void(const ClaimReport&)> on_claim;
    // Called when something changes, from any thread, never two calls at once. Has to return quickly.
    std::function<void(const Progress&)> on_progress;
};

enum class Outcome {
    all_proved,  // at least one claim, and each of them proved
    failed,      // at least one refuted or vacuous
    undecided,   // none refuted or vacuous, at least one undecided
    nothing      // no claim was there to be judged
};

// The argument in Goal Structuring Notation, and a record to be signed.
struct SafetyCaseTexts {
    std::string text;    // indented
    std::string dot;     // for Graphviz
    std::string record;  // what was checked, what was not, by which version, what to inspect by hand
};

// What to set and to see on the bench: see bench_card().
struct CardReport {
    std::string heading;
    std::string text, csv, html;         // whole texts
    Outcome outcome = Outcome::nothing;  // undecided: something is neither shown nor proved impossible
    bool interrupted = false;
};

struct CheckReport {
    std::string heading;              // Model::heading()
    std::vector<ClaimReport> claims;  // in the order of the file
    Outcome outcome = Outcome::nothing;
    bool interrupted = false;               // some claims are undecided because request_interrupt() was called
    std::string evidence_error;             // why evidence could not be written; empty if all was well
    std::optional<Rejected> keep_rejected;  // CheckOptions::keep is no such file: nothing was judged
    std::string keep_error;                 // why it could not be written
    std::string closing;   // the last line of every report: a pointer to what a verdict is no promise of
    std::string rules;     // Model::rules_text()
    std::string findings;  // Model::findings_text()
    std::string json;      // whole text as described by schema(SchemaOf::result), with a line end
    // What CheckOptions::outputs asked for; otherwise empty. Whole texts, the same bytes each time.
    std::string junit;
    std::string sarif;  // places are relative to the current folder
    std::string csv;
    std::vector<std::pair<std::string, std::string>> waves;  // names of files; VCD and view of each run against a claim
    SafetyCaseTexts safety_case;
    std::string page;                // HTML, one file that needs no other
    std::optional<CardReport> card;  // its outcome is no part of the report's
};

// Does not change the model. Throws InternalError when a check of its own work fails.
CheckReport check(const Model& model, const CheckOptions& options);

// ---------------------------------------------------------------------------------------------------------------
// Faults

struct FaultOptions {
    std::vector<std::string> claims;  // as in CheckOptions
    unsigned order = 1;               // sets of at most so many faults
    bool from_the_start = false;  // faults are there from the first scan on or never; else they may begin at any scan
    bool stories = false;         // tell a run of each set
    unsigned jobs = 0;
    std::optional<double> time_s;
    std::optional<std::uint64_t> work;
    std::optional<std::uint64_t> memory_mb;
    std::function<void(const Progress&)> on_progress;
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
    std::string heading;
    std::vector<ClaimFaultsReport> claims;
    std::vector<FaultEffect> effects;  // of each fault that was asked about
    std::string hidden;                // lines: faults that break a claim and do not show in use
    std::string json, csv;             // whole texts: everything; a table of failure modes
    // Open-PSA fault trees of the claims that have sets of faults with numbers: claim, text. And why of others not.
    std::vector<std::pair<std::string, std::string>> trees;
    std::string trees_missing;
    Outcome outcome = Outcome::nothing;  // failed: a single fault breaks a claim
    bool interrupted = false;
    std::string closing;
};

// Which faults break which claims. Throws InternalError.
FaultsReport faults(const Model& model, const FaultOptions& options);

// ---------------------------------------------------------------------------------------------------------------
// What claims that are proved are worth, and what their proofs rest on

struct StudyOptions {
    std::vector<std::string> claims;  // as in CheckOptions
    unsigned jobs = 0;
    std::optional<double> time_s;
    std::optional<std::uint64_t> work;  // for each question about a mutant, or without an assumption
    std::optional<std::uint64_t> memory_mb;
    std::function<void(const Progress&)> on_progress;
};

struct MutantsReport {
    std::string heading;
    std::string text;          // complete lines: the score, what no claim notices
    std::string json;          // whole text: every mutant
    bool judged = false;       // at least one claim is proved of the model itself
    std::size_t survived = 0;  // mutants that no claim notices
    bool interrupted = false;
    std::string closing;
};

// Which small changes of the logic no claim would notice. Throws InternalError.
MutantsReport mutants(const Model& model, const StudyOptions& options);

struct NeedsOfProofs {
    std::string heading;
    std::string text;  // complete lines: per claim, what it cannot spare and what it holds without
    std::string json;
    bool undecided = false;  // some claim is
    bool interrupted = false;
    std::string closing;
};

// Which assumptions the claims that are proved cannot do without. Throws InternalError.
NeedsOfProofs needs(const Model& model, const StudyOptions& options);

// ---------------------------------------------------------------------------------------------------------------
// Bench card

struct CardOptions {
    unsigned jobs = 0;
    std::optional<double> time_s;       // for one round of questions to the provers
    std::optional<std::uint64_t> work;  // work units for each combination that is asked about
    std::optional<std::uint64_t> memory_mb;
};

// What to set and to see on the bench. Throws InternalError.
CardReport bench_card(const Model& model, const CardOptions& options);

// A card that was filled in, as CSV.
struct CardCheck {
    std::string text;
    std::size_t read = 0, wrong = 0, missing = 0;  // readings; those that disagree; those that were not filled in
    Outcome outcome = Outcome::nothing;            // failed: a reading disagrees; undecided: one is missing
    bool interrupted = false;
};
std::variant<CardCheck, Rejected> check_card(const Model& model, const std::filesystem::path& filled,
                                             const CardOptions& options);

// Ends a running check() soon: what is decided stays decided, the rest is undecided. May be called from a signal
// handler and from any thread. Stays in force until clear_interrupt().
void request_interrupt() noexcept;
void clear_interrupt() noexcept;

// lanyard caught itself at a contradiction: a certificate that does not check, a run that does not replay. No verdict
// is to be believed. What is needed to look into it was written to `report_file` (empty if that failed too).
class InternalError : public std::runtime_error {
 public:
    InternalError(const std::string& what, std::filesystem::path report_file)
        : std::runtime_error(what), report_file_(std::move(report_file)) {}
    const std::filesystem::path& report_file() const { return report_file_; }

 private:
    std::filesystem::path report_file_;
};

// ---------------------------------------------------------------------------------------------------------------
// Rule packs

struct PackRole {
    std::string name;
    std::string kind;  // "quantity", "switch", "load", "output", "expression", "faults"
    std::string meaning;
    std::string dimension;  // of quantities; empty: any
};
struct PackParameter {
    std::string name;
    std::string value;
    std::string meaning;
};
struct PackClaim {
    std::string name;
    std::vector<std::pair<std::string, std::string>> keys;  // as written: "whenever", "NOT link"
};
struct PackRule {
    std::string id;  // "small-boats/fuel-pump-off"
    std::string requirement;
    std::string citation;
    std::string text_read;  // "primary", "secondary", "memory", "none"
    std::vector<std::string> roles;
    std::vector<PackParameter> parameters;
    std::vector<PackClaim> claims;
    std::string advice;
    std::string needs;                                           // "wiring": of models that have it
    std::vector<std::pair<std::string, std::string>> conflicts;  // the other rule, why
};
struct PackInspection {
    std::string name;
    std::string what;
    std::string citation;
};
struct Pack {
    std::string id;
    std::string title;
    std::string publisher;
    std::string edition;
    std::string text_read;
    std::string scope;
    std::string sha256;
    std::vector<PackRole> roles;
    std::vector<PackRule> rules;
    std::vector<PackInspection> inspect;
};

std::vector<std::string> shipped_packs();  // ids of the packs that are part of lanyard
// `name` as for load().
std::variant<Pack, Rejected> load_pack(const std::string& name);
// What a mark such as "secondary" says.
std::string text_read_words(const std::string& mark);

// ---------------------------------------------------------------------------------------------------------------
// Playing, exporting, describing

enum class RunFormat { table, csv, vcd };
struct Played {
    std::string text;      // what changed, in the format that was asked for
    std::string warnings;  // what the script wanted and could not have; complete text, empty if there is nothing
};
// Plays a script of input changes (JSON, or CSV with a time column; `lanyard help script`).
std::variant<Played, Rejected> run_script(const Model& model, const std::filesystem::path& script, RunFormat format);

// Why a signal is what it is at one moment of a run, and what was first to go.
struct WhyOptions {
    // Of which run: a script as for run_script(), a run of an evidence folder, or results (CheckReport::json). Without
    // a file the claim is judged, and its run is taken: the one against it, else its example.
    std::optional<std::filesystem::path> run;
    std::optional<std::string> claim;  // an id of Model::claims(); chooses from results
    std::optional<std::string> at;     // "2.3 s"; without it, the run's last scan
    std::string signal;
    // For judging, as in CheckOptions.
    unsigned jobs = 0;
    std::optional<double> time_s;
    std::optional<std::uint64_t> work;
    std::optional<std::uint64_t> memory_mb;
};
struct WhyReport {
    bool interrupted = false;  // while the claim was judged; there is a text only if it was decided by then
    std::string text;          // complete lines
    std::string json;          // whole text
    std::string warnings;
};
std::variant<WhyReport, Rejected> why(const Model& model, const WhyOptions& options);

// The question behind a claim as Horn clauses in SMT-LIB 2.6, for other solvers: `unsat` = the claim's bad state (of
// `possible`: its goal) can be reached, `sat` = it cannot. `claim` is an id of Model::claims().
std::variant<std::string, Rejected> export_horn(const Model& model, const std::string& claim);

// What feeds what, for Graphviz: all of the model, or (with an id of Model::claims()) what has a say in a claim.
std::variant<std::string, Rejected> signal_graph(const Model& model, const std::string& claim = "");

enum class SchemaOf { model, result, rules, faults, why, mutants, needs };
std::string schema(SchemaOf which);  // JSON Schema, with a line end

// Writes a file whole or not at all. Returns what went wrong; empty on success.
std::string write_whole(const std::filesystem::path& path, const std::string& content);

// A folder is written only where it is not there yet, is empty, or holds nothing but what was written there before,
// unchanged; that is replaced. README.txt in it begins with `readme` and lists the rest.
struct FolderFile {
    std::string name;  // below the folder
    std::string text;
};
// Why the folder cannot be written; empty if it can.
std::string folder_refusal(const std::filesystem::path& folder);
// Returns what went wrong; empty on success.
std::string write_folder(const std::filesystem::path& folder, const std::string& readme,
                         const std::vector<FolderFile>& files);

// "did you mean ...?": the candidate nearest to a mistyped word, if one is near enough.
std::optional<std::string> nearest(const std::string& word, const std::vector<std::string>& candidates);

}  // namespace lanyard::api
