#include <algorithm>
#include <iterator>
#include <tuple>

#include "circuit/find.hpp"
#include "circuit/part_words.hpp"

namespace lanyard::circuit {

namespace {

struct Looker {
    void (*find)(const Net&, Findings&);
    FindingKind kind;  // named if it was not looked for
};
// The cheap ones first: a net that is tired stays so.
constexpr Looker lookers[] = {
    {find_dead_ends, FindingKind::no_plus},
    {find_coils, FindingKind::coil_unsuppressed},
    {find_unfused, FindingKind::no_fuse},
    {find_joined, FindingKind::batteries_joined},
    {find_switch_shorts, FindingKind::switch_shorts},
    {find_joined_halves, FindingKind::changeover_joins},
    {find_not_asked, FindingKind::not_asked},
    {find_kills, FindingKind::kill_needs_wire},
    {find_protection, FindingKind::fuse_ends_protection},
    {find_thin_wires, FindingKind::fuse_above_wire},
    {find_overloads, FindingKind::output_overload},
};

WiringFinding not_looked_for(const Model& m, const std::vector<std::string>& codes) {
    const Place place = m.circuit.nodes.front().place;
    return {
        FindingKind::too_large,           place, "/circuit", "not looked for in a wiring this large: " + listed(codes),
        "the search would take too long", ""};
}

}  // namespace

std::vector<WiringFinding> findings_of(const Model& m) {
    Findings all;
    if (!m.circuit.exists()) return all;
    const Net net(m);
    std::vector<std::string> left_out;
    for (const auto& looker : lookers) {
        Findings found;
        if (!net.budget_exhausted()) looker.find(net, found);
        if (net.budget_exhausted())
            left_out.push_back(finding_help(looker.kind).code);
        else
            all.insert(all.end(), std::make_move_iterator(found.begin()), std::make_move_iterator(found.end()));
    }
    if (!left_out.empty()) all.push_back(not_looked_for(m, left_out));
    std::stable_sort(all.begin(), all.end(), [](const WiringFinding& x, const WiringFinding& y) {
        return std::tuple(x.place.line, x.place.column, x.kind) < std::tuple(y.place.line, y.place.column, y.kind);
    });
    return all;
}

}  // namespace lanyard::circuit
