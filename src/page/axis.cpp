#include "page/axis.hpp"

#include <algorithm>
#include <optional>

namespace lanyard::page {

namespace {

constexpr int least_step = 14;   // that can be seen
constexpr int break_width = 40;  // holds its mark

// Is the smallest stretch visible if the unbroken ones share what breaks leave of the width?
bool is_visible(const std::vector<long>& lengths, const std::vector<bool>& broken, int width) {
    long total = 0, least = 0;
    for (std::size_t k = 0; k < lengths.size(); ++k) {
        if (broken[k]) {
            width -= break_width;
            continue;
        }
        total += lengths[k];
        least = least == 0 ? lengths[k] : std::min(least, lengths[k]);
    }
    return total == 0 || least * width >= static_cast<long>(least_step) * total;
}

// The longest unbroken stretch that is longer than the shortest.
std::optional<std::size_t> next_break(const std::vector<long>& lengths, const std::vector<bool>& broken) {
    std::optional<std::size_t> longest;
    long least = -1;
    for (std::size_t k = 0; k < lengths.size(); ++k) {
        if (broken[k]) continue;
        if (least < 0 || lengths[k] < least) least = lengths[k];
        if (!longest || lengths[k] > lengths[*longest]) longest = k;
    }
    return longest && lengths[*longest] > least ? longest : std::nullopt;
}

}  // namespace

Axis axis_of(const std::vector<long>& scans, const std::vector<bool>& must_break, int wanted_width) {
    Axis out;
    out.is_break = must_break;
    std::vector<long> lengths;
    for (std::size_t k = 1; k < scans.size(); ++k) lengths.push_back(scans[k] - scans[k - 1]);
    while (!is_visible(lengths, out.is_break, wanted_width)) {
        const auto k = next_break(lengths, out.is_break);
        if (!k) break;
        out.is_break[*k] = true;
    }
    long total = 0;
    int width = wanted_width;
    for (std::size_t k = 0; k < lengths.size(); ++k)
        if (out.is_break[k])
            width -= break_width;
        else
            total += lengths[k];
    // A few stretches do not have to fill the page.
    constexpr long widest_scan = 150;
    int x = 0;
    out.at.push_back(x);
    for (std::size_t k = 0; k < lengths.size(); ++k) {
        const long drawn = total == 0 ? 0 : std::min(lengths[k] * std::max(width, 0) / total, lengths[k] * widest_scan);
        x += out.is_break[k] ? break_width : static_cast<int>(std::max<long>(least_step, drawn));
        out.at.push_back(x);
    }
    out.width = x;
    return out;
}

}  // namespace lanyard::page
