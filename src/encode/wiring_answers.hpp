// What probes find in the wiring and in what moves: where the answer is open, the world chooses.
#pragma once

#include "encode/power.hpp"
#include "encode/wiring_terms.hpp"
#include "encode/world.hpp"

namespace lanyard::encode {

class WiringAnswers : EncoderPart {
 public:
    WiringAnswers(const EncoderPart& base, Faults& faults, Power& power, PhysicalWorld& world)
        : EncoderPart(base), faults_(faults), power_(power), world_(world) {}

    z3::expr answer(ProbeId probe);
    z3::expr asked(ProbeKind kind, AnyId index);  // false where nobody asks

 private:
    using Truths = WiringTerms::Truths;
    z3::expr before(ProbeId probe);  // the answer at the scan before
    Truths truths(const Probe& probe);
    Truths coil(const Probe& probe);
    z3::expr happens(const WiringEvent& e, Stage stage);
    z3::expr conducts(const Branch& b, Stage stage);
    z3::expr is_live(SourceId source);

    Faults& faults_;
    Power& power_;
    PhysicalWorld& world_;
    WiringTerms terms_{*this, faults_, [this](const WiringEvent& e, Stage stage) { return happens(e, stage); }};
    std::map<ProbeId, z3::expr> answers_, before_;
};

}  // namespace lanyard::encode
