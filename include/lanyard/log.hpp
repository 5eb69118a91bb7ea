// A log of what the process does inside: what was asked, what each prover did in which round, what a query cost. For
// whoever wants to know why a claim is slow; no verdict, no text and no file depends on it.
#pragma once

#include <filesystem>
#include <string>

namespace lanyard::api {

// Each has the lines of the ones before it.
enum class LogLevel {
    info,   // claims, questions, answers, times and memory
    debug,  // rounds, budgets, depths, lemmas, refinements, what the wiring was asked, checks
    trace   // each query to the solver, with its cost
};

struct Logging {
    std::filesystem::path file;  // replaced if it is there
    LogLevel level = LogLevel::debug;
};

// All of the process from now on, from every thread a whole line at a time. Texts of a model come without characters
// that a terminal obeys. Returns what is wrong, empty if nothing is: the file cannot be written, or is where standard
// output goes. A log that was begun before ends.
std::string start_log(const Logging& logging);

// Not while another thread judges. Returns what is wrong if lines were lost, else nothing; also where no log was begun.
std::string stop_log();

}  // namespace lanyard::api
