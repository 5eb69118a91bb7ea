// Which conditions are obeyed, and where in a run: the claim's own; where the claim has a second part, the first part's
// before it.
#pragma once

#include "encode/meaning.hpp"

namespace lanyard::encode {

class Conditions : EncoderPart {
 public:
    Conditions(const EncoderPart& base, ConditionId condition, ClaimId claim);

    const std::vector<const Condition*>& of_parts() const { return parts_; }  // one or two
    const std::optional<z3::expr>& second() const { return second_; }         // state: the second part is on
    z3::expr in_part(std::size_t part);
    z3::expr begun();  // false at scan 0
    void rule_in(std::size_t part, const std::string& label, const z3::expr& holds);
    void add_lines();
    // Where something about a healthy engine is obeyed: always, never, or in one part of the claim.
    bool ever_healthy() const;
    z3::expr healthy();
    void healthy_rule(const std::string& label, const z3::expr& holds);

 private:
    std::vector<const Condition*> parts_;
    std::optional<z3::expr> second_, begun_;
};

}  // namespace lanyard::encode
