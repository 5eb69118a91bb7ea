// Models for the encoding's self-tests, and single scans played through an encoding.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "../models.hpp"
#include "claims/run.hpp"
#include "encode/system.hpp"
#include "sim/interpreter.hpp"

namespace lanyard::test {

using namespace sim;
using namespace encode;

// Every model file of the repository that is read without errors: the demo and the cases, sorted by path.
struct ModelFile {
    std::string path;  // from the repository's root
    Model model;
};
std::vector<ModelFile> all_models();

// The choices that an encoding knows, as equations over its own names. Moving quantities stand still.
std::vector<z3::expr> equations(const System& s, const Choices& c);

// Plays one scan after the other (k = 1) through an encoding, keeping the state as values.
bool may_differ_from_command(const Model& m, SignalId id);

class Stepper {
 public:
    // The system must name its signals (EncodeOptions::named).
    Stepper(const System& system, const Model& model, ClaimId claim);

    // Is a scan with these choices legal from the present state? Nothing if the solver gives up.
    std::optional<bool> legal(const Choices& c);
    // Plays it. The answer tells where it differs from what the interpreter says of the same scan; empty: nowhere.
    std::string step(const Choices& c, const Scan& scan);

    const std::vector<z3::expr>& state() const { return state_; }
    void set_state(const std::vector<z3::expr>& state) { state_ = state; }

 private:
    void fix(const Choices& c);
    std::string compare(const Scan& scan);
    std::string compare_claim(const Scan& scan);

    const System* system_;
    const Model* model_;
    ClaimId claim_;
    Solver solver_;
    std::vector<std::pair<const NamedTerm*, SignalId>> named_;
    std::vector<z3::expr> state_;
    bool broken_ = false;  // a procedure that was judged once stays as it is judged
};

std::string state_text(const std::vector<z3::expr>& state);

}  // namespace lanyard::test
