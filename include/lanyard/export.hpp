// Texts of a model for other programs, and the schemas of files.
#pragma once

#include <lanyard/model.hpp>

namespace lanyard::api {

enum class RunFormat { table, csv, vcd };
struct Played {
    std::string text;      // what changed, in the format that was asked for
    std::string warnings;  // what the script wanted and could not have; as Rejected::text, empty if there is nothing
};
// Plays a script of input changes (JSON, or CSV with a time column; `lanyard help script`).
std::variant<Played, Rejected> run_script(const Model& model, const std::filesystem::path& script, RunFormat format);

// The question behind a claim as Horn clauses in SMT-LIB 2.6, for other solvers: `unsat` = the claim's bad state (of
// `possible`: its goal) can be reached, `sat` = it cannot.
std::variant<std::string, Rejected> export_horn(const Model& model, const std::string& claim);

// What feeds what, for Graphviz: all of the model, or what has a say in a claim.
std::variant<std::string, Rejected> signal_graph(const Model& model, const std::optional<std::string>& claim = {});

enum class SchemaOf { model, result, rules, faults, why, mutants, needs };
std::string schema(SchemaOf which);  // JSON Schema, with a line end

}  // namespace lanyard::api
