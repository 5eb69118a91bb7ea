// What the two parts that know the wiring tell each other.
#pragma once

#include "report/explainer.hpp"

namespace lanyard::report {

struct WiringView {  // of one look
    long scan;
    sim::Look look;
    Flow flow;
    const Indexed<Source, bool>& live;
};
struct PowerEnds {  // nodes that have to have plus and ground; none: does not matter
    NodeId plus, minus;
};

// Over which ways they have it, or what is in the way. `without`: the load or coil itself.
std::vector<Reason> why_fed(const Walker& w, const PowerEnds& ends, BranchId without, const std::string& name,
                            const WiringView& view);

}  // namespace lanyard::report
