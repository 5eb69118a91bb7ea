// How calls are refused, limited and ended.
#include <algorithm>
#include <thread>

#include "api/impl.hpp"
#include "base/characters.hpp"
#include "base/csv.hpp"
#include "base/file.hpp"
#include "base/suggest.hpp"
#include "encode/system.hpp"

namespace lanyard::api {

namespace {

Diagnostic::Level level_of(Severity s) {
    return s == Severity::error ? Diagnostic::Level::error : Diagnostic::Level::warning;
}

Rejected refusal(Rejected::Because because, const std::string& what, const std::string& hint, std::string text) {
    Diagnostic d;
    d.what = what;
    d.hint = hint;
    return {because, {std::move(d)}, std::move(text)};
}

std::string hint_line(const std::string& hint) { return hint.empty() ? "" : "  hint: " + hint + "\n"; }

[[noreturn]] void report_internal(const Model& model, const std::string& what) {
    const std::filesystem::path file = "lanyard-internal-error.txt";
    const std::string text = model.heading() + "\n\n" + what + "\n\nThe model:\n\n" + model.impl().model.source.text();
    throw InternalError(what, write_file(file, text).empty() ? file : std::filesystem::path());
}

}  // namespace

std::vector<Diagnostic> diagnostics_of(const Diagnostics& all) {
    std::vector<Diagnostic> out;
    for (const auto& d : all.list())
        out.push_back({level_of(d.severity), d.code, d.place.line, d.place.column, d.pointer, d.what, d.why, d.hint});
    return out;
}

Rejected rejected(const Diagnostics& all, const SourceText& source) {
    return {Rejected::Because::content, diagnostics_of(all), render(all, source)};
}

Rejected rejected(const std::string& what, const std::string& hint) {
    return refusal(Rejected::Because::content, what, hint, "error: " + what + "\n" + hint_line(hint));
}

Rejected unreadable(const std::filesystem::path& file, const std::string& what, const std::string& hint) {
    return refusal(Rejected::Because::unreadable, what, hint,
                   file.string() + ": error: " + what + "\n" + hint_line(hint));
}

Rejected unknown(const std::string& what, const std::string& hint) {
    return refusal(Rejected::Because::request, what, hint,
                   "lanyard: " + what + "\n" + (hint.empty() ? "" : "  " + hint + "\n"));
}

std::string hint_for(const std::string& word, const std::vector<std::string>& candidates, const std::string& otherwise,
                     const std::string& quote) {
    constexpr std::size_t max_named = 20;
    const auto quoted = [&](const std::string& name) { return quote + sanitize_for_terminal(name) + quote; };
    if (const auto near = lanyard::base::nearest(word, candidates)) return "did you mean " + quoted(*near) + "?";
    std::string out = otherwise;
    for (std::size_t k = 0; k < candidates.size() && k < max_named; ++k)
        out += (k > 0 ? ", " : "") + quoted(candidates[k]);
    return candidates.size() <= max_named ? out
                                          : out + " and " + std::to_string(candidates.size() - max_named) + " more";
}

std::string harmless(std::string_view text) { return sanitize_for_terminal(text); }
std::string semicolon_csv(const std::string& csv) { return lanyard::base::semicolon_csv(csv); }

std::optional<std::string> nearest(const std::string& word, const std::vector<std::string>& candidates) {
    return lanyard::base::nearest(word, candidates);
}

std::optional<Rejected> unknown_claim(const Model& model, const std::vector<std::string>& ids) {
    std::vector<std::string> known;
    for (const auto& claim : model.impl().model.claims) known.push_back(claim.id);
    for (const std::string& id : ids)
        if (std::find(known.begin(), known.end(), id) == known.end())
            return unknown("the model has no claim \"" + sanitize_for_terminal(id) + "\"",
                           hint_for(id, known, known.empty() ? "it has no claims (lanyard help claims)" : "it has: "));
    return std::nullopt;
}

std::optional<Rejected> unknown_prover(const std::string& name) {
    std::vector<std::string> known;
    for (const auto& row : lanyard::prove::prover_table()) known.push_back(row.name);
    if (name.empty() || std::find(known.begin(), known.end(), name) != known.end()) return std::nullopt;
    return unknown("there is no prover \"" + sanitize_for_terminal(name) + "\"",
                   hint_for(name, known, "it is one of: ", ""));
}

DriverOptions driver_limits(const Limits& limits) {
    DriverOptions driver;
    if (limits.work) driver.work_limit = *limits.work;
    driver.jobs = limits.jobs ? limits.jobs : std::max(1U, std::thread::hardware_concurrency());
    driver.time_s = limits.time_s;
    driver.memory_mb = limits.memory_mb;
    driver.interrupted = [stop = limits.stop] { return stop.stop_requested(); };
    return driver;
}

DriverOptions driver_options(const Limits& limits, const std::vector<std::string>& claims, const OnProgress& progress,
                             const std::vector<ClaimInfo>& infos, const std::optional<Share>& share) {
    DriverOptions driver = driver_limits(limits);
    std::size_t place = 0;
    for (std::size_t i = 0; i < infos.size(); ++i)
        if (claims.empty() || std::find(claims.begin(), claims.end(), infos[i].id) != claims.end())
            if (const std::size_t here = place++; !share || share->has(here)) driver.claims.push_back(ClaimId(i));
    driver.on_start = [&progress, &infos, total = driver.claims.size()](std::size_t decided, ClaimId claim) {
        if (progress) progress({decided, total, infos[claim.index()].id, ""});
    };
    return driver;
}

void leave(const Model& model) {
    try {
        throw;
    } catch (const lanyard::base::InternalError& e) {
        report_internal(model, e.what());
    } catch (const Unsupported& e) {
        report_internal(model, e.what());
    } catch (const z3::exception& e) {
        report_internal(model, e.msg());
    }
}

}  // namespace lanyard::api
