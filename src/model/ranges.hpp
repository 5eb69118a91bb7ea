// Which values an expression can have at all, by interval arithmetic over the ranges of quantities and what faulty
// sensors read: an outer bound, the same under every condition.
#pragma once

#include <optional>
#include <vector>

#include "model/model.hpp"

namespace lanyard::model {

class Ranges {
 public:
    explicit Ranges(const Model& m);

    // Nothing where no bound is known. `outside`: seen from outside of the controller, where its signals read 0 while
    // it has no power.
    std::optional<Interval> of(const Expr& e, bool outside) const;
    // On or off whatever happens, if that is so.
    std::optional<bool> truth(const Expr& e, bool outside) const;

 private:
    std::optional<Interval> of_signal(const Expr& e, bool outside) const;
    std::optional<Interval> of_table(const Expr& e) const;
    std::optional<Interval> of_rate(const Expr& e, bool outside) const;
    std::optional<bool> of_comparison(const Expr& e, bool outside) const;
    std::optional<bool> of_connective(const Expr& e, bool outside) const;

    const Model& m_;
    Indexed<Signal, std::optional<Interval>> numbers_;  // by signal
    Indexed<Signal, std::optional<bool>> truths_;
};

}  // namespace lanyard::model
