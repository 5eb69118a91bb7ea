// The argument that a model gives for a vehicle, in Goal Structuring Notation (GSN Community Standard, version 3, 2021;
// from memory): goals that are broken down by strategies until solutions, items of evidence, carry them; contexts,
// assumptions and justifications beside them.
//
// What is not shown is not hidden. A goal that nothing carries is undeveloped, as the standard has it. A claim that is
// refuted or vacuous is a goal that its evidence challenges (the standard's dialectic extension): it is defeated, and
// so is every goal above it.
// Tested by: tests/report/outputs_test.cpp, tests/outputs/outputs_test.py
#pragma once

#include <string>
#include <vector>

#include "report/filmed.hpp"
#include "report/header.hpp"

namespace lanyard::report {

// What stands behind a verdict, as `lanyard check --evidence` writes it.
struct EvidenceMark {
    ClaimId claim;
    std::string folder;
    std::string sha256;  // of the lines that sha256sum prints of the files in it, by name
};

struct SafetyCase {
    enum class Kind { goal, strategy, solution, context, assumption, justification };
    // Of goals and strategies: whether all that they ask for is shown.
    enum class Standing { met, open, not_met };
    enum class Relation { supported_by, in_context_of, challenged_by };

    struct Element {
        Kind kind = Kind::goal;
        std::string id;         // "G1", "S1", "Sn1", "C1", "A1", "J1"
        std::string statement;  // one line
        Standing standing = Standing::met;
        bool undeveloped = false;
        std::vector<std::pair<Relation, std::size_t>> links;  // in `elements`; in the order in which they are told

        bool has_standing() const { return kind == Kind::goal || kind == Kind::strategy; }
    };
    std::vector<Element> elements;  // the top goal first
};

SafetyCase safety_case(const Model& model, const FilmedResults& results, const std::vector<EvidenceMark>& evidence,
                       const Versions& versions);

// "goal", "solution" ...; "met", "OPEN", "NOT MET".
std::string kind_name(SafetyCase::Kind kind);
std::string standing_name(SafetyCase::Standing standing);

// Indented, each element told once.
std::string safety_case_text(const SafetyCase& argument);
// For Graphviz, with the shapes of the notation.
std::string safety_case_dot(const SafetyCase& argument, const std::string& title);

}  // namespace lanyard::report
