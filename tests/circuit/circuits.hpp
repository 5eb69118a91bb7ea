// Circuits for the tests: read from texts, made at random, and with everything that switches put somewhere.
#pragma once

#include <string>
#include <vector>

#include "../models.hpp"
#include "circuit/flow.hpp"
#include "sim/dice.hpp"

namespace lanyard::test {

using namespace sim;

// What is left out of a random circuit, so that it fits what it is compared with.
struct Kinds {
    bool shut_consumers = true;  // loads that let no current through to others
    bool minus_leads = true;     // the battery's other end need not be the chassis
    bool faults = true;          // all faults of the parts, under a condition `broken`
};
// The inside of a model: a battery, an alternator, switches, fuses, diodes, loads, coils, ground points between a few
// splices. The first claim names every splice and every load.
std::string random_circuit(Dice& dice, const Kinds& kinds);

// Where everything stands that switches: hand switches, faults.
struct Positions {
    Indexed<Switch, bool> switches;
    Indexed<Fault, bool> faults;
    Indexed<Source, bool> live(const Model& m) const;    // its "live" is the name of a switch, or nothing
    Indexed<Branch, bool> closed(const Model& m) const;  // no contacts of relays, no outputs
    Indexed<Branch, bool> both_ways(const Model& m) const;
    Flow flow(const Model& m) const;
};
// Number `n` of the 2 ^ switches positions, without faults.
Positions positions(const Model& m, unsigned n);
unsigned count_of_positions(const Model& m);

// By name, for cases made by hand.
Positions positions(const Model& m, const std::vector<std::string>& switches_on,
                    const std::vector<std::string>& faults = {});
BranchId branch_named(const Model& m, const std::string& name);
NodeId node_named(const Model& m, const std::string& name);

}  // namespace lanyard::test
