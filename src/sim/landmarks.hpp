// Where in a model things change: the values at which comparisons and tables turn, the times of its clocks.
#pragma once

#include <optional>
#include <set>
#include <vector>

#include "model/model.hpp"

namespace lanyard::sim {

// An expression that is slope * quantity + offset, readings taken as exact.
struct Affine {
    QuantityId quantity;  // none: a constant
    Rational slope;
    Rational offset;
};
std::optional<Affine> affine(const Model& model, const ExprPtr& e);

// A comparison that says where one quantity lies: below or above a point.
struct HalfLine {
    QuantityId quantity;
    Rational point;
    bool above = false;
    bool strict = false;
};
// Of <, <=, >, >= and (two of them) =; empty where the comparison is not of that form.
std::vector<HalfLine> half_lines(const Model& model, const Expr& comparison);

// Ends of its range and bands, thresholds, each with its neighbourhood; rising, within the range.
Indexed<Quantity, std::vector<Rational>> turning_points(const Model& model);
// In scans, rising, at least 1. `elements`: only these timers count; null = all.
std::vector<long> clock_times(const Model& model, const std::set<ElementId>* elements = nullptr);

// Calls f with every expression that the model holds.
template <class F>
void each_expression(const Model& m, F&& f) {
    const auto give = [&f](const ExprPtr& e) {
        if (e) f(e);
    };
    give(m.supply.on);
    for (const auto& l : m.logic) give(l.is);
    for (const auto& o : m.outputs) give(o.on);
    for (const auto& q : m.quantities) {
        for (const auto& l : q.lines) give(l.when);
    }
    for (const auto& c : m.conditions) {
        for (const auto& e : c.holds) give(e);
    }
    for (const auto& c : m.claims) {
        for (const auto& e : expressions_of(c)) give(e);
    }
}

}  // namespace lanyard::sim
