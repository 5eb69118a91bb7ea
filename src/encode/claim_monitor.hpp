// The claim as a monitor: state that watches a run and tells when the claim is broken.
#pragma once

#include "encode/world.hpp"

namespace lanyard::encode {

class ClaimMonitor : EncoderPart {
 public:
    ClaimMonitor(const EncoderPart& base, ClaimId claim, Conditions& conditions, EngineModes& engine,
                 PhysicalWorld& world)
        : EncoderPart(base),
          claim_(claim ? &m_.claims[claim] : nullptr),
          conditions_(conditions),
          second_(conditions.second()),
          engine_(engine),
          world_(world) {}

    void set_switches();  // that the claim moves or holds still, before anything reads one
    void watch();

 private:
    z3::expr boolean(const Expr& e) { return meaning_.boolean(e, {"claim", false}); }
    z3::expr bit(StateRole role) { return s_.state({role, Whole::claim}, truth(false), "claim"); }
    z3::expr moves_on();  // the claim's own choice
    RunClock& clock(StateRole role, const z3::expr& running) {
        return s_.clock({role, Whole::claim}, "claim", running, false);
    }
    void response(const Response& r, const z3::expr& p, const z3::expr& q);
    void response_once(const Response& r, const z3::expr& p, const z3::expr& q);
    void response_in_total(const Response& r, const z3::expr& p, const z3::expr& q);
    z3::expr in_window(const z3::expr& may_begin, long scans);
    void change_limit(const ChangeLimit& l);
    void recoverable(const Recoverable& r);
    void untouched(const Indexed<Switch, bool>& which);
    void driver(const Procedure& p);
    void procedure(const Procedure& p);
    void world_of_step(const Phase& phase, const z3::expr& here, const std::string& name);

    const Claim* claim_;  // null: none, and nothing to watch
    Conditions& conditions_;
    const std::optional<z3::expr>& second_;
    EngineModes& engine_;
    PhysicalWorld& world_;
};

}  // namespace lanyard::encode
