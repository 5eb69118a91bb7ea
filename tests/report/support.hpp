// Small models and runs made by hand: what is not said stays as it is, what the rules do not let stay goes to the
// nearest that they let.
#pragma once

#include <string>
#include <vector>

#include "../models.hpp"
#include "model/model.hpp"
#include "report/filmed.hpp"
#include "report/header.hpp"
#include "sim/interpreter.hpp"
#include "sim/world.hpp"

namespace lanyard::test {

using namespace report;

class Playing {
 public:
    Playing(const Model& model, const std::string& claim);

    Playing& set(const std::string& name, bool on);                  // switch
    Playing& set(const std::string& name, const std::string& text);  // quantity or reading: "12 psi"
    Playing& set(const std::string& name, const char* text) { return set(name, std::string(text)); }
    Playing& engine(Mode mode);  // where it shall get to
    Playing& moves_on();         // the driver, as soon as he may
    Playing& fault(const std::string& name, bool on = true);
    Playing& answer(const std::string& probe, bool on);    // of the wiring, where the world may choose
    Playing& late(const std::string& relay, bool closed);  // where the contact is wished
    Playing& scans(long n);
    // Up to the first scan that is violated (or reaches the goal of `possible`), at most n.
    Playing& until_broken(long n);
    // A segment of n scans at whose last scan the quantity is at `text`, all else as it was.
    Playing& moving(const std::string& quantity, const std::string& text, long n);

    const Run& run() const { return run_; }
    bool broken() const { return broken_; }
    ClaimResult refuted(const std::string& remark = "") const;

 private:
    bool scan();
    const Model& model_;
    ClaimId claim_;
    Interpreter now_;
    World world_;
    Wish wish_;
    Choices last_;
    Run run_;
    bool broken_ = false;
};

inline Versions versions() { return {"0.1.0", "Z3 4.8.12"}; }

ClaimResult proved(const Model& model, const std::string& claim, const Run& example);
ClaimResult result(const Model& model, const std::string& claim, Verdict verdict);

FilmedResults filmed(const Model& model, const std::vector<ClaimResult>& results);
std::string story_of(const Model& model, const ClaimResult& result);

// Compares with tests/report/golden/NAME; LANYARD_GOLDEN=write in the environment writes the file instead, to be read
// by somebody before it is believed.
void check_golden(const std::string& name, const std::string& text);

// The part of the refuted claim's story behind "why".
std::string why_of(const Model& model, const Playing& playing);

// The model that most tests are about.
const std::string& kestrel();

}  // namespace lanyard::test
