// Checking: the driver's results as plain values, and the files that somebody asked for.
#include <algorithm>
#include <atomic>
#include <chrono>
#include <future>
#include <mutex>
#include <thread>

#include "api/card.hpp"
#include "api/evidence.hpp"
#include "api/impl.hpp"
#include "api/kept.hpp"
#include "api/outputs.hpp"
#include "base/file.hpp"
#include "explain/causes.hpp"
#include "explain/other_runs.hpp"
#include "explain/trap_causes.hpp"
#include "prove/driver.hpp"
#include "report/json.hpp"
#include "report/story.hpp"
#include "report/terminal.hpp"

namespace lanyard::api {

namespace {

std::atomic<bool> interrupt_wanted{false};
static_assert(std::atomic<bool>::is_always_lock_free, "request_interrupt() must be safe in a signal handler");

Verdict verdict_of(const lanyard::Verdict& v) {
    static constexpr Verdict by_index[] = {Verdict::proved, Verdict::refuted, Verdict::vacuous, Verdict::undecided};
    return by_index[v.index()];
}

ClaimReport report_of(const Model& model, const ClaimInfo& info, const ClaimResult& r) {
    const lanyard::Model& m = model.impl().model;
    ClaimReport out;
    out.id = info.id;
    out.kind = info.kind;
    out.condition = info.condition;
    out.rule = info.rule;
    out.verdict = verdict_of(r.verdict);
    out.line = info.line;
    out.column = info.column;
    out.summary = summary(m, r);
    if (!r.leaps) out.summary += " (step acceleration could not be justified; every step is one scan)";
    out.story = story(m, r, false);  // the lists beside it say what it rests on
    if (const auto* v = std::get_if<Vacuous>(&r.verdict)) out.reason = v->reason;
    if (const auto* u = std::get_if<Undecided>(&r.verdict)) {
        out.reason = u->reason;
        out.depth = u->depth;
    }
    if (const Certificate* c = certificate_of(r.verdict)) {
        out.assumptions = c->assumptions;
        out.elements = c->elements;
        out.parts = c->parts;
        out.unused_elements = c->unused_elements;
    }
    out.prover = r.engine;
    out.timing = {r.timing.finding, r.timing.minimising, r.timing.rechecking, r.timing.replaying};
    return out;
}

Outcome outcome_of(const std::vector<ClaimReport>& claims) {
    bool undecided = false;
    for (const auto& c : claims) {
        if (c.verdict == Verdict::refuted || c.verdict == Verdict::vacuous) return Outcome::failed;
        undecided = undecided || c.verdict == Verdict::undecided;
    }
    if (claims.empty()) return Outcome::nothing;
    return undecided ? Outcome::undecided : Outcome::all_proved;
}

void explain(const lanyard::Model& m, ClaimResult& r, const JudgeOptions& options) {
    const auto* refuted = std::get_if<Refuted>(&r.verdict);
    if (refuted == nullptr || !refuted->run) return;
    r.causes = refuted->certificate ? trap_causes_of(m, *refuted->run, *refuted->certificate, r.claim, options)
                                    : causes_of(m, *refuted->run, r.claim);
}

// Of what is decided.
std::vector<EvidenceMark> marks_of(const std::vector<ClaimResult>& results, const std::vector<Evidence>& evidence) {
    std::vector<EvidenceMark> out;
    for (const auto& r : results)
        if (!std::holds_alternative<Undecided>(r.verdict))
            out.push_back(mark_of(r.claim, evidence[r.claim.index()]));
    return out;
}

// A run in which a claim that holds demands something; what gets to a goal is told anyhow.
std::string example_text(const lanyard::Model& m, const ClaimResult& r) {
    const auto* proved = std::get_if<Proved>(&r.verdict);
    const lanyard::Model& played = proved != nullptr && proved->playbook ? *proved->playbook : m;
    const ClaimId claim = proved != nullptr && proved->playbook ? played.claims.last() : r.claim;
    const Claim& c = played.claims[claim];
    if (proved == nullptr || proved->example.segments.empty() || std::holds_alternative<Possible>(c.body)) return "";
    return "\n" + moments_text(played, proved->example, c.condition, claim);
}

// Runs for other reasons beside those that were found. True if that was interrupted.
bool add_others(const lanyard::Model& m, const DriverOptions& driver, unsigned count,
                std::vector<ClaimResult>& results) {
    PoolTasks tasks;
    tasks.count = results.size();
    tasks.work = [&](std::size_t i, const JudgeOptions& o) {
        ClaimResult& r = results[i];
        const auto* refuted = std::get_if<Refuted>(&r.verdict);
        if (refuted != nullptr && r.causes && !r.causes->of_trap)
            r.others = other_runs(m, {*refuted->run, *r.causes}, r.claim, count, o);
    };
    return run_pool(tasks, pool_options(driver));
}

// Single faults, within the same limits for each question.
std::optional<AnalysedFaults> analysed(const Model& model, const CheckOptions& options, CheckReport& out) {
    if (!options.outputs.page_faults || out.interrupted) return std::nullopt;
    FaultOptions asked;
    asked.claims = options.claims;
    asked.jobs = options.jobs;
    asked.time_s = options.time_s;
    asked.work = options.work;
    asked.memory_mb = options.memory_mb;
    asked.on_progress = options.on_progress;
    AnalysedFaults done = analyse(model, asked);
    out.interrupted = done.interrupted;
    return done;
}

// Beside the judging, or with one thread behind it, in what is left of the time.
std::future<Card> card_beside(const Model& model, const CheckOptions& options) {
    const auto start = std::chrono::steady_clock::now();
    const auto make = [&model, &options, start] {
        CardOptions asked;
        asked.jobs = options.jobs;
        asked.work = options.work;
        asked.memory_mb = options.memory_mb;
        const double passed = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
        if (options.time_s) asked.time_s = std::max(0.0, *options.time_s - passed);
        return card_of(model, asked);
    };
    return std::async(options.jobs == 1 ? std::launch::deferred : std::launch::async, make);
}

std::optional<Card> finished(std::future<Card>& beside, const CheckOptions& options, CheckReport& out) {
    if (!beside.valid() || out.interrupted) return std::nullopt;
    const std::size_t decided = out.claims.size();
    if (options.on_progress) options.on_progress({decided, decided, "", "making the bench card"});
    Card card = beside.get();
    out.interrupted = card.interrupted;
    return card;
}

}  // namespace

void report_internal(const Model& model, const std::string& what) {
    const std::filesystem::path file = "lanyard-internal-error.txt";
    const std::string text = model.heading() + "\n\n" + what + "\n\nThe model:\n\n" + model.impl().model.source.text();
    throw api::InternalError(what, write_file(file, text).empty() ? file : std::filesystem::path());
}

bool interrupt_requested() { return interrupt_wanted.load(); }

std::string verdict_word(Verdict v) {
    switch (v) {
        case Verdict::proved:
            return "proved";
        case Verdict::refuted:
            return "refuted";
        case Verdict::vacuous:
            return "vacuous";
        case Verdict::undecided:
            return "undecided";
    }
    return "";
}

void request_interrupt() noexcept { interrupt_wanted.store(true); }
void clear_interrupt() noexcept { interrupt_wanted.store(false); }

CheckReport check(const Model& model, const CheckOptions& options) {
    const lanyard::Model& m = model.impl().model;
    const std::vector<ClaimInfo> infos = model.claims();
    DriverOptions driver = driver_options(options, infos);
    driver.engine = options.prover.value_or("");

    CheckReport out;
    out.heading = model.heading();
    out.closing = safety_line();
    out.rules = model.rules_text();
    out.findings = model.findings_text();
    std::unique_ptr<Kept> kept;
    if (options.keep) {
        auto opened = Kept::open(*options.keep, m);
        if (auto* rejected = std::get_if<Rejected>(&opened)) {
            out.keep_rejected = std::move(*rejected);
            return out;
        }
        kept = std::move(std::get<std::unique_ptr<Kept>>(opened));
        driver.known = kept.get();
    }
    std::vector<Evidence> evidence(infos.size());
    const bool wants_marks = options.outputs.safety_case || options.outputs.page;
    const auto gather = [&](const ClaimResult& r) {
        Evidence& e = evidence[r.claim.index()];
        if ((wants_marks || options.evidence) && e.files.empty()) e = evidence_of(m, r);
    };
    driver.explain = [&](ClaimResult& r, const JudgeOptions& o) {
        explain(m, r, o);
        gather(r);
    };
    std::vector<ClaimResult> results;
    std::future<Card> beside;
    if (options.outputs.card) beside = card_beside(model, options);
    driver.on_result = [&](const ClaimResult& r) {
        results.push_back(r);
        gather(r);  // where the explanation was stopped
        ClaimReport c = report_of(model, infos[r.claim.index()], r);
        if (options.evidence) c.evidence = evidence[r.claim.index()].folder;
        if (options.examples) c.story += example_text(m, r);
        if (options.on_claim) options.on_claim(c);
        out.claims.push_back(std::move(c));
    };
    try {
        out.interrupted = check_claims(m, driver).interrupted;
        if (options.evidence) out.evidence_error = write_evidence(m, evidence, *options.evidence);
        if (kept) out.keep_error = kept->write();
        if (options.counterexamples > 1 && !out.interrupted) {
            out.interrupted = add_others(m, driver, options.counterexamples - 1, results);
            for (std::size_t k = 0; k < results.size(); ++k)
                if (!results[k].others.empty()) out.claims[k].story = story(m, results[k], false);
        }
        out.json = results_json(m, results, versions());
        const auto faults = analysed(model, options, out);
        const auto card = finished(beside, options, out);
        if (card) out.card = card_report(model, *card);
        const auto marks = wants_marks ? marks_of(results, evidence) : std::vector<EvidenceMark>();
        add_outputs(out, m, results, marks, options.outputs, {faults ? &*faults : nullptr, card ? &*card : nullptr});
    } catch (const lanyard::InternalError& e) {
        report_internal(model, e.what());
    }
    out.outcome = outcome_of(out.claims);
    return out;
}

}  // namespace lanyard::api
