#include "report/run_files.hpp"

#include <algorithm>

#include "base/characters.hpp"
#include "report/claim_words.hpp"
#include "report/json_values.hpp"
#include "sim/interpreter.hpp"
#include "sim/trace.hpp"

namespace lanyard::report {

namespace {

std::string about(const Model& m, ClaimId claim, const Versions& versions) {
    return heading(m, versions) + ", claim " + sanitize_for_terminal(m.claims[claim].id);
}

}  // namespace

std::string run_json(const Model& m, const Run& run, ClaimId claim, const Versions& versions) {
    const Claim& c = m.claims[claim];
    Json out = {{"lanyard_run", 1}};
    out.update(head_json(m, versions));
    out["claim"] = c.id;
    out["condition"] = condition_text(m, c);
    out["units"] = units_json(m);
    out.update(run_to_json(m, run));
    return out.dump(2) + '\n';
}

std::string run_vcd(const Model& m, const Run& run, ClaimId claim, const Versions& versions) {
    const Replay shown = made_under(m, run, claim).played;
    // A comment ends at its key word, whatever a model is called.
    std::string comment = about(m, claim, versions);
    std::replace(comment.begin(), comment.end(), '$', '_');
    return "$comment " + comment + " $end\n" + to_vcd(m, shown.scans, shown_columns(m, shown.scans));
}

}  // namespace lanyard::report
