// The voltages of a network of resistances, ideal diodes and sources.
//
// Source: modified nodal analysis, C.-W. Ho, A. E. Ruehli, P. A. Brennan, "The modified nodal approach to network
// analysis", IEEE Trans. Circuits and Systems 22 (1975). Diodes: K. G. Murty, "Note on a Bard-type scheme for solving
// the complementarity problem", Opsearch 11 (1974): of all diodes that contradict their state the first changes it;
// this ends, since a network of positive resistances makes a P-matrix.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace lanyard::test::ohm {

struct Resistor {
    int a = 0, b = 0;
    double ohm = 1;
};
struct Diode {
    int anode = 0, cathode = 0;
    double ohm = 1;  // while it conducts
};
struct Battery {
    int plus = 0, minus = 0;
    double volt = 12, ohm = 1;
};

struct Network {
    int nodes = 1;  // node 0 is at 0 V
    std::vector<Resistor> resistors;
    std::vector<Diode> diodes;
    std::vector<Battery> batteries;
};

constexpr double leak = 1e9;  // ohm; from every node to node 0, so that all have a voltage

// V per node. Nothing if the diodes come to no agreement, which would be an error of this file.
std::optional<std::vector<double>> voltages_of(const Network& n);

// As the input of ngspice, whose operating point is V(1), V(2) ...
std::string spice_of(const Network& n, const std::string& title);

}  // namespace lanyard::test::ohm
