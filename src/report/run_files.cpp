#include "report/run_files.hpp"

#include <algorithm>
#include <set>

#include "base/characters.hpp"
#include "claims/cone.hpp"
#include "report/claim_words.hpp"
#include "report/json_values.hpp"
#include "report/words.hpp"
#include "sim/interpreter.hpp"
#include "sim/trace.hpp"

namespace lanyard {

namespace {

Replay played(const Model& m, const Run& run, ClaimId claim) {
    const Claim& c = m.claims[claim];
    Replay out = replay(m, run, c.condition, claim);
    // A run that shows what is wrong with the condition follows no driver.
    if (!out.legal) out = replay(m, run, c.condition, {});
    return out;
}

std::string about(const Model& m, ClaimId claim, const Versions& versions) {
    return heading(m, versions) + ", claim " + sanitize_for_terminal(m.claims[claim].id);
}

// How a viewer shows a column, in its flags: a bit, a number of some bits, a real number.
const char* shown_as(const Model& m, const TraceColumn& c) {
    switch (m.signal(c.signal).type.kind) {
        case TypeKind::boolean:
            return "@28";
        case TypeKind::mode:
            return "@24";
        case TypeKind::number:
            return "@420";
    }
    return "";
}

}  // namespace

std::string run_json(const Model& m, const Run& run, ClaimId claim, const Versions& versions) {
    using report::Json;
    const Claim& c = m.claims[claim];
    Json out = {{"lanyard_run", 1}};
    out.update(report::head_json(m, versions));
    out["claim"] = c.id;
    out["condition"] = report::condition_text(m, c);
    out["units"] = report::units_json(m);
    out.update(report::run_to_json(m, run));
    return out.dump(2) + '\n';
}

std::string run_vcd(const Model& m, const Run& run, ClaimId claim, const Versions& versions) {
    const Replay shown = played(m, run, claim);
    // A comment ends at its key word, whatever a model is called.
    std::string comment = about(m, claim, versions);
    std::replace(comment.begin(), comment.end(), '$', '_');
    return "$comment " + comment + " $end\n" + to_vcd(m, shown.scans, shown_columns(m, shown.scans));
}

std::string run_view(const Model& m, const Run& run, ClaimId claim, const Versions& versions, const std::string& vcd) {
    const Replay shown = played(m, run, claim);
    const Cone cone = cone_of(m, m.claims[claim].condition, claim);
    // The paths are those of the file, where a name may have got a number.
    const std::vector<TraceColumn> columns = shown_columns(m, shown.scans);
    const std::vector<TracePath> paths = trace_paths(m, columns);
    std::set<SignalId> changing;
    for (const auto& c : changing_columns(m, shown.scans))
        if (cone.has(c.signal)) changing.insert(c.signal);
    const Integer end = trace_time(m.scan).per_scan * static_cast<unsigned long>(shown.scans.size());
    long zoom = 0;  // a pixel is 2^zoom units of time
    while (end > Integer(1000) << static_cast<unsigned long>(zoom)) ++zoom;
    std::string text = "[*] " + about(m, claim, versions) + "\n[dumpfile] \"" + vcd + "\"\n[timestart] 0\n*-" +
                       std::to_string(zoom) + ".0 " + end.get_str() + '\n';
    std::string scope;
    for (std::size_t k = 0; k < columns.size(); ++k) {
        if (!changing.contains(columns[k].signal)) continue;
        const std::string here = paths[k].scopes.size() > 1 ? paths[k].scopes[1] : "";
        if (here != scope && !here.empty()) text += "@200\n-" + here + '\n';
        scope = here;
        text += std::string(shown_as(m, columns[k])) + '\n' + paths[k].whole() + paths[k].bits + '\n';
    }
    return text;
}

}  // namespace lanyard
