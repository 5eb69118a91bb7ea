// Hand switches that stop the engine by closing: a broken wire defeats them, and nobody knows until the day.
//
// A switch is told if some contact of it takes the power from a load that the engine fires with by conducting
// (forced.hpp), and none takes it from any of them by not conducting. Without an engine section all loads and outputs
// count. What stops the engine only through an edge, a vote or a number is not seen.
// Tested by: tests/findings/protection_test.cpp
#include <algorithm>
#include <map>

#include "circuit/find.hpp"
#include "circuit/forced.hpp"
#include "circuit/part_words.hpp"

namespace lanyard {

namespace {

std::vector<SignalId> targets_of(const Model& m) {
    std::vector<SignalId> all;
    if (m.engine) {
        for (const LoadId load : m.engine->fires_with) all.push_back(m.loads[load].signal);
        return all;
    }
    for (const auto& load : m.loads) all.push_back(load.signal);
    for (const auto& output : m.outputs) all.push_back(output.signal);
    return all;
}

}  // namespace

void find_kills(const Net& net, Findings& out) {
    const Model& m = net.model();
    Forced forced(net);
    std::map<SwitchId, std::vector<std::string>> by_closing;  // what it stops
    std::map<SwitchId, bool> by_opening;
    for (const SignalId target : targets_of(m)) {
        const std::string name = "`" + m.name_of(target) + "`";
        for (const auto& cause : forced.by(target, false)) {
            if (!cause.conducts) {
                by_opening[cause.hand_switch] = true;
                continue;
            }
            auto& stops = by_closing[cause.hand_switch];
            if (std::find(stops.begin(), stops.end(), name) == stops.end()) stops.push_back(name);
        }
    }
    for (const auto& [hand_switch, stops] : by_closing) {
        if (by_opening.count(hand_switch) > 0) continue;
        const Signal& s = m.signal(m.switches[hand_switch].position);
        out.push_back({FindingKind::kill_needs_wire, s.place, s.pointer,
                       "`" + s.name + "` cuts the power of " + listed(stops) +
                           " by closing a contact: with a wire of its line broken it does nothing",
                       "nobody notices that the wire is broken until the switch is needed",
                       "use a contact that is closed while all is well, so that a broken wire stops the engine just as "
                       "the switch does"});
    }
}

}  // namespace lanyard
