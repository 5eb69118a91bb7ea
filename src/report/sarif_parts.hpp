// The pieces of a SARIF file: texts, places, rules.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "circuit/finding.hpp"
#include "report/json_values.hpp"

namespace lanyard::report {

// A message object of plain text (3.11).
Json sarif_message(const std::string& text);

// A relative reference as RFC 3986 has it.
std::string sarif_uri(const std::string& path);

// Locations in the one file that all of this is about.
class SarifPlaces {
 public:
    SarifPlaces(const SourceText& source, const std::string& path) : source_(source), uri_(sarif_uri(path)) {}

    // An artifact location (3.4).
    Json artifact() const;
    // A location (3.28) with its message, if there is one; without a place only the message is left.
    Json location(const Place& place, const std::string& message = "") const;

 private:
    Json region(const Place& place) const;
    const SourceText& source_;
    std::string uri_;
};

// The reporting descriptors (3.49) of the results, each once, in the order in which they were asked for.
class SarifRules {
 public:
    explicit SarifRules(const Model& model) : model_(model) {}
    // The number of the claim's rule: the rule of its pack, or one of its own.
    std::size_t of_claim(const Claim& claim);
    std::size_t of_finding(FindingKind kind);
    const std::string& id(std::size_t index) const { return ids_[index]; }
    const Json& all() const { return all_; }

 private:
    std::size_t add(const std::string& id, Json descriptor);
    const Model& model_;
    std::map<std::string, std::size_t> known_;
    std::vector<std::string> ids_;
    Json all_ = Json::array();
};

}  // namespace lanyard::report
