// What every prover is, and the contract for whoever adds one.
//
// A prover answers one question: can the target be reached? It may say
//   reached      with the least number of leaps it knows of. It owes no run: one canonical search derives it again;
//   unreachable  with a certificate. It is checked in a fresh solver by code that knows nothing of provers;
//   too coarse   with points at which the rules for products have to be refined: the driver starts all provers anew
//   nothing      with the depth up to which it knows that nothing is reached.
// Rules:
//   * work(budget) spends about `budget` of Z3's resource units, which count the same on every machine, and never
//     looks at the clock, a random device, another prover or a thread. Called again it goes on (or starts anew)
//     with the new budget; it grows from round to round.
//   * A prover owns its Z3 context. It is called by one thread at a time.
//   * Z3's `unknown` is never an answer. A prover that is interrupted says nothing.
//   * finished() tells that further work cannot help, so that the driver stops asking.
// To add one: derive from Prover, add a line to the table in provers.cpp; help and --prover are fed from there.
#pragma once

#include <memory>
#include <string>
#include <variant>
#include <vector>

#include "claims/question.hpp"

namespace lanyard::prove {

struct Reached {
    std::size_t depth = 0;  // leaps, the last one hits
};
struct InvariantFound {
    Certificate certificate;
};
struct Nothing {
    std::size_t clear_depth = 0;  // no hit within this many leaps
};
// What it reached is none of the model's own runs: products (two-way tables) have to be refined at these points.
struct TooCoarse {
    std::vector<Tangent> tangents;
};
using Finding = std::variant<Reached, InvariantFound, Nothing, TooCoarse>;

// What is at work and can be told to end soon.
class Interruptible {
 public:
    virtual ~Interruptible() = default;
    // Called from another thread.
    virtual void interrupt() = 0;
};

class Prover : public Interruptible {
 public:
    virtual Finding work(std::uint64_t budget) = 0;
    virtual bool finished() const { return false; }
};

struct ProverKind {
    std::string name;
    std::string meaning;  // one line for help
    unsigned share;       // of a round's budget: budget / share
    std::uint64_t from;   // it joins in rounds with at least this budget: what it does first costs much
    bool proves;          // else it refutes
    std::unique_ptr<Prover> (*make)(const Question&);
};
// By rank: in one round the first that answers wins.
const std::vector<ProverKind>& prover_table();
const ProverKind& prover_named(const std::string& name);

// No prover looks for longer induction.
inline constexpr int deepest_induction = 3;

}  // namespace lanyard::prove
