// Outputs and fuses that are too small for what hangs on them; how the sum is made: currents.hpp.
#include <map>

#include "circuit/currents.hpp"
#include "circuit/find.hpp"
#include "circuit/part_words.hpp"

namespace lanyard::circuit {

namespace {

std::string why(const Net& net, const Drawn& d) {
    std::string text = "what it feeds and can be on together: " + drawn_text(net, d);
    if (d.at_most) text += " (it feeds so many change-over contacts that all count as closed)";
    return text;
}

std::optional<Drawn> drawn_from(const Net& net, BranchId output) {
    const Branch& stage = net.branch(output);
    return net.is_upper(stage) ? drawn_through(net, output, stage.from, Sign::plus)
                               : drawn_through(net, output, stage.to, Sign::ground);
}

void find_outputs(const Net& net, Findings& out) {
    std::map<OutputId, WiringFinding> worst;  // a half bridge has two branches
    std::map<OutputId, Rational> amps;
    for (const BranchId b : net.branches()) {
        if (net.budget_exhausted()) break;
        const Branch& stage = net.branch(b);
        if (stage.kind != BranchKind::output || !stage.limit) continue;
        const auto drawn = drawn_from(net, b);
        if (!drawn || drawn->amps <= *stage.limit || drawn->amps <= amps[stage.index]) continue;
        amps[stage.index] = drawn->amps;
        worst[stage.index] = {FindingKind::output_overload,
                              stage.place,
                              stage.pointer,
                              "the output " + part_of_branch(stage) + " is rated " + amps_text(*stage.limit) +
                                  ", and " + amps_text(drawn->amps) + " can be drawn through it",
                              why(net, *drawn),
                              "let it drive a relay, or spread the loads"};
    }
    for (auto& [output, finding] : worst) out.push_back(std::move(finding));
}

std::optional<Drawn> drawn_behind(const Net& net, BranchId fuse) {
    auto plus = drawn_through(net, fuse, Sign::plus);
    return plus ? plus : drawn_through(net, fuse, Sign::ground);
}

void find_fuses(const Net& net, Findings& out) {
    for (const BranchId b : net.branches()) {
        if (net.budget_exhausted()) break;
        const Branch& fuse = net.branch(b);
        if (fuse.kind != BranchKind::fuse || !fuse.limit) continue;
        const auto drawn = drawn_behind(net, b);
        if (!drawn || drawn->amps <= *fuse.limit) continue;
        out.push_back({FindingKind::fuse_below_loads, fuse.place, fuse.pointer,
                       name_of_part(fuse) + " is rated " + amps_text(*fuse.limit) + ", and " + amps_text(drawn->amps) +
                           " can be drawn through it",
                       why(net, *drawn),
                       "spread the loads, or use a larger fuse if the wires after it may carry that"});
    }
}

}  // namespace

void find_overloads(const Net& net, Findings& out) {
    find_outputs(net, out);
    find_fuses(net, out);
}

}  // namespace lanyard::circuit
