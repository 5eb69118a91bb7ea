// Answers kept in a file from one run of the program to the next (CheckOptions::keep).
//
// The file says of which state of the model and of which versions it is. Answers of other versions are dropped. Those
// of another state of the model are asked for where there is none of this one (prove/known.hpp). Its own hash tells
// whether it was changed since it was written; such a file is refused and never overwritten, and so is a file that is
// something else. Tested by: tests/cli/kept_test.py
#pragma once

#include <filesystem>
#include <map>
#include <memory>
#include <mutex>
#include <nlohmann/json.hpp>
#include <variant>

#include "lanyard/lanyard.hpp"
#include "model/json.hpp"
#include "prove/known.hpp"

namespace lanyard::api {

// A file that holds answers under a seal: what its head says, the answers, and where everything stands in it.
struct SealedContent {
    nlohmann::ordered_json head, answers;
    lanyard::model::json::Value tree;
};
// How such a file is told from others, and what is said where it is not one.
struct SealedForm {
    const char *mark, *code, *foreign, *foreign_hint, *changed_hint;
};
// The content; nothing, and what is wrong where, if this form was not written here.
std::optional<SealedContent> sealed_content(const SourceText& source, const SealedForm& form, Diagnostics& out);
inline constexpr std::size_t largest_sealed = std::size_t{256} << 20U;  // bytes

class Kept : public KnownAnswers {
 public:
    // A file that is not there yet has no answers. `fresh`: they are left alone, though it has to be such a file.
    static std::variant<std::unique_ptr<Kept>, Rejected> open(const std::filesystem::path& file,
                                                              const lanyard::model::Model& model, bool fresh);
    // With that head; without a file nothing is written.
    Kept(std::filesystem::path file, nlohmann::ordered_json head) : file_(std::move(file)), head_(std::move(head)) {}

    // Those of a file; of two with the same key the one that is there already stays.
    void add(const nlohmann::ordered_json& answers);
    // What else the head says.
    void note(const char* key, bool value) { head_[key] = value; }

    std::optional<KnownAnswer> look_up(const QuestionKey& key, const lanyard::model::Model& model) override;
    void keep(const QuestionKey& key, const KnownAnswer& answer, const lanyard::model::Model& model) override;
    void drop(const QuestionKey& key) override;

    // Writes it whole; what went wrong, or nothing.
    std::string write() const;

 private:
    std::filesystem::path file_;
    nlohmann::ordered_json head_;
    mutable std::mutex mutex_;
    std::map<std::string, nlohmann::ordered_json> answers_;
};

}  // namespace lanyard::api
