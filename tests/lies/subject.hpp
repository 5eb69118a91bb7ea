// A claim with its true verdict, and what becomes of it when one answer of the solver is a lie.
#pragma once

#include <filesystem>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "liar.hpp"
#include "model/model.hpp"

namespace lanyard::test {

using namespace encode;

struct Subject {
    std::shared_ptr<const Model> model;
    ClaimId claim;
    std::string truth;  // "proved", "refuted", "vacuous"
    std::uint64_t work = 0;

    const std::string& name() const { return model->claims[claim].id; }
};

// All claims of the models of a folder. Throws std::runtime_error.
std::vector<Subject> subjects_in(const std::filesystem::path& folder);

enum class Outcome {
    caught,    // lanyard noticed that its own work does not fit together
    open,      // undecided
    harmless,  // the true verdict, with evidence that holds
    wrong      // anything else
};
struct Told {
    bool told = false;          // false: no call was there to carry the lie
    std::map<Lie, long> calls;  // that could have carried one
    Outcome outcome = Outcome::wrong;
    std::string what;  // what was said
};
Told judge_with_lie(const Subject& s, Lie kind, long at, std::size_t which);

}  // namespace lanyard::test
