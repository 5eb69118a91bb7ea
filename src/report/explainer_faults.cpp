// What a fault has to do with it.
#include <algorithm>

#include "model/fault_kinds.hpp"
#include "report/explainer.hpp"
#include "report/words.hpp"

namespace lanyard::report {

bool Explainer::there(const std::vector<FaultId>& faults, long scan) const {
    return std::any_of(faults.begin(), faults.end(), [&](FaultId f) { return film_.fault(f, scan); });
}

std::vector<Reason> Explainer::of_faults(const std::vector<FaultId>& faults, long scan) const {
    List out;
    for (const FaultId f : faults) {
        if (!film_.fault(f, scan)) continue;
        const long since = film_.fault_since(f, scan);
        const std::string when = since == 0 ? " (from the start)" : " at " + time(since);
        out.push_back({fault_story(m_.faults[f]) + when, {}});
    }
    return out;
}

// A relay that does not follow its coil, or a coil that does not follow what drives it.
std::vector<Reason> Explainer::coil_faults(const Relay& r, bool closed, long scan) const {
    List out = of_faults(closed ? r.welded_by : r.never_pulls_by, scan);
    if (!out.empty() || !r.coil) return out;
    const Output& o = m_.outputs[m_.signal(r.coil).index];
    return of_faults(closed ? o.stuck_on_by : o.stuck_off_by, scan);
}

}  // namespace lanyard::report
