// Claims on short traces of on/off values, without a controller: what a claim says of a trace is worked out here from
// the meaning of its kind, scan by scan.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "model/model.hpp"
#include "sim/element.hpp"
#include "sim/program.hpp"

namespace lanyard::test {

using namespace sim;

// One letter p, q, r, s for each value that is on.
struct Letters {
    bool p = false, q = false, r = false, s = false;
};
using Trace = std::vector<Letters>;
std::string shown(const Trace& t);  // "pq|-|r"

// A model with the switches p, q, r, x (`s` is a second), loads a and b that are on with p and q, and this one claim.
Model model_with(const std::string& claim);

// Plays one claim of such a model.
class Judge {
 public:
    explicit Judge(const Model& model);
    // Is the claim still unbroken at the end of the trace?
    bool holds(const Trace& trace) const;
    // Is a violation told at the scan at which there is one?
    bool at_once() const;

 private:
    std::vector<std::vector<bool>> values(const Trace& trace) const;  // per expression of the claim, per scan

    const Model& model_;
    Program program_;
    std::vector<OperationId> operations_;  // the claim's expressions
    Indexed<Element, ElementState> power_up_;
};

// All traces of `length` scans in which only the letters p, q, r - and s, with `four` - are on; then longer ones by
// chance, always the same.
void for_each_trace(int length, bool four, const std::function<void(const Trace&)>& f);

// The bound of a response of 40 ms at a scan of 10 ms, by hand: floor(40 / 10) - 1.
inline constexpr int bound = 3;
// `trace`, and behind it scans with nothing on until every bound is over.
Trace padded(Trace trace);

}  // namespace lanyard::test
