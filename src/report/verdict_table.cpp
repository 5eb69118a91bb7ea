#include "report/verdict_table.hpp"

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
    for (const auto& r : results) {
        const Claim& c = m.claims[r.claim];
        out += csv_line({c.id, kind_of(c), sanitize_for_terminal(condition_text(m, c)), c.rule, verdict_name(r.verdict),
                         summary(r), file, std::to_string(c.place.line), std::to_string(c.place.column), m.sha256});
    }
    return out;
}

}  // namespace lanyard::report
