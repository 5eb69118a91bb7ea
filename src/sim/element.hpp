// The memory elements of IEC 61131-3 (timers, latches, edges, counter) and our own (rate, previous), each as the rule
// that takes its state from one scan to the next. Timers count scans, the present one included.
#pragma once

#include <string>
#include <vector>

#include "claims/run.hpp"
#include "sim/program.hpp"

namespace lanyard::sim {

struct ElementState {
    bool on = false;             // latches, comparators, TP: the output
    bool before = false;         // edges: the input at the scan before
    long count = 0;              // timers, counters
    Value value{false};          // previous()
    std::vector<Rational> past;  // rate: oldest first
};

// As after power-up.
ElementState power_up(const Operation& n);

// What an element is given at a scan.
struct Given {
    bool first = false;  // its inputs that are on or off
    bool second = false;
    long scans = 0;  // its time, rounded up
    long count = 0;
};

// Those whose output is on or off and made of such inputs.
constexpr bool is_switching(Op op) {
    return has_memory(op) && class_of(op) != OpClass::rate && class_of(op) != OpClass::previous;
}

// One scan: the state goes on, the answer is the output.
bool step(Op op, ElementState& s, const Given& in);
void step_rate(ElementState& s, const Rational& x, const Operation& n, Rational& out);

// Appends what of the state still matters: equal texts behave alike.
void append_text(std::string& text, const ElementState& s, Op op);
void append_text(std::string& text, const Value& v);

}  // namespace lanyard::sim
