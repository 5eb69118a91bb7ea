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
#include "prove/known.hpp"

namespace lanyard::api {

class Kept : public KnownAnswers {
 public:
    // A file that is not there yet has no answers. `fresh`: they are left alone, though it has to be such a file.
    static std::variant<std::unique_ptr<Kept>, Rejected> open(const std::filesystem::path& file,
                                                              const lanyard::model::Model& model, bool fresh);

    std::optional<KnownAnswer> look_up(const QuestionKey& key, const lanyard::model::Model& model) override;
    void keep(const QuestionKey& key, const KnownAnswer& answer, const lanyard::model::Model& model) override;
    void drop(const QuestionKey& key) override;

    // Writes it whole; what went wrong, or nothing.
    std::string write() const;

 private:
    explicit Kept(std::filesystem::path file) : file_(std::move(file)) {}

    std::filesystem::path file_;
    nlohmann::ordered_json head_;
    mutable std::mutex mutex_;
    std::map<std::string, nlohmann::ordered_json> answers_;
};

}  // namespace lanyard::api
