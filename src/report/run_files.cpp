#include "report/run_files.hpp"

#include "report/claim_words.hpp"
#include "report/json_values.hpp"
#include "report/words.hpp"
#include "sim/interpreter.hpp"
#include "sim/trace.hpp"

namespace lanyard {

std::string run_json(const Model& m, const Run& run, int claim, const Versions& versions) {
    using report::Json;
    const Claim& c = report::claim_at(m, claim);
    Json out = {{"lanyard_run", 1}};
    out.update(report::head_json(m, versions));
    out["claim"] = c.id;
    out["condition"] = report::condition_text(m, c);
    out["units"] = report::units_json(m);
    out.update(report::run_to_json(m, run));
    return out.dump(2) + '\n';
}

std::string run_vcd(const Model& m, const Run& run, int claim, const Versions& versions) {
    const Claim& c = report::claim_at(m, claim);
    Replay played = replay(m, run, c.condition, claim);
    // A run that shows what is wrong with the condition follows no driver.
    if (!played.legal) played = replay(m, run, c.condition, -1);
    // A comment ends at its key word, whatever a model is called.
    std::string about = heading(m, versions) + ", claim " + report::one_line(c.id);
    for (char& ch : about)
        if (ch == '$') ch = '_';
    return "$comment " + about + " $end\n" + to_vcd(m, played.scans, shown_columns(m, played.scans));
}

}  // namespace lanyard
