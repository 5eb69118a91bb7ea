// A sequence of scans for people and for other programs: table, CSV, VCD. Nothing in them but the run: no date, no
// path.
#pragma once

#include <string>
#include <vector>

#include "model/model.hpp"
#include "sim/interpreter.hpp"

namespace lanyard::sim {

// A signal under the name by which a trace shows it.
struct TraceColumn {
    SignalId signal;
    std::string name;
};

// Everything that there is to see. Two signals of one name are shown once if they cannot differ; otherwise what the
// controller sees of a switch is called NAME.seen and whether a load has power NAME.powered.
std::vector<TraceColumn> all_columns(const Model& model);
// All but the faults that are never there.
std::vector<TraceColumn> shown_columns(const Model& model, const std::vector<Scan>& scans);
// Those of them that have more than one value in the run.
std::vector<TraceColumn> changing_columns(const Model& model, const std::vector<Scan>& scans);

// One line for the first scan and for every scan at which one of the columns changes, with times in seconds. Numbers
// are rounded to three places.
std::string text_table(const Model& model, const std::vector<Scan>& scans, const std::vector<TraceColumn>& columns);
// One line for every scan; the head names the units. Booleans are 0 and 1, numbers rounded to twelve places.
std::string to_csv(const Model& model, const std::vector<Scan>& scans, const std::vector<TraceColumn>& columns);
// Where a column stands in a value change dump: a scope for the model, in it one for each subsystem ("inputs",
// "logic", "outputs" ...) and for what stands before a dot of a name; identifiers of Verilog, no two of them equal.
struct TracePath {
    std::vector<std::string> scopes;
    std::string name;
    std::string bits;  // "[1:0]": of a number of several bits

    std::string whole() const;  // with dots between
};
std::vector<TracePath> trace_paths(const Model& model, const std::vector<TraceColumn>& columns);

// Value change dump (IEEE 1364-2005, clause 18): Booleans are wires, numbers reals, the engine's mode is a number of
// two bits. Numbers are rounded to three places, with up to twelve where a value would else be told as another one of
// the run or as one at which the model turns. The unit of time is the largest of s, ms, us, ns ... of which the scan
// period is a whole number.
struct TraceTime {
    std::string unit;  // empty: it is the scan itself
    Integer per_scan;
};
TraceTime trace_time(const Rational& scan);
std::string to_vcd(const Model& model, const std::vector<Scan>& scans, const std::vector<TraceColumn>& columns);

}  // namespace lanyard::sim
