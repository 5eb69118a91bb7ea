#include "cli/exit_codes.hpp"

namespace lanyard::cli {

const std::vector<ExitRow>& exit_table() {
    static const std::vector<ExitRow> rows{
        {Exit::all_proved, 0, "all proved",
         "Every claim that was asked for is proved. Commands that judge nothing (claims, run, why, rules, schema, "
         "export, help) end with 0 when they did what was asked; so does a share (--shard) in which no claim is."},
        {Exit::usage, 1, "nothing was judged",
         "The command line is wrong, a file cannot be read or written, or the model makes no claim. The message says "
         "which, with a hint."},
        {Exit::rejected, 2, "model rejected",
         "The model, the script, the filled-in card, or a file of --keep or --part has errors. All of them are shown "
         "with their places; nothing was judged."},
        {Exit::internal, 3, "internal error",
         "lanyard found a contradiction in its own results or ran out of memory. Do not trust any verdict of this run. "
         "The message names a file to send with a bug report."},
        {Exit::failed, 10, "refuted or vacuous",
         "At least one claim is refuted, or is vacuous: what it waits for cannot happen, or its condition allows no "
         "run. A filled-in bench card: a reading disagrees."},
        {Exit::undecided, 20, "undecided",
         "No claim is refuted or vacuous, but at least one is undecided: a limit was hit. An undecided claim is not "
         "proved, however long the search went on. A bench card: something is neither tested nor proved impossible, or "
         "a reading is missing."},
        {Exit::interrupted, 130, "interrupted",
         "Ctrl-C (or a request to terminate) ended the check. What was decided by then is printed and valid."},
    };
    return rows;
}

int code_of(Exit exit) {
    for (const ExitRow& row : exit_table())
        if (row.exit == exit) return row.code;
    return 3;
}

Exit exit_of(const api::Results& results) { return exit_of(results.outcome, results.interrupted); }

Exit exit_of(api::Outcome outcome, bool interrupted) {
    if (interrupted) return Exit::interrupted;
    switch (outcome) {
        case api::Outcome::all_proved:
            return Exit::all_proved;
        case api::Outcome::failed:
            return Exit::failed;
        case api::Outcome::undecided:
            return Exit::undecided;
        case api::Outcome::nothing:
            return Exit::usage;
    }
    return Exit::internal;
}

}  // namespace lanyard::cli
