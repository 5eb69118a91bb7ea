#include "circuit/part_words.hpp"

namespace lanyard::circuit {

std::string part_of_branch(const Branch& branch) { return "`" + branch.name.substr(0, branch.name.find('.')) + "`"; }

std::string name_of_part(const Branch& branch) { return "`" + branch.name + "`"; }

std::string listed(const std::vector<std::string>& items) {
    constexpr std::size_t most = 12;
    const std::size_t shown = items.size() > most ? most - 1 : items.size();
    std::string text;
    for (std::size_t i = 0; i < shown; ++i) {
        const bool last = i + 1 == items.size();
        text += (i == 0 ? "" : last ? " and " : ", ") + items[i];
    }
    if (shown < items.size()) text += " and " + std::to_string(items.size() - shown) + " more";
    return text;
}

}  // namespace lanyard::circuit
