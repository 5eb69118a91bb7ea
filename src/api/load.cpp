// A file becomes a model, or values that say everything that is wrong with it.
#include <z3++.h>

#include <filesystem>

#include "api/impl.hpp"
#include "api/packs.hpp"
#include "base/file.hpp"
#include "model/read.hpp"
#include "report/claim_words.hpp"
#include "report/findings.hpp"
#include "report/rules.hpp"
#include "report/story.hpp"

namespace lanyard::api {

namespace {

constexpr std::size_t largest_file = std::size_t{65} << 20U;  // the reader says more about what is a little too large

std::variant<Model, Rejected> read(const std::string& text, const std::string& name,
                                   const std::vector<PackPtr>& packs) {
    ReadResult r = read_model(name, text, packs);
    if (!r.model) return rejected(r.diagnostics, r.source);
    return Model(std::make_shared<Model::Impl>(
        Model::Impl{std::move(*r.model), diagnostics_of(r.diagnostics), render(r.diagnostics, r.source)}));
}

}  // namespace

std::string version() { return LANYARD_VERSION; }

std::string solver_version() {
    unsigned major = 0, minor = 0, build = 0, revision = 0;
    Z3_get_version(&major, &minor, &build, &revision);
    return "Z3 " + std::to_string(major) + "." + std::to_string(minor) + "." + std::to_string(build);
}

std::string closing() { return safety_line(); }

Versions versions() { return {version(), solver_version()}; }

std::string Model::name() const { return impl_->model.name; }
std::string Model::sha256() const { return impl_->model.sha256; }
std::string Model::heading() const { return lanyard::report::heading_on_page(impl_->model, versions()); }
std::vector<Diagnostic> Model::warnings() const { return impl_->warnings; }
std::string Model::warnings_text() const { return impl_->warnings_text; }

std::vector<ClaimInfo> Model::claims() const {
    const lanyard::model::Model& m = impl_->model;
    std::vector<ClaimInfo> out;
    for (const auto& c : m.claims)
        out.push_back({c.id, report::kind_of(c), report::condition_text(m, c), c.place.line, c.place.column, c.pattern,
                       c.written, report::plain_sentences(m, c), c.rule});
    return out;
}

std::vector<RuleInfo> Model::rules() const {
    std::vector<RuleInfo> out;
    for (const auto& use : impl_->model.rules)
        out.push_back({use.rule, use.state == RuleState::judged, report::state_reason(use),
                       find_rule(impl_->model.packs, use.rule)->citation});
    return out;
}

std::string Model::rules_text() const { return report::rules_text(impl_->model); }

std::vector<Diagnostic> Model::findings() const {
    std::vector<Diagnostic> out;
    for (const auto& f : findings_of(impl_->model)) {
        const FindingHelp& help = finding_help(f.kind);
        const bool warns = help.level == FindingLevel::warning;
        out.push_back({warns ? Diagnostic::Level::warning : Diagnostic::Level::hint, help.code, f.place.line,
                       f.place.column, f.pointer, f.what, f.why, f.hint});
    }
    return out;
}

std::string Model::findings_text() const { return report::findings_text(findings_of(impl_->model)); }

std::variant<Model, Rejected> load(const std::filesystem::path& path, const std::vector<std::string>& rules) {
    const auto packs = find_packs(rules);
    if (const auto* wrong = std::get_if<Rejected>(&packs)) return *wrong;
    std::error_code ignored;
    if (std::filesystem::is_directory(path, ignored))
        return unreadable(path, "this is a folder, not a file", "name the model file inside it");
    bool too_large = false;
    const auto text = read_file(path, largest_file, &too_large);
    if (text) return read(*text, path.string(), std::get<std::vector<PackPtr>>(packs));
    if (!too_large)
        return unreadable(path, "this file cannot be read", "is the name right, and are you allowed to read it?");
    Rejected out = unreadable(path, "larger than the 64 MB that a model may have");
    out.because = Rejected::Because::content;
    return out;
}

std::variant<Model, Rejected> load_text(const std::string& text, const std::string& name,
                                        const std::vector<std::string>& rules) {
    const auto packs = find_packs(rules);
    if (const auto* wrong = std::get_if<Rejected>(&packs)) return *wrong;
    return read(text, name, std::get<std::vector<PackPtr>>(packs));
}

}  // namespace lanyard::api
