// What has power: the controller, and what the contacts of relays let through.
#pragma once

#include "encode/faults.hpp"

namespace lanyard::encode {

class Power : EncoderPart {
 public:
    Power(const EncoderPart& base, Faults& faults) : EncoderPart(base), faults_(faults) {}

    z3::expr powered();  // the controller
    z3::expr powered_before();
    bool may_be_lost() { return !powered().is_true(); }
    z3::expr contact(RelayId id);
    z3::expr contact_before(RelayId id);
    z3::expr wants(RelayId id) const { return wants_.at(id); }  // where the contact, already asked for, is drawn

 private:
    z3::expr pulls(RelayId id);

    Faults& faults_;
    std::optional<z3::expr> powered_, powered_before_;
    std::map<RelayId, z3::expr> contacts_before_, wants_;
};

}  // namespace lanyard::encode
