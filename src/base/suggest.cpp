#include "base/suggest.hpp"

#include <algorithm>

namespace lanyard::base {

namespace {

// Nobody mistypes a word longer than this into another one; also a bound on the work.
constexpr std::size_t longest_word = 200;

// Edit distance where a swap of two neighbours counts as one (optimal string alignment: no piece is edited twice).
std::size_t distance(std::string_view a, std::string_view b) {
    std::vector<std::size_t> before_last(b.size() + 1), last(b.size() + 1), row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t replaced = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
            row[j] = std::min({last[j] + 1, row[j - 1] + 1, replaced});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                row[j] = std::min(row[j], before_last[j - 2] + 1);
        }
        std::swap(before_last, last);
        std::swap(last, row);
    }
    return last[b.size()];
}

}  // namespace

std::optional<std::string> nearest(std::string_view word, const std::vector<std::string>& candidates) {
    if (word.empty() || word.size() > longest_word) return std::nullopt;
    std::size_t best = std::max<std::size_t>(1, word.size() / 3) + 1;
    std::optional<std::string> found;
    for (const std::string& c : candidates) {
        const std::size_t difference = std::max(c.size(), word.size()) - std::min(c.size(), word.size());
        if (difference >= best) continue;
        const std::size_t d = distance(word, c);
        if (d < best) {
            best = d;
            found = c;
        }
    }
    return found;
}

}  // namespace lanyard::base
