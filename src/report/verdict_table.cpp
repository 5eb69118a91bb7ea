#include "report/verdict_table.hpp"

#include <algorithm>
#include <set>

#include "base/characters.hpp"
#include "base/csv.hpp"
#include "report/claim_words.hpp"
#include "report/terminal.hpp"
#include "report/words.hpp"

namespace lanyard::report {

std::string verdicts_csv(const Model& m, const FilmedResults& results) {
    const std::string file = file_name(m);
    std::string out =
        csv_line({"claim", "kind", "condition", "rule", "verdict", "summary", "file", "line", "column", "sha256"});
    const std::vector<std::string> in_full = long_conditions(m);
    std::set<ConditionId> told;
    for (const auto& r : results) {
        const Claim& c = m.claims[r.claim];
        const std::string label = condition_label(m, c.condition);
        const auto spelled = std::find_if(in_full.begin(), in_full.end(),
                                          [&](const auto& full) { return full.starts_with(label + ": "); });
        const bool first = told.insert(c.condition).second && spelled != in_full.end();
        out += csv_line({c.id, kind_of(c), first ? *spelled : label, c.rule, verdict_name(r.verdict), summary(r), file,
                         std::to_string(c.place.line), std::to_string(c.place.column), m.sha256});
    }
    return out;
}

}  // namespace lanyard::report
