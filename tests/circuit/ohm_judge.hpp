// The program's answers about a wiring, held against those of Ohm's law: what is surely so must be so in every draw,
// what surely is not so in none.
#pragma once

#include <functional>

#include "circuits.hpp"
#include "ohm_world.hpp"

namespace lanyard::test::ohm {

using namespace sim;

// A model and where everything stands in it.
struct Case {
    Json model;
    State state;
};

struct Difference {
    std::string question;  // "works L1", "plus n0"
    std::string answer;    // of the program: "surely on", "surely off"
    Reading reading;
    std::string currents;  // "short", "fuse gone", "no short"
};

// How often each was the answer where Ohm's law leaves no doubt.
struct Tally {
    long cases = 0, unsolved = 0;
    std::map<std::string, long> clear, doubted;  // per shape: questions, and those to which the program says "may be"
};

// The program's reading of the model; nothing if it is no good model.
std::optional<Model> program_model(const Json& model);

// By kind of question - "works", "high" of a wired input, "plus", "grounded" - and name.
using Answers = std::map<std::pair<std::string, std::string>, Fed>;
Answers answers_of(const Model& m, const Net& net, const State& state, bool nodes);

// `m` was read from the case's model.
std::vector<Difference> judge(const Case& c, const Model& m, const Questions& q, unsigned seed, Tally& tally);

// Smaller, as long as the same answer to the same question is still wrong; `d` becomes that of the smaller case.
Case shrink(Case c, Difference& d, const Questions& q);
std::string told(const Case& c, const Difference& d);

}  // namespace lanyard::test::ohm
