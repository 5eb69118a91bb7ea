// What lanyard can say of a claim, with the evidence that it owes for saying so. Plain values: the provers that find
// them, the code that checks them and the reports all share this and need nothing of each other.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "claims/causes.hpp"
#include "claims/never.hpp"
#include "claims/run.hpp"
#include "claims/state_key.hpp"
#include "model/model.hpp"

namespace lanyard::claims {

// Where planes touch the product of two numbers (encode/products.cpp); a proof rests on those that were in use.
struct Tangent {
    std::string product;
    Rational u, v;
    friend bool operator==(const Tangent&, const Tangent&) = default;
};

// A set of states that holds at the start, is kept by every step, and excludes the bad state: text in SMT-LIB 2.6
// over the state's names. `lemmas` is read as a conjunction. With `induction` k > 1 the exclusion needs k
// consecutive good steps.
struct Certificate {
    std::vector<std::string> lemmas;
    int induction = 1;
    std::vector<Tangent> tangents;
    // Binding quantities (binding.hpp) were looked at beyond the claim's cone too.
    bool with_binding_quantities = false;
    bool leaps = true;  // false: every step is one scan
    // What the lemmas fix of single pieces of state; filled by certify (facts.hpp).
    Facts facts = {};
    // What the verdict rests on, by name, sorted; filled by certify (rests_on.hpp).
    std::vector<std::string> assumptions;
    std::vector<std::string> elements;         // logic and outputs
    std::vector<std::string> parts;            // wires, fuses, switches, relays, sensors ...
    std::vector<std::string> unused_elements;  // logic and outputs that could be anything
};

// An obligation that has been discharged, as an SMT-LIB file.
struct CheckedText {
    std::string name, text;
    bool satisfiable = false;  // as it has to be
};

struct Proved {
    // Not for possible. Recoverable: that the playbook leads to the goal from everywhere.
    std::optional<Certificate> certificate;
    Run example;  // a run at which the claim demands something; possible: reaches the goal
    // Recoverable: the model with one more claim at its end, a procedure from every state. It and the certificate are
    // what the verdict rests on, and the example is one of its runs.
    std::shared_ptr<const Model> playbook = {};
    std::vector<CheckedText> time = {};  // that the assumptions let time go on
    // What is shown instead of the example, on which nothing rests: the claim at work.
    std::optional<Run> at_work = {};

    const Run& shown() const { return at_work ? *at_work : example; }
};
struct Refuted {
    // Ends at the violation. Recoverable: the way into the trap. Not for possible.
    std::optional<Run> run;
    // Possible: the goal is unreachable. Recoverable: it is so from the run's end on.
    std::optional<Certificate> certificate;
    std::string remark;  // e.g. no controller of this scan period can meet the bound
};
// The claim says nothing: what it waits for cannot happen, or it is true whatever the logic does. Counts as a failure.
struct Vacuous {
    std::string reason;
    std::optional<Certificate> certificate = {};  // that the premise is unreachable
    std::optional<Run> run = {};                  // the condition stops time: the way to where no scan may follow
    std::vector<CheckedText> time = {};           // and that none may
    bool tautology = false;                       // the certificate: that any violation is, whatever the logic does
};
struct Undecided {
    std::string reason;
    long depth = 0;         // leaps up to which no counterexample exists; unbroken: no run that exercises it
    bool unbroken = false;  // no violation is possible; only a run that exercises the claim was not found
};

using Verdict = std::variant<Proved, Refuted, Vacuous, Undecided>;

// What a verdict rests on, whichever it is; null where it rests on none.
const Certificate* certificate_of(const Verdict& verdict);
// The run that speaks against the claim: that refutes it, or leads to where its condition stops time; null if none
// does.
const Run* run_against(const Verdict& verdict);

struct Timing {  // seconds, shown on the terminal only
    double finding = 0, minimising = 0, rechecking = 0, replaying = 0;
};

struct ClaimResult {
    ClaimId claim;  // index in Model::claims
    Verdict verdict;
    std::string prover;  // which one found it
    bool leaps = true;   // false: the leap lemma was not settled, every step is one scan
    Timing timing;
    std::optional<Causes> causes = {};  // of the run that breaks the claim; nothing: nobody has looked for them
    std::vector<OtherRun> others = {};  // that break it too, each with a set of causes of its own
    NoMore no_more = NoMore::enough;
    std::vector<Never> never = {};  // why its goal is unreachable, or what it waits for does not happen
    std::optional<Meant> meant = {};
};

}  // namespace lanyard::claims
