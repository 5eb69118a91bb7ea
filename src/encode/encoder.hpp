// The encoding, composed of its parts. Each makes its things on demand and once, and holds them alone:
//
//   SystemBuilder  the system in the making, its clocks and the rule of leaps
//   Conditions     which condition is obeyed where, the claim's second part, the first scan
//   Faults         which faults are there
//   Power          the controller's power, the contacts of relays
//   EngineModes    the engine's mode and its times
//   PhysicalWorld  quantities, positions of switches, what the controller sees of both
//   WiringAnswers  what probes find in the wiring; nobody else sees WiringTerms, its levels
//   Elements       the memory of elements
//   TableProducts  products of two numbers
//   Expressions    nothing of its own
//   Signals        signals, whatever makes them
//   ClaimMonitor   the claim's state; it sets positions
//
// A part asks the builder and those that it is given below, all of which stand before it. Where the model leads back -
// from a quantity's line to a signal, from a relay to the wiring, from the wiring to an output - it asks Meaning, which
// is this class; what would go round in a circle is made later (SystemBuilder::later).
#pragma once

#include "encode/claim_monitor.hpp"
#include "encode/expressions.hpp"
#include "encode/signals.hpp"
#include "encode/wiring_answers.hpp"

namespace lanyard::encode {

class Encoder : private Meaning {
 public:
    Encoder(z3::context& ctx, const Model& model, ConditionId condition, ClaimId claim, const EncodeOptions& options)
        : condition_(condition), claim_(claim), system_(ctx, model, options) {}
    System build();

 private:
    z3::expr boolean(const Expr& e, const Owner& who) override { return expressions_.boolean(e, who); }
    Num number(const Expr& e, const Owner& who) override { return expressions_.number(e, who); }
    z3::expr signal(SignalId id) override { return signals_.signal(id); }
    Num signal_number(SignalId id) override { return signals_.number(id); }
    z3::expr driving(SignalId id) override { return signals_.driving(id); }
    z3::expr last(SignalId id) override { return signals_.last(id); }
    z3::expr answer(ProbeId probe) override { return wiring_.answer(probe); }
    z3::expr asked(ProbeKind kind, AnyId index) override { return wiring_.asked(kind, index); }

    ConditionId condition_;
    ClaimId claim_;
    SystemBuilder system_;
    EncoderPart base_{system_, *this};
    Conditions conditions_{base_, condition_, claim_};
    Faults faults_{base_, conditions_};
    Power power_{base_, faults_};
    EngineModes engine_{base_, conditions_};
    PhysicalWorld world_{base_, conditions_, faults_, engine_};
    WiringAnswers wiring_{base_, faults_, power_, world_};
    Elements elements_{base_, power_};
    TableProducts products_{base_, power_};
    Expressions expressions_{base_, engine_, world_, elements_, products_};
    Signals signals_{base_, conditions_, faults_, power_, world_};
    ClaimMonitor monitor_{base_, claim_, conditions_, engine_, world_};
};

}  // namespace lanyard::encode
