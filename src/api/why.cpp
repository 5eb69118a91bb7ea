// Why a signal is what it is: finds the run, cuts it at the moment, and asks the report.
#include "report/why.hpp"

#include "api/runs.hpp"
#include "base/file.hpp"
#include "report/terminal.hpp"
#include "report/words.hpp"
#include "sim/run_file.hpp"
#include "sim/script.hpp"
#include "sim/trace.hpp"

namespace lanyard::api {

namespace {

constexpr std::size_t largest_run = std::size_t{64} << 20U;

struct Asked {
    std::shared_ptr<const lanyard::model::Model> model;
    lanyard::claims::Run run;
    ConditionId condition = any_condition;
    ClaimId claim;
    std::string warnings;
    bool interrupted = false;
};

ClaimId claim_index(const lanyard::model::Model& m, const std::string& id) {
    for (const ClaimId k : m.claims.ids())
        if (m.claims[k].id == id) return k;
    return {};
}

void follow(Asked& asked, ClaimId claim) {
    const MadeUnder under = made_under(*asked.model, asked.run, claim);
    asked.condition = under.condition;
    asked.claim = under.claim;
}

std::variant<Asked, Rejected> from_file(const Model& model, const WhyOptions& options) {
    const auto text = read_file(*options.run, largest_run);
    if (!text) return unreadable(*options.run);
    Asked out;
    out.model = shared_model(model);
    if (is_run_file(*text)) {
        RunFile file = read_run(*out.model, options.run->string(), *text, options.claim.value_or(""));
        out.warnings = render(file.diagnostics, file.source);
        if (!file.run) return rejected(file.diagnostics, file.source);
        out.run = std::move(*file.run);
        follow(out, file.claim);
        return out;
    }
    const ScriptResult script = read_script(*out.model, options.run->string(), *text);
    if (!script.script) return rejected(script.diagnostics, script.source);
    out.model = script.model;
    ScriptRun played = play_script(*out.model, *script.script, any_condition);
    out.warnings = render(played.diagnostics, script.source);
    out.run = std::move(played.run);
    return out;
}

// The run against the claim, or its example.
std::variant<Asked, Rejected> from_claim(const Model& model, const WhyOptions& options) {
    Asked out;
    out.model = shared_model(model);
    const std::vector<ClaimInfo> infos = model.claims();
    const DriverReport done =
        check_claims(*out.model, driver_options(options.limits, {*options.claim}, OnProgress(), infos));
    const lanyard::claims::Verdict& verdict = done.results.front().verdict;
    if (const lanyard::claims::Run* against = lanyard::claims::run_against(verdict))
        out.run = *against;
    else if (const auto* proved = std::get_if<lanyard::claims::Proved>(&verdict))
        out.run = proved->shown();
    out.interrupted = done.interrupted;
    if (out.run.segments.empty() && out.interrupted) return out;
    if (out.run.segments.empty())
        return rejected("there is no run of the claim \"" + *options.claim + "\": it is " + verdict_name(verdict),
                        "give one with --run");
    follow(out, claim_index(*out.model, *options.claim));
    return out;
}

std::variant<long, Rejected> scan_at(const lanyard::model::Model& m, const lanyard::claims::Run& run,
                                     const std::optional<std::string>& at) {
    const long last = run.scans() - 1;
    if (!at) return last;
    Diagnostics problems;
    const LocatedText text{*at, {1, 1, std::max<std::size_t>(at->size(), 1)}, false, ""};
    const auto time = compile_number(text, Dimension{{0, 0, 1, 0, 0, 0, 0}}, true, "--at", problems);
    if (!time) return rejected(problems, SourceText("--at", *at));
    if (time->si < 0) return rejected("--at is before the run begins", "a run begins at 0 s");
    if (time->si > m.scan * (last + 1))
        return rejected("the run is over by " + *at, "its last scan is at " + report::scan_time(m, last));
    return std::min(scans_down(time->si, m.scan), last);
}

std::variant<WhyReport, Rejected> told(const Model& model, const Asked& asked, const WhyOptions& options) {
    const lanyard::model::Model& m = *asked.model;
    if (asked.interrupted && asked.run.segments.empty()) return WhyReport{asked.interrupted, "", "", asked.warnings};
    const auto signal = signal_named(m, options.signal);
    if (const auto* wrong = std::get_if<Rejected>(&signal)) return *wrong;
    const auto scan = scan_at(m, asked.run, options.at);
    if (const auto* wrong = std::get_if<Rejected>(&scan)) return *wrong;
    const lanyard::claims::Run run = first_scans(asked.run, std::get<long>(scan) + 1);
    const report::Film film(m, run, asked.condition, asked.claim);
    if (!film.broken_rule().empty())
        return rejected("this is not a run of the model: " + film.broken_rule(),
                        "lanyard check writes runs of the model");
    const auto& column = std::get<TraceColumn>(signal);
    const report::Why why = report::why(film, column.signal, column.name);
    WhyReport out;
    out.text = model.heading() + "\n\n" + report::why_text(m, why);
    report::Json json = {{"lanyard_why", 1}};
    json.update(report::head_json(m, versions()));
    json.update(report::why_json(m, why));
    out.json = json.dump(2) + '\n';
    out.warnings = asked.warnings;
    out.interrupted = asked.interrupted;
    return out;
}

}  // namespace

std::variant<WhyReport, Rejected> why(const Model& model, const WhyOptions& options) {
    if (options.claim)
        if (auto wrong = unknown_claim(model, {*options.claim})) return std::move(*wrong);
    if (!options.run && !options.claim) return unknown("no run given", "use --run FILE or --claim ID");
    return guarded(model, [&]() -> std::variant<WhyReport, Rejected> {
        auto asked = options.run ? from_file(model, options) : from_claim(model, options);
        if (auto* wrong = std::get_if<Rejected>(&asked)) return std::move(*wrong);
        return told(model, std::get<Asked>(asked), options);
    });
}

}  // namespace lanyard::api
