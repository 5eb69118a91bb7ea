// What of the wiring can have a say in a claim.
//
// What it decides: for each question that a claim's cone asks of the wiring, the pieces on which the answer can depend,
// with all pieces free at once (circuit/freed.hpp). What is left out may be changed in any way that joins nothing new,
// one piece or all of them, and the answer stays what it is for all positions of the rest.
//
// How: the levels (circuit/levels.hpp) are worked out with sets of pieces in the place of terms. A term that is always
// on or always off is known to be so; any other is the set of what it is made of. Constants are put away at once: what
// leads to a node that is always ground can bring no plus there, and drops out. So a lamp between a bus and the chassis
// has no say in what else hangs on the bus, and a switch there has: closed, it shorts the bus.
//
// Why it is sound: a term's value depends on nothing but what is in its set, by induction over the connectives. More
// may be named than has a say, as no set knows that two terms exclude each other.
//
// When it gives up: never; but it costs about the cube of the number of nodes. Callers look at affordable().
#pragma once

#include <memory>
#include <set>

#include "circuit/freed.hpp"
#include "circuit/levels.hpp"
#include "claims/cone.hpp"

namespace lanyard {

// Sets of pieces, by number: branches first, then sources.
class PieceSets {
 public:
    using Bits = std::vector<std::uint64_t>;
    struct Term {
        enum class Kind { off, on, open } kind = Kind::off;
        std::shared_ptr<const Bits> bits = {};  // open: what it is made of; null: of nothing that is a piece
    };

    PieceSets(const FreedWiring& wiring, std::size_t branches, const std::set<int>& faults)
        : wiring_(&wiring), branches_(branches), faults_(&faults) {}

    Term constant(bool b) const { return {b ? Term::Kind::on : Term::Kind::off}; }
    Term both(const Term& a, const Term& b) const { return joined(a, b, Term::Kind::off); }
    Term either(const Term& a, const Term& b) const { return joined(a, b, Term::Kind::on); }
    Term negation(const Term& a) const { return a.kind == Term::Kind::open ? a : constant(a.kind == Term::Kind::off); }
    bool is(const Term& a, bool b) const { return a.kind == (b ? Term::Kind::on : Term::Kind::off); }
    Term happens(const WiringEvent& e) const;

 private:
    Term joined(const Term& a, const Term& b, Term::Kind wins) const;
    Term piece(std::size_t number) const;

    const FreedWiring* wiring_;
    std::size_t branches_;
    const std::set<int>* faults_;
};

class Influence {
 public:
    // `faults`: those that the claim's conditions let happen; the others do not.
    Influence(const Model& model, std::set<int> faults);
    Influence(const Influence&) = delete;
    Influence& operator=(const Influence&) = delete;

    static bool affordable(const Model& model);

    // For cone_of(): notes what has a say in the signal's answer and follows it.
    FollowWiring follow();
    bool has_branch(std::size_t branch) const { return branches_[branch]; }
    bool has_source(std::size_t source) const { return sources_[source]; }
    bool has_input(std::size_t input) const { return inputs_[input]; }

 private:
    void probe(int index, const std::function<void(SignalId)>& add);
    void note(const PieceSets::Term& t, const std::function<void(SignalId)>& add);

    const Model& m_;
    std::set<int> faults_;
    FreedWiring wiring_;
    Levels<PieceSets> levels_;
    std::vector<bool> branches_, sources_, inputs_, probes_;
};

// The faults that may happen under the conditions of a claim.
std::set<int> faults_of(const Model& model, int claim);

}  // namespace lanyard
