// Where plus and ground get to, as terms over what switches and over faults.
#pragma once

#include <set>

#include "circuit/freed.hpp"
#include "circuit/switching.hpp"
#include "encode/faults.hpp"
#include "encode/folded.hpp"

namespace lanyard::encode {

// The looks at the wiring in a scan: before the controller, for the coils, for all the rest.
enum class Stage { controller, coils, rest };

// Terms of the wiring's levels over switches and faults.
class FaultGates {
 public:
    using Term = z3::expr;
    using Happens = std::function<z3::expr(const WiringEvent&)>;
    FaultGates(z3::context& ctx, Happens happens) : ctx_(&ctx), happens_(std::move(happens)) {}

    z3::expr constant(bool b) const { return ctx_->bool_val(b); }
    z3::expr both(const z3::expr& a, const z3::expr& b) const { return folded_and(a, b); }
    z3::expr either(const z3::expr& a, const z3::expr& b) const { return folded_or(a, b); }
    z3::expr negation(const z3::expr& a) const { return folded_not(a); }
    bool is(const z3::expr& a, bool b) const { return b ? a.is_true() : a.is_false(); }
    z3::expr happens(const WiringEvent& e) const { return happens_(e); }

 private:
    z3::context* ctx_;
    Happens happens_;
};

class WiringTerms : EncoderPart {
 public:
    using Truths = Levels<FaultGates>::Answer;  // what must be, what may be
    using Happens = std::function<z3::expr(const WiringEvent&, Stage)>;
    WiringTerms(const EncoderPart& base, Faults& faults, Happens happens)
        : EncoderPart(base), faults_(faults), happens_(std::move(happens)) {}

    // Of a probe that is_of_the_levels.
    Truths wired(Stage stage, const Probe& probe);

 private:
    Switching& switching();
    Truths by_case(const Switching::Answers& answers, Stage stage);
    z3::expr formula(Function f, Stage stage);
    Levels<FaultGates>& levels(Stage stage);
    Truths over_faults(const Truths& a);
    z3::expr placeholder(const WiringEvent& e, Stage stage);
    z3::expr filled(const z3::expr& e);

    // --- parts.cpp
    const std::string& part_name(const Branch& b) const;
    const FreedWiring& wiring_in_parts();
    z3::expr freed(Id<FreedWiring::Piece> which);
    void define_placeholder(const z3::expr& constant, const std::pair<Stage, WiringEvent>& what);

    Faults& faults_;
    Happens happens_;
    std::optional<Switching> switching_;
    std::map<Stage, std::map<std::uint32_t, z3::expr>> formulas_;  // by the diagram's node
    std::map<Stage, Levels<FaultGates>> levels_;
    std::map<unsigned, std::pair<Stage, WiringEvent>> stands_for_;  // by the name's id
    std::vector<z3::expr> kept_;                                    // the names, so that ids stay taken

    // --- parts.cpp
    std::optional<FreedWiring> wiring_in_parts_;
    Indexed<FreedWiring::Piece, std::optional<z3::expr>> freed_;
    std::set<unsigned> defined_;  // placeholders with an equation
};

}  // namespace lanyard::encode
