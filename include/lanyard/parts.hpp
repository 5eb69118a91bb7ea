// One call's work shared among many machines. Each judges a share of it and writes a part, a file with what the provers
// answered; whoever has all parts makes the call as a whole with them. Nothing in a part is believed: each answer is
// checked, what does not pass is searched for, and the results are the same bytes as those of one call without parts.
#pragma once

#include <variant>

#include <lanyard/call.hpp>

namespace lanyard::api {

// Which share: of what the call judges - claims, or mutants - in their order, those whose place, counted from 1, is
// number, number + of, number + 2 of ... The report has these alone.
struct Share {
    unsigned number = 1;  // 1 .. of
    unsigned of = 1;
    // The part, written when the call ends, interrupted or not. What an earlier, interrupted call wrote there for the
    // same share is continued; a file of another share, or of another kind, is refused.
    std::filesystem::path part = {};
    // How the call as a whole was asked for, for whoever merges (Parts::asked); of no other effect than that parts
    // which differ in it do not belong together.
    std::vector<std::string> asked = {};

    bool has(std::size_t place) const { return place % of == number - 1; }  // `place` from 0
};

// All parts of one call, to be given to that call: CheckOptions::parts and the like.
struct Parts {
    std::vector<std::string> asked;     // Share::asked of them all
    std::filesystem::path model;        // the model file, unchanged since the parts were made
    std::filesystem::path folder;       // to be put before other relative names in `asked`; empty: nothing
    std::vector<std::string> warnings;  // a part of a call that was interrupted, for example: one sentence each

    struct Read;  // known to the implementation only
    std::shared_ptr<const Read> read;
};
// In any order. Rejected: a file is no part, was changed since it was written, or is of another model, call or version
// than the others or than this program; a share is missing or there twice; the model file is gone or was changed.
std::variant<Parts, Rejected> read_parts(const std::vector<std::filesystem::path>& files);

}  // namespace lanyard::api
