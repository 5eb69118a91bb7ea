// Boolean functions as truth tables, and what a definition says of them, by looking at every line.
#pragma once

#include <cstdint>
#include <random>
#include <utility>
#include <vector>

#include "fault/cut_sets.hpp"

namespace lanyard::test {

using namespace fault;

// Line x: event i has happened where bit i of x is set.
struct Table {
    std::size_t events = 0;
    std::vector<bool> lines;
};

Table table_of(const Diagrams& s, Function f);  // walks down the diagram for each line

// At least k of the inputs.
Function at_least(Diagrams& s, int k, const std::vector<Function>& inputs);

bool is_monotone(const Table& t);
// From the definition: of all products of literals (3^events) those that imply the function and do not without any one
// literal. Sorted as prime_implicants() is.
std::vector<Implicant> primes_of(const Table& t);
// From the definition: the lines that are true and become false by taking away any one failure. Sorted.
std::vector<fault::CutSet> minimal_lines_of(const Table& t);
double probability_of(const Table& t, const std::vector<double>& p);  // sum over all lines

// The same random circuit as a diagram and as a table: and, or, at-least, if-then-else, negations if wanted, constants.
std::pair<Function, Table> random_circuit(Diagrams& s, std::mt19937_64& dice, bool negations);

}  // namespace lanyard::test
