// Texts and files of results.
#include "api/beside.hpp"
#include "api/judged.hpp"
#include "base/file.hpp"
#include "base/folder.hpp"
#include "page/report_page.hpp"
#include "report/json.hpp"
#include "report/junit.hpp"
#include "report/record.hpp"
#include "report/run_files.hpp"
#include "report/safety_case.hpp"
#include "report/sarif.hpp"
#include "report/story.hpp"
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

std::string page(const Results::Judged& j, const Beside& beside) {
    std::optional<PageFaults> tables;
    if (beside.faults != nullptr && beside.faults->analysed)
        tables.emplace(PageFaults{beside.faults->analysed->used, beside.faults->analysed->tables});
    const bool with_card = beside.card != nullptr && beside.card->made;
    return report_page({j.model.impl().model, j.results, j.marks(), versions(), tables ? &*tables : nullptr,
                        with_card ? &beside.card->made->card : nullptr});
}

std::string whole_text(const Results::Judged& j, Format format, const Beside& beside) {
    const lanyard::model::Model& m = j.model.impl().model;
    switch (format) {
        case Format::text:
            return whole_report(m, j.results, versions());
        case Format::json:
            return results_json(m, j.results, versions());
        case Format::junit:
            return junit_xml(m, j.results, versions());
        case Format::sarif:
            return sarif_json(m, j.results, versions(), relative_path(m.source.name()));
        case Format::csv:
            return verdicts_csv(m, j.results);
        case Format::safety_case:
            return safety_case_text(safety_case(m, j.results, j.marks(), versions()));
        case Format::safety_case_dot:
            return safety_case_dot(safety_case(m, j.results, j.marks(), versions()), heading(m, versions()));
        case Format::record:
            return check_record(m, j.results, j.marks(), versions());
        case Format::page:
            return page(j, beside);
    }
    return "";
}

}  // namespace

const Results::Judged& judged_of(const Results& results) {
    if (!results.judged) throw std::invalid_argument("these results are not those of a check");
    return *results.judged;
}

const std::vector<Evidence>& Results::Judged::evidence() const {
    std::call_once(once_, [this] {
        guarded(model, [this] {
            std::vector<Evidence> all(results.size());
            PoolTasks tasks;
            tasks.count = results.size();
            tasks.work = [&](std::size_t k, const JudgeOptions&) { all[k] = evidence_of(results[k]); };
            PoolOptions pool;
            pool.jobs = jobs;
            run_pool(tasks, pool);
            evidence_ = std::move(all);
        });
    });
    return evidence_;
}

std::vector<EvidenceMark> Results::Judged::marks() const {
    std::vector<EvidenceMark> out;
    for (std::size_t k = 0; k < results.size(); ++k)
        if (!std::holds_alternative<lanyard::claims::Undecided>(results[k].verdict))
            out.push_back(mark_of(results[k].claim, evidence()[k]));
    return out;
}

std::string write(const Results& results, Format format, const Beside& beside) {
    const Results::Judged& j = judged_of(results);
    return guarded(j.model, [&] { return whole_text(j, format, beside); });
}

std::vector<FolderFile> waves(const Results& results) {
    const Results::Judged& j = judged_of(results);
    const lanyard::model::Model& m = j.model.impl().model;
    std::vector<FolderFile> out;
    for (const auto& r : j.results) {
        const lanyard::claims::Run* run = lanyard::claims::run_against(r.verdict);
        if (run == nullptr) continue;
        out.push_back({evidence_folder(m, r.claim) + ".vcd", run_vcd(m, *run, r.claim, versions())});
    }
    return out;
}

std::string write_whole(const std::filesystem::path& path, const std::string& content) {
    return write_file(path, content);
}

std::string folder_refusal(const std::filesystem::path& folder) { return lanyard::base::folder_refusal(folder); }

std::string write_folder(const std::filesystem::path& folder, const std::string& readme,
                         const std::vector<FolderFile>& files) {
    std::vector<lanyard::base::FolderFile> all;
    for (const auto& file : files) all.push_back({file.name, file.text, file.is_program});
    return lanyard::base::write_folder(folder, readme, all);
}

}  // namespace lanyard::api
