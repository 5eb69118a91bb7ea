// Parts: the answers of one share of a call (include/lanyard/parts.hpp), in a file like that of --keep.
//
// The head of a part says of which call, of which model and which share it is. That decides which parts belong
// together, and never what is true: their answers go to the call as known answers (prove/known.hpp). Tested by:
// tests/cli/shard_test.py
#pragma once

#include "api/kept.hpp"
#include "lanyard/parts.hpp"

namespace lanyard::api {

struct AnswerFiles {
    const std::optional<std::filesystem::path>& keep;
    bool fresh;  // CheckOptions::fresh
    const std::optional<Share>& share;
    const std::optional<Parts>& parts;
};
// Where a call looks answers up and keeps them; null: nowhere. Rejected also where the model is not that of the parts.
std::variant<std::unique_ptr<Kept>, Rejected> answers_for(const Model& model, const AnswerFiles& files);

// Writes the file at the end of a call; what went wrong, or nothing.
std::string write_answers(Kept* kept, const std::optional<Share>& share, bool interrupted);

}  // namespace lanyard::api
