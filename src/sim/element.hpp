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
ElementState power_up(const Node& n);

bool step_ton(ElementState& s, bool in, long preset);
bool step_tof(ElementState& s, bool in, long preset);
bool step_tp(ElementState& s, bool in, long preset);
bool step_sr(ElementState& s, bool set, bool reset);
bool step_rs(ElementState& s, bool set, bool reset);
bool step_r_trig(ElementState& s, bool clk);
bool step_f_trig(ElementState& s, bool clk);
bool step_ctu(ElementState& s, bool up, bool reset, long preset);
bool step_band(ElementState& s, bool on, bool off);
void step_rate(ElementState& s, const Rational& x, const Node& n, Rational& out);

// Appends what of the state still matters: equal texts behave alike.
void append_text(std::string& text, const ElementState& s, Op op);
void append_text(std::string& text, const Value& v);

}  // namespace lanyard::sim
