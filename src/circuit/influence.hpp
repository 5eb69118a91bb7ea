// What of the wiring can have a say in a claim.
//
// What it decides: for each question that a claim's cone asks of the wiring, the pieces on which the answer can depend,
// with all pieces free at once (circuit/freed.hpp). What is left out may be changed in any way that joins nothing new,
// one piece or all of them, and the answer stays what it is for all positions of the rest.
//
// How: the levels (circuit/levels.hpp) are worked out as decision diagrams over all pieces; what an answer depends on
// is the support of its diagram. So a lamp between a bus and the chassis has no say in what else hangs on the bus, and
// a switch there has: closed, it shorts the bus. Where the diagrams grow too large, sets of pieces stand in the place
// of terms: a term that is always on or always off is known to be so, any other is the set of what it is made of.
//
// Why it is sound: a function depends on its support only; and a term's value on nothing but what is in its set, by
// induction over the connectives. Of sets more may be named than has a say, as they know of no term that it implies
// another.
//
// When it gives up: never; but it costs about the cube of the number of nodes. Callers look at affordable().
// Tested by: tests/certify/rests_on_test.py
#pragma once

#include <memory>
#include <optional>
#include <set>

#include "base/diagrams.hpp"
#include "circuit/freed.hpp"
#include "circuit/levels.hpp"
#include "claims/cone.hpp"

namespace lanyard::circuit {

// Numbers of what has a say: branches first, then sources.
struct PieceNumbers {
    const FreedWiring* wiring;
    std::size_t branches;  // of the model
    std::size_t of(BranchId branch) const { return branch.index(); }
    std::size_t of(SourceId source) const { return branches + source.index(); }
    std::size_t of(const FreedWiring::Piece& piece) const { return piece.branch ? of(piece.branch) : of(piece.source); }
    std::size_t count() const { return branches + wiring->circuit.sources.size(); }
};

// Sets of pieces, by number.
class PieceSets {
 public:
    using Bits = std::vector<std::uint64_t>;
    struct Term {
        enum class Kind { off, on, open } kind = Kind::off;
        std::shared_ptr<const Bits> bits = {};  // open: what it is made of; null: of nothing that is a piece
    };

    PieceSets(const PieceNumbers& numbers, const std::set<FaultId>& faults) : numbers_(numbers), faults_(&faults) {}

    Term constant(bool b) const { return {b ? Term::Kind::on : Term::Kind::off}; }
    Term both(const Term& a, const Term& b) const { return joined(a, b, Term::Kind::off); }
    Term either(const Term& a, const Term& b) const { return joined(a, b, Term::Kind::on); }
    Term negation(const Term& a) const { return a.kind == Term::Kind::open ? a : constant(a.kind == Term::Kind::off); }
    bool is(const Term& a, bool b) const { return a.kind == (b ? Term::Kind::on : Term::Kind::off); }
    Term happens(const WiringEvent& e) const;

 private:
    Term joined(const Term& a, const Term& b, Term::Kind wins) const;
    Term piece(std::size_t number) const;

    PieceNumbers numbers_;
    const std::set<FaultId>* faults_;
};

// The same as functions of all pieces. What switches and how its branch is freed are events of their own.
class PieceDiagrams {
 public:
    using Term = Function;

    PieceDiagrams(const PieceNumbers& numbers, const std::set<FaultId>& faults, Diagrams& diagrams)
        : numbers_(numbers), faults_(&faults), d_(&diagrams) {}
    static std::size_t events(const PieceNumbers& numbers);
    std::size_t piece_of(std::size_t event) const;  // beyond the pieces: a fault, a contact that bounces

    Term constant(bool b) const { return d_->constant(b); }
    Term both(Term a, Term b) const { return d_->if_then_else(a, b, constant(false)); }
    Term either(Term a, Term b) const { return d_->if_then_else(a, constant(true), b); }
    Term negation(Term a) const { return d_->negation(a); }
    bool is(Term a, bool b) const { return a == constant(b); }
    Term happens(const WiringEvent& e) const;

 private:
    PieceNumbers numbers_;
    const std::set<FaultId>* faults_;
    Diagrams* d_;
};

class Influence {
 public:
    // `faults`: those that the claim's conditions let happen; the others do not.
    Influence(const Model& model, std::set<FaultId> faults);
    Influence(const Influence&) = delete;
    Influence& operator=(const Influence&) = delete;

    static bool affordable(const Model& model);

    // For cone_of(): notes what has a say in the signal's answer and follows it.
    FollowWiring follow();
    bool has_branch(BranchId branch) const { return branches_[branch]; }
    bool has_source(SourceId source) const { return sources_[source]; }
    bool has_input(WiredInputId input) const { return inputs_[input]; }

 private:
    void probe(ProbeId index, const std::function<void(SignalId)>& add);
    std::vector<bool> say_in(const Probe& p);  // by the pieces' numbers
    std::vector<bool> say_by_sets(const Probe& p);

    const Model& m_;
    std::set<FaultId> faults_;
    FreedWiring wiring_;
    PieceNumbers numbers_;
    Diagrams diagrams_;
    std::optional<Levels<PieceDiagrams>> exact_;  // until a diagram grows too large
    std::optional<Levels<PieceSets>> sets_;       // from then on
    Indexed<Branch, bool> branches_;
    Indexed<Source, bool> sources_;
    Indexed<WiredInput, bool> inputs_;
    Indexed<Probe, bool> probes_;
};

// The faults that may happen under the conditions of a claim.
std::set<FaultId> faults_of(const Model& model, ClaimId claim);

}  // namespace lanyard::circuit
