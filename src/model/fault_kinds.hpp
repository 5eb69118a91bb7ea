// What can break, in one table: names, help, the file format and every report of faults are fed by it.
#pragma once

#include <string>
#include <vector>

#include "model/circuit.hpp"

namespace lanyard::model {

struct FaultKindHelp {
    FaultKind kind = FaultKind::event;
    std::string part;       // "wire": of which parts; also the word behind `any`
    std::string word;       // "open": behind the part's name
    std::string meaning;    // one line
    std::string value;      // key of the value that it may have: "reads", "by", "takes"; or empty
    std::string reference;  // where it is named outside of this program; empty: nowhere
    std::string story;      // "the wire %s breaks": %s is the part
    std::string cure;       // what is done about it, for a table of failure modes
};

// All values of FaultKind, in their order.
const std::vector<FaultKindHelp>& fault_kind_table();
const FaultKindHelp& fault_kind_help(FaultKind kind);

// The story words with the part in them.
std::string fault_story(const Fault& fault);

}  // namespace lanyard::model
