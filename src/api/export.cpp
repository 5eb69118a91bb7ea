// Scripts, exports, schemas.
#include <algorithm>

#include <lanyard/tables.hpp>

#include "api/impl.hpp"
#include "base/file.hpp"
#include "certify/obligations.hpp"
#include "model/packs.hpp"
#include "model/read.hpp"
#include "prove/horn.hpp"
#include "report/graph.hpp"
#include "report/header.hpp"
#include "report/schemas.hpp"
#include "sim/script.hpp"
#include "sim/trace.hpp"

namespace lanyard::api {

namespace {
constexpr std::size_t largest_script = std::size_t{16} << 20U;
}

std::variant<Played, Rejected> run_script(const Model& model, const std::filesystem::path& script, RunFormat format) {
    const auto text = read_file(script, largest_script);
    if (!text) return unreadable(script);
    const ScriptResult read = read_script(model.impl().model, script.string(), *text);
    if (!read.script) return rejected(read.diagnostics, read.source);
    const lanyard::model::Model& m = *read.model;
    const ScriptRun run = play_script(m, *read.script, any_condition);
    Played out;
    out.warnings = render(run.diagnostics, read.source);
    switch (format) {
        case RunFormat::table:
            out.text = text_table(m, run.scans, changing_columns(m, run.scans));
            break;
        case RunFormat::csv:
            out.text = to_csv(m, run.scans, shown_columns(m, run.scans));
            break;
        case RunFormat::vcd:
            out.text = to_vcd(m, run.scans, shown_columns(m, run.scans));
            break;
    }
    return out;
}

namespace {
// Of a claim that is there.
ClaimId index_of(const lanyard::model::Model& m, const std::string& claim) {
    const auto all = m.claims.ids();
    return *std::find_if(all.begin(), all.end(), [&](ClaimId id) { return m.claims[id].id == claim; });
}
}  // namespace

std::variant<std::string, Rejected> export_horn(const Model& model, const std::string& claim) {
    if (auto wrong = unknown_claim(model, {claim})) return std::move(*wrong);
    const lanyard::model::Model& m = model.impl().model;
    const Question q = lanyard::claims::question_about(m, index_of(m, claim));
    return guarded(model, [&]() -> std::variant<std::string, Rejected> {
        try {
            z3::context ctx;
            const System s = system_of(ctx, q, false);
            return heading_lines(m, versions(), "; ") + horn_text(s, target_of(s, q));
        } catch (const Unsupported& u) {
            return rejected("this claim cannot be exported: " + std::string(u.what()), "");
        }
    });
}

std::variant<std::string, Rejected> signal_graph(const Model& model, const std::optional<std::string>& claim) {
    const lanyard::model::Model& m = model.impl().model;
    if (claim)
        if (auto wrong = unknown_claim(model, {*claim})) return std::move(*wrong);
    return signal_graph_dot(m, lanyard::report::signal_graph(m, claim ? index_of(m, *claim) : ClaimId{}));
}

std::vector<SchemaRow> schema_table() {
    return {{"model", SchemaOf::model, "the file that check reads"},
            {"result", SchemaOf::result, "what check --json writes"},
            {"rules", SchemaOf::rules, "pack.json of a rule pack"},
            {"faults", SchemaOf::faults, "what faults --json writes"},
            {"why", SchemaOf::why, "what why --json writes"},
            {"mutants", SchemaOf::mutants, "what mutants --json writes"},
            {"needs", SchemaOf::needs, "what needs --json writes"}};
}

std::string schema(SchemaOf which) {
    if (which == SchemaOf::model) return model_schema();
    if (which == SchemaOf::rules) return pack_schema();
    for (const SchemaRow& row : schema_table())
        if (row.of == which) return output_schema(row.name);
    return "";
}

}  // namespace lanyard::api
