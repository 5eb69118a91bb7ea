// Parts that have no say in any claim.
//
// A claim's cone (claims/cone.hpp) is followed through the wiring by what has a say in each answer that it asks for
// (influence.hpp): the same rule by which a proof names what it rests on, without the proof.
// Tested by: tests/findings/parts_test.cpp
#include <algorithm>
#include <map>
#include <unordered_map>

#include "circuit/find.hpp"
#include "circuit/influence.hpp"
#include "circuit/part_words.hpp"
#include "claims/cone.hpp"

namespace lanyard::circuit {

namespace {

class Asked {
 public:
    explicit Asked(const Model& m) : m_(m) {}

    // Claims under the same faults ask of the same wiring.
    void claim(ClaimId index) {
        const Claim& c = m_.claims[index];
        const std::set<FaultId> faults = faults_of(m_, index);
        auto& known = by_faults_[faults];
        if (!known) known = std::make_unique<Influence>(m_, faults);
        cone_of(m_, c.condition, index, known->follow());
    }
    bool has(BranchId branch) const {
        return any([&](const Influence& i) { return i.has_branch(branch); });
    }
    bool has_input(WiredInputId input) const {
        return any([&](const Influence& i) { return i.has_input(input); });
    }

 private:
    const Model& m_;
    std::map<std::set<FaultId>, std::unique_ptr<Influence>> by_faults_;

    template <class Has>
    bool any(const Has& has) const {
        return std::any_of(by_faults_.begin(), by_faults_.end(), [&](const auto& i) { return has(*i.second); });
    }
};

struct Part {
    std::string name;
    Place place;
    std::string pointer;
    bool asked = false;
};

// Wires and terminals go with the parts that they join.
std::vector<Part> parts_of(const Net& net, const Asked& asked) {
    std::vector<Part> all;
    std::unordered_map<std::string, std::size_t> known;
    const auto add = [&](const std::string& name, const Place& place, const std::string& pointer, bool is_asked) {
        const auto [at, fresh] = known.emplace(name, all.size());
        if (fresh) all.push_back({name, place, pointer, false});
        all[at->second].asked = all[at->second].asked || is_asked;
    };
    for (const BranchId b : net.branches()) {
        const Branch& x = net.branch(b);
        if (Net::is_bare(x) || x.kind == BranchKind::stray) continue;
        add(part_of_branch(x), x.place, x.pointer, asked.has(b));
    }
    const Model& m = net.model();
    for (const WiredInputId i : m.wired_inputs.ids()) {
        const Signal& s = m.signal(m.wired_inputs[i].signal);
        add("`" + s.name + "`", s.place, s.pointer, asked.has_input(i));
    }
    return all;
}

}  // namespace

void find_not_asked(const Net& net, Findings& out) {
    if (net.model().claims.empty() || !Influence::affordable(net.model())) return;
    Asked asked(net.model());
    for (const ClaimId c : net.model().claims.ids()) asked.claim(c);
    std::vector<Part> left;
    for (auto& p : parts_of(net, asked))
        if (!p.asked) left.push_back(std::move(p));
    if (left.empty()) return;
    std::stable_sort(left.begin(), left.end(), [](const Part& x, const Part& y) {
        return std::pair(x.place.line, x.place.column) < std::pair(y.place.line, y.place.column);
    });
    std::vector<std::string> names;
    for (const auto& p : left) names.push_back(p.name);
    out.push_back({FindingKind::not_asked, left.front().place, left.front().pointer,
                   "no claim depends on " + listed(names),
                   "open or closed, whole or broken, every verdict stays the same",
                   "make a claim about their purpose, or leave them out"});
}

}  // namespace lanyard::circuit
