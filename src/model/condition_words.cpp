#include "model/condition_words.hpp"

#include <algorithm>
#include <array>
#include <string_view>

#include "model/fault_kinds.hpp"

namespace lanyard {

namespace {

template <std::size_t n>
bool is_among(const std::array<std::string_view, n>& words, const std::string& word) {
    return std::find(words.begin(), words.end(), word) != words.end();
}

}  // namespace

bool is_step_word(const std::string& word) {
    constexpr std::array<std::string_view, 13> words = {"set", "clear", "press",  "hold", "wait",   "until", "for",
                                                        "at",  "most",  "reacts", "in",   "except", "within"};
    return is_among(words, word);
}

bool is_fault_word(const std::string& word) {
    constexpr std::array<std::string_view, 10> words = {"one", "fault", "faults", "of",    "up",
                                                        "to",  "from",  "the",    "start", "everything"};
    const auto& kinds = fault_kind_table();
    return is_among(words, word) || std::any_of(kinds.begin(), kinds.end(), [&](const FaultKindHelp& k) {
               return !k.word.empty() && (word == k.part || word == k.word || word == k.part + "." + k.word);
           });
}

}  // namespace lanyard
