#include "api/kept.hpp"

#include <algorithm>

#include "api/impl.hpp"
#include "api/kept_answers.hpp"
#include "base/file.hpp"
#include "model/json.hpp"
#include "report/json_values.hpp"

namespace lanyard::api {

namespace {

using Json = nlohmann::ordered_json;

// The hash is over the answers as they are written.
std::string seal_of(const Json& head, const Json& answers) { return sha256_hex(head.dump() + answers.dump()); }

Json head_of(const lanyard::model::Model& m) {
    Json head = {{"lanyard_kept", 1}};
    head.update(report::head_json(m, versions()));
    return head;
}

// What of the head says by which program the answers were found.
constexpr const char* of_the_program[] = {"lanyard_kept", "lanyard", "solver"};

constexpr SealedForm kept_form{"lanyard_kept", "kept-form", "--keep did not write this file",
                               "give --keep its own file", "delete it: its results will be found again"};

}  // namespace

std::optional<SealedContent> sealed_content(const SourceText& source, const SealedForm& form, Diagnostics& out) {
    json::Limits limits;
    limits.bytes = largest_sealed;
    limits.values = 20'000'000;
    auto tree = json::parse(source, limits, out);
    if (!tree || out.has_errors()) return std::nullopt;
    const auto refuse = [&](std::size_t offset, std::size_t length, const std::string& what, const std::string& hint) {
        out.add({form.code, Severity::error, "", source.place_of(offset, std::max<std::size_t>(length, 1)), what,
                 "it is left as it is", hint});
        return std::nullopt;
    };
    const json::Member* mark = tree->find(form.mark);
    if (mark == nullptr || mark->value.text != "1")
        return refuse(tree->offset, tree->length, form.foreign, form.foreign_hint);
    SealedContent found{Json::parse(source.text(), nullptr, false), {}, {}};
    const json::Member* seal = tree->find("seal");
    const bool whole = seal != nullptr && found.head.contains("answers");
    if (whole) found.answers = std::move(found.head["answers"]);
    found.head.erase("seal");
    found.head.erase("answers");
    if (!whole || seal->value.text != seal_of(found.head, found.answers))
        return refuse(seal == nullptr ? tree->offset : seal->value.offset, seal == nullptr ? 1 : seal->value.length,
                      "this file was changed since it was written", form.changed_hint);
    found.tree = std::move(*tree);
    return found;
}

namespace {

// Answers to questions about another state of the model go by what they are like.
std::string older(const std::string& like) { return '~' + like; }
bool is_older(const std::string& key) { return key.starts_with('~'); }
std::string like_of(const Json& answer) {
    const bool told = answer.is_object() && answer.contains("like") && answer.at("like").is_string();
    return told ? answer.at("like").get<std::string>() : "";
}

bool same_program(const Json& a, const Json& b) {
    return std::all_of(std::begin(of_the_program), std::end(of_the_program),
                       [&](const char* key) { return a.contains(key) && b.contains(key) && a.at(key) == b.at(key); });
}

}  // namespace

std::variant<std::unique_ptr<Kept>, Rejected> Kept::open(const std::filesystem::path& file,
                                                         const lanyard::model::Model& m, bool fresh) {
    auto out = std::make_unique<Kept>(file, head_of(m));
    std::error_code error;
    if (!std::filesystem::exists(file, error)) return out;
    if (!std::filesystem::is_regular_file(file, error)) return unreadable(file, "results cannot be kept in this file");
    const auto text = read_file(file, largest_sealed);
    if (!text) return unreadable(file);
    const SourceText source(file.string(), *text);
    Diagnostics diagnostics;
    const auto found = sealed_content(source, kept_form, diagnostics);
    if (!found) return rejected(diagnostics, source);
    if (fresh) return out;
    if (found->head == out->head_)
        out->add(found->answers);
    else if (same_program(found->head, out->head_))
        for (const auto& [key, answer] : found->answers.items()) {
            const std::string like = is_older(key) ? key : older(like_of(answer));
            out->answers_.emplace(like, answer);
        }
    return out;
}

void Kept::add(const Json& answers) {
    for (const auto& [key, answer] : answers.items()) answers_.emplace(key, answer);
}

std::optional<KnownAnswer> Kept::look_up(const QuestionKey& key, const lanyard::model::Model& m) {
    Json found;
    bool exact = true;
    {
        const std::scoped_lock lock(mutex_);
        auto at = answers_.find(key.exact);
        exact = at != answers_.end();
        if (!exact) at = answers_.find(older(key.like));
        if (at == answers_.end()) return std::nullopt;
        found = at->second;
    }
    if (like_of(found) == key.like) found.erase("like");
    auto answer = answer_from(m, found);
    if (!answer) drop(key);
    if (answer) answer->of_another_model = !exact;
    return answer;
}

void Kept::keep(const QuestionKey& key, const KnownAnswer& answer, const lanyard::model::Model& m) {
    if (!can_be_kept(answer)) return;
    Json text = to_json(m, answer);
    text["like"] = key.like;
    const std::scoped_lock lock(mutex_);
    answers_.erase(older(key.like));
    answers_.insert_or_assign(key.exact, std::move(text));
}

void Kept::drop(const QuestionKey& key) {
    const std::scoped_lock lock(mutex_);
    if (answers_.erase(key.exact) == 0) answers_.erase(older(key.like));
}

std::string Kept::write() const {
    if (file_.empty()) return "";
    const std::scoped_lock lock(mutex_);
    const Json answers(answers_);
    Json out = head_;
    out["seal"] = seal_of(head_, answers);
    out["answers"] = answers;
    return write_file(file_, out.dump(1) + '\n');
}

std::filesystem::path kept_file(const std::filesystem::path& folder, const std::filesystem::path& model) {
    constexpr std::size_t enough = 12;
    std::error_code error;
    const auto whole = std::filesystem::weakly_canonical(model, error);
    const std::string told = error ? model.string() : whole.string();
    return folder / (model.stem().string() + "-" + sha256_hex(told).substr(0, enough) + ".json");
}

}  // namespace lanyard::api
