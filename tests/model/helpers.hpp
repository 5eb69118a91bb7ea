// What the tests of the model reader share.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "../models.hpp"

namespace lanyard::test {

using namespace model;

inline const std::filesystem::path source_dir = LANYARD_SOURCE_DIR;

// A model file from its sections: `body` without the braces, in single quotes for readability.
std::string model_text(const std::string& body);
// Reads a model that must be good.
Model good(const std::string& body);
// All messages about the model, one "code at line:column" each.
std::vector<std::string> codes(const std::string& body);

// The rule pack of the tests: tests/model/packs/yard.
PackPtr yard();

const Signal* signal_of_kind(const Model& m, const std::string& name, SignalKind kind);
const Quantity& quantity(const Model& m, const std::string& name);
const Claim& claim(const Model& m, const std::string& id);
// The text of an expression, with the names of the model.
std::string text_of(const Model& m, const Expr& e);

// Compares with the file, whole; with LANYARD_REWRITE_EXPECTED=1 in the environment, writes it instead.
bool same_as_file(const std::string& text, const std::filesystem::path& file);

}  // namespace lanyard::test
