// A file becomes a model, or a text that says everything that is wrong with it.
#include <z3++.h>

#include "api/impl.hpp"
#include "api/packs.hpp"
#include "base/file.hpp"
#include "model/read.hpp"
#include "report/claim_words.hpp"
#include "report/findings.hpp"
#include "report/rules.hpp"

namespace lanyard::api {

namespace {
constexpr std::size_t largest_file = std::size_t{65} << 20U;  // the reader says more about what is a little too large
}

std::string version() { return LANYARD_VERSION; }

std::string solver_version() {
    unsigned major = 0, minor = 0, build = 0, revision = 0;
    Z3_get_version(&major, &minor, &build, &revision);
    return "Z3 " + std::to_string(major) + "." + std::to_string(minor) + "." + std::to_string(build);
}

Versions versions() { return {version(), solver_version()}; }

Model::Model(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
Model::Model(Model&&) noexcept = default;
Model& Model::operator=(Model&&) noexcept = default;
Model::~Model() = default;

std::string Model::name() const { return impl_->model.name; }
std::string Model::sha256() const { return impl_->model.sha256; }
std::string Model::heading() const { return lanyard::heading(impl_->model, versions()); }
std::string Model::warnings() const { return impl_->warnings; }

std::vector<ClaimInfo> Model::claims() const {
    const lanyard::Model& m = impl_->model;
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

std::vector<FindingInfo> Model::findings() const {
    std::vector<FindingInfo> out;
    for (const auto& f : findings_of(impl_->model)) {
        const FindingHelp& help = finding_help(f.kind);
        out.push_back({help.code, finding_level_word(help.level), f.place.line, f.place.column, f.what, f.why, f.hint});
    }
    return out;
}

std::string Model::findings_text() const { return report::findings_text(findings_of(impl_->model)); }

std::variant<Model, Rejected> load(const std::filesystem::path& path, const std::vector<std::string>& rules) {
    auto packs = find_packs(rules);
    if (auto* rejected = std::get_if<Rejected>(&packs)) return std::move(*rejected);
    bool too_large = false;
    const auto text = read_file(path, largest_file, &too_large);
    if (!text)
        return Rejected{path.string() + (too_large ? ": error: larger than the 64 MB that a model may have\n"
                                                   : ": error: this file cannot be read\n  hint: is the name right, "
                                                     "and are you allowed to read it?\n"),
                        !too_large};
    ReadResult r = read_model(path.string(), *text, std::get<std::vector<PackPtr>>(packs));
    const std::string messages = render(r.diagnostics, r.source);
    if (!r.model) return Rejected{messages, false};
    return Model(std::make_unique<Model::Impl>(Model::Impl{std::move(*r.model), messages}));
}

}  // namespace lanyard::api
