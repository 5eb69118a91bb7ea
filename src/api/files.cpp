// Scripts, exports, schemas.
#include <lanyard/tables.hpp>

#include "api/impl.hpp"
#include "base/file.hpp"
#include "base/folder.hpp"
#include "base/suggest.hpp"
#include "certify/obligations.hpp"
#include "model/packs.hpp"
#include "model/read.hpp"
#include "prove/horn.hpp"
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
    if (!text) return Rejected{script.string() + ": error: this file cannot be read\n", true};
    const ScriptResult read = read_script(model.impl().model, script.string(), *text);
    if (!read.script) return Rejected{render(read.diagnostics, read.source), false};
    const lanyard::Model& m = *read.model;
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

std::variant<std::string, Rejected> export_horn(const Model& model, const std::string& claim) {
    const lanyard::Model& m = model.impl().model;
    for (const ClaimId i : m.claims.ids()) {
        if (m.claims[i].id != claim) continue;
        Question q;
        q.model = &m;
        q.claim = i;
        q.condition = m.claims[i].condition;
        try {
            z3::context ctx;
            const System s = system_of(ctx, q, false);
            return heading_lines(m, versions(), "; ") + horn_text(s, target_of(s, q));
        } catch (const Unsupported& u) {
            return Rejected{std::string("error: this claim cannot be exported: ") + u.what() + "\n", false};
        }
    }
    return Rejected{"error: there is no claim '" + claim + "'\n", false};
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

std::string write_whole(const std::filesystem::path& path, const std::string& content) {
    return write_file(path, content);
}

std::string folder_refusal(const std::filesystem::path& folder) { return lanyard::folder_refusal(folder); }

std::string write_folder(const std::filesystem::path& folder, const std::string& readme,
                         const std::vector<FolderFile>& files) {
    std::vector<lanyard::FolderFile> all;
    for (const auto& file : files) all.push_back({file.name, file.text});
    return lanyard::write_folder(folder, readme, all);
}

std::optional<std::string> nearest(const std::string& word, const std::vector<std::string>& candidates) {
    return lanyard::nearest(word, candidates);
}

}  // namespace lanyard::api
