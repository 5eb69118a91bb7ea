#include "api/outputs.hpp"

#include "api/evidence.hpp"
#include "page/report_page.hpp"
#include "report/claim_words.hpp"
#include "report/graph.hpp"
#include "report/junit.hpp"
#include "report/record.hpp"
#include "report/run_files.hpp"
#include "report/safety_case.hpp"
#include "report/sarif.hpp"
#include "report/verdict_table.hpp"

namespace lanyard::api {

namespace {

// The model's path from the current folder; what does not lie below that is called by its name alone, so that no path
// of this machine gets into a file that is passed on.
std::string relative_path(const std::filesystem::path& path) {
    std::error_code error;
    const auto here = std::filesystem::current_path(error);
    if (error) return path.filename().generic_string();
    const auto relative = (here / path).lexically_normal().lexically_relative(here.lexically_normal());
    const bool below = !relative.empty() && *relative.begin() != "..";
    return (below ? relative : path.filename()).generic_string();
}

void add_waves(CheckReport& report, const lanyard::Model& m, const ClaimResult& r) {
    const Run* run = run_against(r.verdict);
    if (run == nullptr) return;
    const std::string name = evidence_folder(m, r.claim);
    report.waves.emplace_back(name + ".vcd", run_vcd(m, *run, r.claim, versions()));
    report.waves.emplace_back(name + ".gtkw", run_view(m, *run, r.claim, versions(), name + ".vcd"));
}

SafetyCaseTexts case_texts(const lanyard::Model& m, const std::vector<ClaimResult>& results,
                           const std::vector<EvidenceMark>& marks) {
    const SafetyCase argument = safety_case(m, results, marks, versions());
    return {safety_case_text(argument), safety_case_dot(argument, heading(m, versions())),
            check_record(m, results, marks, versions())};
}

}  // namespace

void add_outputs(CheckReport& report, const lanyard::Model& m, const std::vector<ClaimResult>& results,
                 const std::vector<EvidenceMark>& marks, const Outputs& wanted, const Beside& beside) {
    if (wanted.junit) report.junit = junit_xml(m, results, versions());
    if (wanted.sarif) report.sarif = sarif_json(m, results, versions(), relative_path(m.source.name()));
    if (wanted.csv) report.csv = verdicts_csv(m, results);
    if (wanted.waves)
        for (const auto& r : results) add_waves(report, m, r);
    if (wanted.safety_case) report.safety_case = case_texts(m, results, marks);
    if (!wanted.page) return;
    std::optional<PageFaults> tables;
    if (beside.faults != nullptr) tables.emplace(PageFaults{beside.faults->used, beside.faults->tables});
    report.page = report_page({m, results, marks, versions(), tables ? &*tables : nullptr, beside.card});
}

std::variant<std::string, Rejected> signal_graph(const Model& model, const std::string& claim) {
    const lanyard::Model& m = model.impl().model;
    if (claim.empty()) return signal_graph_dot(m, lanyard::signal_graph(m, {}));
    for (const ClaimId k : m.claims.ids())
        if (m.claims[k].id == claim) return signal_graph_dot(m, lanyard::signal_graph(m, k));
    return Rejected{"error: there is no claim '" + claim + "'\n", false};
}

}  // namespace lanyard::api
