// What stays as it is in every run from the end of a refuting run on: the memory elements whose state the closed set
// fixes, the switches that nobody may move, and what follows from these by logic alone.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "claims/verdict.hpp"
#include "report/film.hpp"

namespace lanyard::report {

class Fixed {
 public:
    Fixed(const Film& film, const Certificate& closed);

    // The remembered state of the element in the whole of the closed set.
    std::optional<bool> state(ElementId id) const;
    // What a loop-back reads from the film's end on.
    std::optional<bool> loop(const Loop& loop) const { return bit({StateRole::last, loop.output}); }
    // The closed set says where the switch stays, and nobody may move it.
    bool stays(const Switch& hand) const { return bit({StateRole::was, hand.position}).has_value(); }
    // Below this the count does not fall; 0 where nothing is known.
    long counted(ElementId id) const;
    // The value that the expression has at every scan from the film's end on; nothing where that does not follow. As
    // far as the controller has power.
    std::optional<bool> always(const Expr& e) const { return always(e, 0); }
    // Why, in words: what it follows from.
    std::vector<std::string> causes(const Expr& e) const;
    // That a Boolean signal of logic stays as it is, and why.
    std::vector<std::string> causes_of(SignalId id) const;

 private:
    const Film& film_;
    const Model& m_;
    const Facts& facts_;
    std::map<ElementId, bool> states_;
    std::map<ElementId, long> counts_;
    static constexpr int deepest = 24;

    std::optional<bool> bit(const StateKey& key) const;
    void take_elements(const ExprPtr& line);
    std::optional<bool> always(const Expr& e, int depth) const;
    std::optional<bool> signal(SignalId id, int depth) const;
    std::optional<bool> all_of(const Expr& e, bool wanted, int depth) const;
    std::optional<bool> latch(const Expr& e, int depth) const;
    std::optional<bool> edge(const Expr& e, int depth) const;
    std::optional<bool> delay(const Expr& e, int depth) const;
    const Switch* unmoved(SignalId id) const;
    void collect(const Expr& e, int depth, std::vector<std::string>& out) const;
    void collect_signal(SignalId id, int depth, std::vector<std::string>& out) const;
};

}  // namespace lanyard::report
