// A run, played: what each signal is at each scan.
#pragma once

#include <lanyard/model.hpp>

namespace lanyard::api {

enum class Mode { stopped, cranking, running, coasting };  // of the engine

struct Number {
    std::string exact;   // in the unit: a decimal where it is one, "0.07", else a fraction, "1/3"
    double rounded = 0;  // nearest floating-point number, for drawing; nothing is judged by it
    std::string unit;    // "psi"; empty for a number without one
};
using Value = std::variant<bool, Mode, Number>;

struct Change {
    long scan = 0;
    std::string signal;
    Value value;  // from this scan on
};

// A value: copies are cheap. The run is played when it is first asked, exactly, scan by scan, and kept as long as a
// copy lives: a run of n scans of s signals takes the memory of n times s numbers. May be asked by several threads.
class Run {
 public:
    long scans() const;                        // at least 1. Scan n is at n scan periods, from 0
    std::string time_s(long scan) const;       // exact, in seconds
    std::vector<std::string> signals() const;  // all there is to see, by the names that `lanyard run` shows
    // Every signal at scan 0, then only what changes, by scan. A quantity that moves changes at every scan. Without the
    // faults that are never there.
    std::vector<Change> changes() const;
    // What signals are at a scan, in the order asked for. Rejected: an unknown signal or scan.
    std::variant<std::vector<Value>, Rejected> values(long scan, const std::vector<std::string>& signals) const;

    struct Impl;  // known to the implementation only
    explicit Run(std::shared_ptr<const Impl> impl) : impl_(std::move(impl)) {}

 private:
    std::shared_ptr<const Impl> impl_;
};

}  // namespace lanyard::api
