// Scripts, exports, schemas.
#include <lanyard/tables.hpp>

#include "api/impl.hpp"
#include "base/file.hpp"
#include "base/folder.hpp"
#include "base/suggest.hpp"
#include "certify/obligations.hpp"
#include "model/read.hpp"
#include "prove/horn.hpp"
#include "report/json.hpp"
#include "report/study_schemas.hpp"
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
    const ScriptRun run = play_script(m, *read.script, 0);
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
    for (std::size_t i = 0; i < m.claims.size(); ++i) {
        if (m.claims[i].id != claim) continue;
        Question q;
        q.model = &m;
        q.claim = static_cast<int>(i);
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

namespace {

struct Schema {
    SchemaRow row;
    std::string (*text)();
};
const std::vector<Schema>& schemas() {
    static const std::vector<Schema> table = {
        {{"model", SchemaOf::model, "the file that check reads"}, model_schema},
        {{"result", SchemaOf::result, "what check --json writes"}, result_schema},
        {{"rules", SchemaOf::rules, "pack.json of a rule pack"}, pack_schema},
        {{"faults", SchemaOf::faults, "what faults --json writes"}, faults_schema},
        {{"why", SchemaOf::why, "what why --json writes"}, why_schema},
        {{"mutants", SchemaOf::mutants, "what mutants --json writes"}, mutants_schema},
        {{"needs", SchemaOf::needs, "what needs --json writes"}, needs_schema},
    };
    return table;
}

}  // namespace

std::vector<SchemaRow> schema_table() {
    std::vector<SchemaRow> out;
    for (const auto& s : schemas()) out.push_back(s.row);
    return out;
}

std::string schema(SchemaOf which) {
    for (const auto& s : schemas())
        if (s.row.of == which) return s.text();
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
