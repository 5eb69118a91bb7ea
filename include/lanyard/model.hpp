// A model file becomes a model, or a list of what is wrong with it.
#pragma once

#include <variant>

#include <lanyard/call.hpp>

namespace lanyard::api {

struct ClaimInfo {
    std::string id;
    std::string kind;       // "always", "response", "possible", "procedure", "recoverable", "change limit"
    std::string condition;  // as printed in verdict lines
    std::size_t line = 0;   // of the claim in the model file
    std::size_t column = 0;
    std::string pattern = {};  // the word that it is written with: "cuts"; empty for a kind written plainly
    std::string written = {};  // the object of the file, on one line
    std::vector<std::string> stands_for = {};  // what that is as a plain claim of its kind, with all expressions
    std::string rule = {};                     // "small-boats/fuel-pump-off": of a rule pack; empty: the model's own
};

// What became of a rule of a chosen pack.
struct RuleInfo {
    std::string rule;      // "small-boats/fuel-pump-off"
    bool judged = false;   // it made claims (ClaimInfo::rule)
    std::string why;       // why it was not judged
    std::string citation;  // where the rule is written
};

// A value: copies are cheap, share what was read, and may be used by several threads.
class Model {
 public:
    std::string name() const;
    std::string sha256() const;  // of the file, in lower-case hexadecimal
    // What every output begins with: name, SHA-256 of the file, versions, scan period; three lines or more, harmless.
    std::string heading() const;
    // What the reader says of a file that it accepts.
    std::vector<Diagnostic> warnings() const;
    std::string warnings_text() const;      // the same, as Rejected::text
    std::vector<ClaimInfo> claims() const;  // in the order of the file, then those of rules
    std::vector<RuleInfo> rules() const;    // of the chosen packs, in their order
    // What claims do not tell of the chosen packs: rules that do not apply and why, what is to be inspected by hand,
    // rules that contradict each other. Whole lines; empty without packs.
    std::string rules_text() const;
    // What is seen in the wiring without any claim, by place; empty for a model without a circuit.
    std::vector<Diagnostic> findings() const;
    std::string findings_text() const;  // the same as whole lines

    struct Impl;  // known to the implementation only
    explicit Model(std::shared_ptr<const Impl> impl) : impl_(std::move(impl)) {}
    const Impl& impl() const { return *impl_; }

 private:
    std::shared_ptr<const Impl> impl_;
};

// `rules`: packs whose rules become claims; each is the id of a pack that is part of lanyard, or (with a slash or
// the ending .json) a folder that holds a pack.json, or such a file.
std::variant<Model, Rejected> load(const std::filesystem::path& path, const std::vector<std::string>& rules = {});
// `text`: what would stand in the file; `name`: what messages and reports call it.
std::variant<Model, Rejected> load_text(const std::string& text, const std::string& name,
                                        const std::vector<std::string>& rules = {});

// Nothing if all of these are claims of the model, if this is a prover; else the refusal of every call that is given
// them.
std::optional<Rejected> unknown_claim(const Model& model, const std::vector<std::string>& ids);
std::optional<Rejected> unknown_prover(const std::string& name);

}  // namespace lanyard::api
