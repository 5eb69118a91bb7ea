// Why a signal is what it is: finds the run, cuts it at the moment, and asks the report.
#include "report/why.hpp"

#include "api/impl.hpp"
#include "base/file.hpp"
#include "base/suggest.hpp"
#include "report/terminal.hpp"
#include "report/words.hpp"
#include "sim/run_file.hpp"
#include "sim/script.hpp"
#include "sim/trace.hpp"

namespace lanyard::api {

namespace {

constexpr std::size_t largest_run = std::size_t{64} << 20U;

struct Asked {
    std::shared_ptr<const lanyard::Model> model;
    Run run;
    ConditionId condition = any_condition;
    ClaimId claim;
    std::string warnings;
    bool interrupted = false;
};

Rejected refuse(const std::string& what, const std::string& hint = "") {
    return {"error: " + what + "\n" + (hint.empty() ? "" : "  hint: " + hint + "\n"), false};
}

ClaimId claim_index(const lanyard::Model& m, const std::string& id) {
    for (const ClaimId k : m.claims.ids())
        if (m.claims[k].id == id) return k;
    return {};
}

// What the run was made under. The example of a recoverable claim follows its playbook, a run into a dead end follows
// no driver.
void follow(Asked& asked, ClaimId claim) {
    const ConditionId condition = asked.model->claims[claim].condition;
    for (const auto& [under, with] : {std::pair(condition, claim), std::pair(condition, ClaimId{}), std::pair(any_condition, ClaimId{})}) {
        asked.condition = under;
        asked.claim = with;
        if (replay(*asked.model, asked.run, under, with).legal) return;
    }
}

std::variant<Asked, Rejected> from_file(const Model& model, const WhyOptions& options) {
    const auto text = read_file(*options.run, largest_run);
    if (!text) return Rejected{options.run->string() + ": error: this file cannot be read\n", true};
    Asked out;
    out.model = std::make_shared<const lanyard::Model>(model.impl().model);
    if (is_run_file(*text)) {
        RunFile file = read_run(*out.model, options.run->string(), *text, options.claim.value_or(""));
        out.warnings = render(file.diagnostics, file.source);
        if (!file.run) return Rejected{out.warnings, false};
        out.run = std::move(*file.run);
        follow(out, file.claim);
        return out;
    }
    const ScriptResult script = read_script(*out.model, options.run->string(), *text);
    if (!script.script) return Rejected{render(script.diagnostics, script.source), false};
    out.model = script.model;
    ScriptRun played = play_script(*out.model, *script.script, any_condition);
    out.warnings = render(played.diagnostics, script.source);
    out.run = std::move(played.run);
    return out;
}

// The run against the claim, or its example.
std::variant<Asked, Rejected> from_claim(const Model& model, const WhyOptions& options) {
    Asked out;
    out.model = std::make_shared<const lanyard::Model>(model.impl().model);
    const std::vector<ClaimInfo> infos = model.claims();
    CheckOptions check;
    check.claims = {*options.claim};
    check.jobs = options.jobs;
    check.time_s = options.time_s;
    check.work = options.work;
    check.memory_mb = options.memory_mb;
    const DriverReport done = check_claims(*out.model, driver_options(check, infos));
    const lanyard::Verdict& verdict = done.results.front().verdict;
    if (const Run* against = run_against(verdict))
        out.run = *against;
    else if (const auto* proved = std::get_if<Proved>(&verdict))
        out.run = proved->example;
    out.interrupted = done.interrupted;
    if (out.run.segments.empty() && out.interrupted) return out;
    if (out.run.segments.empty())
        return refuse("there is no run of the claim \"" + *options.claim + "\": it is " + verdict_name(verdict),
                      "give one with --run");
    follow(out, claim_index(*out.model, *options.claim));
    return out;
}

std::variant<TraceColumn, Rejected> signal_named(const lanyard::Model& m, const std::string& name) {
    std::vector<std::string> names;
    for (const auto& c : all_columns(m)) {
        if (c.name == name) return c;
        names.push_back(c.name);
    }
    const auto near = nearest(name, names);
    return refuse("the model has no signal \"" + report::one_line(name) + "\"",
                  near ? "did you mean \"" + *near + "\"?" : "lanyard graph shows what it has");
}

std::variant<long, Rejected> scan_at(const lanyard::Model& m, const Run& run, const std::optional<std::string>& at) {
    const long last = run.scans() - 1;
    if (!at) return last;
    Diagnostics problems;
    const LocatedText text{*at, {1, 1, std::max<std::size_t>(at->size(), 1)}, false, ""};
    const auto time = compile_number(text, Dimension{{0, 0, 1, 0, 0, 0, 0}}, true, "--at", problems);
    if (!time) return Rejected{render(problems, SourceText("--at", *at)), false};
    if (time->si < 0) return refuse("--at is before the run begins", "a run begins at 0 s");
    if (time->si > m.scan * (last + 1))
        return refuse("the run is over by " + *at, "its last scan is at " + report::scan_time(m, last));
    return std::min(scans_down(time->si, m.scan), last);
}

std::variant<WhyReport, Rejected> told(const Model& model, const Asked& asked, const WhyOptions& options) {
    const lanyard::Model& m = *asked.model;
    if (asked.interrupted && asked.run.segments.empty()) return WhyReport{asked.interrupted, "", "", asked.warnings};
    const auto signal = signal_named(m, options.signal);
    if (const auto* wrong = std::get_if<Rejected>(&signal)) return *wrong;
    const auto scan = scan_at(m, asked.run, options.at);
    if (const auto* wrong = std::get_if<Rejected>(&scan)) return *wrong;
    const Run run = first_scans(asked.run, std::get<long>(scan) + 1);
    const report::Film film(m, run, asked.condition, asked.claim);
    if (!film.broken_rule().empty())
        return refuse("this is not a run of the model: " + film.broken_rule(),
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
    try {
        auto asked = options.run ? from_file(model, options) : from_claim(model, options);
        if (auto* wrong = std::get_if<Rejected>(&asked)) return std::move(*wrong);
        return told(model, std::get<Asked>(asked), options);
    } catch (const lanyard::InternalError& e) {
        report_internal(model, e.what());
    }
}

}  // namespace lanyard::api
