// Which hand switches force a value upon a signal, and how.
//
// What it decides: positions of single contacts of hand switches, each of which alone makes a signal on (or off), with
// all other names unknown and everything at rest for long. "Alone" is taken at its best: on its way to a coil or an
// input everything else is closed.
//
//   expression   by its operators: `a AND b` is off where a or b is, on where both are; a timer follows its input, a
//                latch the input that wins; edges, counts, comparisons of numbers and votes are forced by nothing
//   output       by its expression, and off without the controller's power
//   load         off where a contact on its only way to plus or ground is open; one that outputs feed directly is off
//                where all of them are; a magneto where its lead is grounded
//   relay        as its coil: on where its way is closed, off where its only way is open
//   wired input  is away from its pull where its pin is led there, and with its pull where that way is open
//
// Why it is sound: each rule gives a value that holds in all runs in which the contact has stood so for long and the
// rest of its way is closed. When it gives up: cycles of definitions, ways of which there are two, chains of
// more than `longest_chain` names: nothing is said.
// Tested by: tests/findings/protection_test.cpp
#pragma once

#include <map>
#include <set>

#include "circuit/net.hpp"
#include "circuit/ways.hpp"

namespace lanyard {

// Contacts of a hand switch conduct, or do not.
struct Cause {
    SwitchId hand_switch;
    bool conducts = false;
    friend auto operator<=>(const Cause&, const Cause&) = default;
};
using Causes = std::set<Cause>;

class Forced {
 public:
    explicit Forced(const Net& net) : net_(net), m_(net.model()), ways_(net) {}

    Causes by(SignalId id, bool value);

 private:
    struct Found {
        Causes causes;
        bool anyway = false;  // it has the value whatever happens
    };

    Found expression(const Expr& e, bool value);
    Found each(const Expr& e, bool value, bool all);
    Found logic(SignalId id, bool value);
    Found load(LoadId load, bool value);
    Found magneto(LoadId load);
    Found contact(RelayId relay, bool value);
    Found input(WiredInputId input, bool value);
    Found no_power();
    // The consumer or pin has nothing there, because its only way is open.
    Found opened(NodeId node, Sign sign);
    // It is fed, because its way is closed.
    Found closed(NodeId node);
    Found branch(const Branch& b, bool conducts);
    Found find(SignalId id, bool value);

    const Net& net_;
    const Model& m_;
    Ways ways_;
    int depth_ = 0;
    std::map<std::pair<SignalId, bool>, Found> known_;  // while it is being found: nothing
};

}  // namespace lanyard
