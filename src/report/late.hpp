// How late an answer is: the run of a broken response is continued with everything as it is, as far as the world lets
// it be, until the answer comes.
#pragma once

#include <optional>

#include "claims/run.hpp"
#include "model/model.hpp"

namespace lanyard::report {

struct Late {
    std::optional<long> scans;  // behind the scan at which it was due; none: it did not come
    long looked = 0;            // scans that the run was continued for
    bool over = false;          // the condition of the claim did not last, or the run cannot go on
};

Late how_late(const Model& model, const Run& run, ClaimId claim);

}  // namespace lanyard::report
