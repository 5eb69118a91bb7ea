// Texts and files of results. The same bytes each time: no time of day, no path of the machine, no order of finishing.
#pragma once

#include <lanyard/check.hpp>
#include <lanyard/studies.hpp>

namespace lanyard::api {

enum class Format {
    text,             // for people: heading, a line for each claim, their stories
    json,             // as described by schema(SchemaOf::result)
    junit,            // XML
    sarif,            // SARIF 2.1.0; places are relative to the current folder
    csv,              // one line a claim
    safety_case,      // the argument in Goal Structuring Notation, indented
    safety_case_dot,  // the same for Graphviz
    record,           // to be signed: what was checked, what was not, by which version, what to inspect by hand
    page              // HTML, one file that needs no other
};

// Found by calls of their own; the page tells of what is there.
struct Beside {
    const FaultsReport* faults = nullptr;  // a table of single faults
    const CardReport* card = nullptr;      // the bench card, which is to lie beside the page as card.html
};

// A whole text, with a line end. `results`, here and below: of check(), else std::invalid_argument is thrown. Like all
// that is here it may throw InternalError and std::bad_alloc.
std::string write(const Results& results, Format format, const Beside& beside = {});

// What a certificate has to show, that its example exists and that time goes on, as SMT-LIB 2.6 files that any solver
// can be asked about.
struct Obligation {
    std::string name;  // "start", "step", "safe", "alive" ...: `lanyard help evidence`
    std::string text;  // a whole file; it states its status too
    enum class Status { unsat, sat };
    Status status = Status::unsat;  // the answer that it must have
};
// `claim`: an index in Results::claims, else std::out_of_range is thrown. By name; empty without a certificate.
std::vector<Obligation> obligations(const Results& results, std::size_t claim);

struct FolderFile {
    std::string name;  // below the folder
    std::string text;
    bool is_program = false;  // may be executed
};
// The run of each refutation as a value change dump (IEEE 1364).
std::vector<FolderFile> waves(const Results& results);
// What others need to check a verdict without lanyard: obligations, invariants, runs, verdicts, and a script that asks
// the solvers that are installed. One folder a claim (ClaimReport::folder).
std::vector<FolderFile> evidence(const Results& results);
std::string evidence_readme(const Results& results);  // for write_folder()

// Writes a file whole or not at all. Returns what went wrong; empty on success.
std::string write_whole(const std::filesystem::path& path, const std::string& content);

// A folder is written only where it is not there yet, is empty, or holds nothing but what was written there before,
// unchanged; that is replaced. README.txt in it begins with `readme` and lists the rest.
// Why the folder cannot be written; empty if it can.
std::string folder_refusal(const std::filesystem::path& folder);
// Returns what went wrong; empty on success.
std::string write_folder(const std::filesystem::path& folder, const std::string& readme,
                         const std::vector<FolderFile>& files);

}  // namespace lanyard::api
