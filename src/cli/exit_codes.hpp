// The exit codes of the program: one table, from which main, help and the tests are fed.
#pragma once

#include <vector>

#include <lanyard/lanyard.hpp>

namespace lanyard::cli {

enum class Exit { all_proved, usage, rejected, internal, failed, undecided, interrupted };

struct ExitRow {
    Exit exit;
    int code;
    const char* short_meaning;
    const char* meaning;
};
const std::vector<ExitRow>& exit_table();

int code_of(Exit exit);
Exit exit_of(api::Outcome outcome, bool interrupted);
Exit exit_of(const api::Results& results);

}  // namespace lanyard::cli
