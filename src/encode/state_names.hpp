// The names of state and inputs in a solver's texts: "s." and "i." before what is made of their keys here. They stand
// in evidence and in files that --keep wrote, so they are not to change.
#pragma once

#include <map>
#include <string>

#include "claims/state_key.hpp"

namespace lanyard::encode {

class StateNames {
 public:
    explicit StateNames(const Model& model) : m_(model) {}
    // `owner`: of an element the line or claim that it stands in, of a product its factors. The memory of elements is
    // numbered by owner and word, in the order in which it is asked for; all that a rate keeps has one number.
    std::string state(const StateKey& key, const std::string& owner) { return "s." + of(key, owner); }
    std::string input(const StateKey& key, const std::string& owner) { return "i." + of(key, owner); }

 private:
    std::string of(const StateKey& key, const std::string& owner);
    std::string memory(const StateKey& key, ElementId id, const std::string& owner);

    const Model& m_;
    std::map<std::string, int> counts_;
    std::map<ElementId, std::string> rates_;
};

// A bit of the claim's own, as the lemma that it is on.
std::string claim_bit(StateRole role);

}  // namespace lanyard::encode
