// Which faults are there.
#pragma once

#include "encode/conditions.hpp"

namespace lanyard::encode {

class Faults : EncoderPart {
 public:
    Faults(const EncoderPart& base, Conditions& conditions)
        : EncoderPart(base), conditions_(conditions), parts_(conditions.of_parts()) {}

    bool may_happen(FaultId fault) const;
    bool may_happen(const std::vector<FaultId>& faults) const;
    bool is_present(FaultId fault) const;  // from the first scan on
    int at_most() const;                   // so many at once
    z3::expr fault(FaultId id);            // is there
    z3::expr before(FaultId id);           // was there at the scan before
    z3::expr any(const std::vector<FaultId>& faults);
    void limit();  // when all that are asked for are known

 private:
    Conditions& conditions_;
    const std::vector<const Condition*>& parts_;
    std::map<FaultId, z3::expr> faults_, states_, ever_;
};

}  // namespace lanyard::encode
