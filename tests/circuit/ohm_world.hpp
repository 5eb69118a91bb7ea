// What Ohm, Kirchhoff and the fuses make of a wiring whose resistances nobody knows: for each question the lowest and
// the highest reading, over draws of all resistances and over every order in which fuses may go.
//
// Sources are 12 V behind a resistance of their own; wires, contacts, fuses, shorts, conducting diodes and those
// resistances are drawn one by one between 0.3 and 300 micro-ohm, evenly by their logarithm, consumers and field
// windings between 5 ohm and 10 kilo-ohm: so many powers of ten apart that whatever works, works whatever it is, while
// what hangs on a short reads as its chances are. A fuse that carries more than 300 A carries the current of a short.
// Which of those goes first is not known - ratings and speeds are not - so each may; that is done again until none
// carries such a current. A wire that is broken is so in any one of its pieces. A fuse forgets, as it does in the
// manual: it is whole where the short is gone. A wired input has a resistor of 1 .. 100 kilo-ohm inside, from the
// controller's plus to its pin or from its pin to the controller's ground.
#pragma once

#include <random>

#include "ohm_law.hpp"
#include "ohm_net.hpp"

namespace lanyard::test::ohm {

struct Reading {
    double low = 1e9, high = -1e9;  // V
    bool judged = true;
    double off_below = 0.1;
    void add(double v) {
        low = v < low ? v : low;
        high = v > high ? v : high;
    }
    // Three quarters of 12 V; no more than what currents leave along wires.
    bool surely() const { return low > 9; }
    bool surely_not() const { return high < off_below; }
    const char* word() const { return surely() ? "on" : surely_not() ? "off" : "in doubt"; }
};

struct Readings {
    std::map<std::string, Reading> consumers;  // V across; of polar ones from `in` to `out`; windings are among them
    // V of a probe of 10 kilo-ohm, wherever it reads most: `low` to the chassis or the minus of any live source, `high`
    // to the chassis or, of nodes that are cut off from it, to one that is as well. The chassis never has plus,
    // whatever a short does to a minus lead.
    std::map<std::string, Reading> plus;
    std::map<std::string, Reading> chassis;  // V against the chassis when pulled up to 12 V by 10 kilo-ohm; 12 minus
                                             // that, so that "on" is grounded; not judged below the chassis
    std::map<std::string, Reading> pins;     // V of a wired input against the controller's ground, with no pull but its
                                             // own; below 1 V it is low; not judged unless the controller always has 11
    bool shorted = false;                    // currents of a short flow, in some draw, when all fuses have gone
    bool blown = false;                      // a fuse has gone
    bool solved = true;
};

struct Questions {
    int draws = 6;
    bool nodes = false;  // ask the nodes as well, which takes longer
};
Readings look(const Net& net, const State& state, const Questions& q, std::mt19937_64& random);

// One network of those, with no fuse gone.
Network any_network(const Net& net, const State& state, std::mt19937_64& random);

}  // namespace lanyard::test::ohm
