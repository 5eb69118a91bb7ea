// What it is: reduced ordered binary decision diagrams. Each node asks for one event, the events come in ascending
// order on every path, no two nodes are equal and none has equal branches. So each function has exactly one diagram,
// and equality is equality of node numbers.
// How: everything is made of "if f then g else h", which splits by the first event that any of the three asks for. The
// unique table keeps nodes apart, the computed table keeps answers. Each call goes down by at least one event, so the
// recursion is never deeper than there are events.
// When it gives up: the size depends on the order of the events and may be exponential in their number. Nodes and
// remembered answers are limited, and with them the work; then TooLarge is thrown.
// Source: R. E. Bryant, Graph-based algorithms for Boolean function manipulation, IEEE Trans. Computers C-35 (1986);
// K. S. Brace, R. L. Rudell, R. E. Bryant, Efficient implementation of a BDD package, DAC 1990.
// Tested by: tests/fault/diagrams_test.cpp, tests/fault/random_test.cpp
#include "base/diagrams.hpp"

#include <algorithm>
#include <string>

namespace lanyard::base {

namespace {

// Answers take less room than nodes, and there are more of them.
constexpr std::size_t answers_per_node = 4;

}  // namespace

std::size_t Diagrams::Hash::operator()(const Key& k) const {
    std::uint64_t h = 0;
    for (const std::uint32_t x : k) {
        h = (h ^ x) * 0x9e3779b97f4a7c15U;
        h ^= h >> 29U;
    }
    return h;
}

Diagrams::Diagrams(std::size_t events, std::size_t max_nodes) : events_(events), max_nodes_(max_nodes) {
    if (events > max_events) throw TooLarge("more than " + std::to_string(max_events) + " basic events");
    // The constants ask for no event: their number is behind all others.
    nodes_ = {{events, 0, 0}, {events, 1, 1}};
}

std::size_t Diagrams::check_event(std::size_t i) const {
    if (i >= events_) throw std::out_of_range("there is no basic event number " + std::to_string(i));
    return i;
}

Function Diagrams::make(std::size_t event, Function on, Function off) {
    if (on == off) return on;
    const Key key{static_cast<std::uint32_t>(event), on.node, off.node};
    if (const auto found = unique_.find(key); found != unique_.end()) return {found->second};
    if (nodes_.size() >= max_nodes_)
        throw TooLarge("the decision diagram has more than " + std::to_string(max_nodes_) + " nodes");
    const auto number = static_cast<std::uint32_t>(nodes_.size());
    nodes_.push_back({event, on.node, off.node});
    unique_.emplace(key, number);
    return {number};
}

Function Diagrams::event(std::size_t i) { return make(check_event(i), constant(true), constant(false)); }

Function Diagrams::cofactor(Function f, std::size_t event, bool value) const {
    const Node& n = at(f);
    if (n.event != event) return f;
    return {value ? n.on : n.off};
}

Function Diagrams::if_then_else(Function f, Function g, Function h) {
    const std::size_t first = std::min({at(f).event, at(g).event, at(h).event});
    if (f == constant(true) || g == h) return g;
    if (f == constant(false)) return h;
    if (g == constant(true) && h == constant(false)) return f;
    const Key key{f.node, g.node, h.node};
    if (const auto found = computed_.find(key); found != computed_.end()) return {found->second};
    if (computed_.size() / answers_per_node >= max_nodes_)
        throw TooLarge("operations on the decision diagram take more than " +
                       std::to_string(answers_per_node * max_nodes_) + " steps");
    const Function on = if_then_else(cofactor(f, first, true), cofactor(g, first, true), cofactor(h, first, true));
    const Function off = if_then_else(cofactor(f, first, false), cofactor(g, first, false), cofactor(h, first, false));
    const Function out = make(first, on, off);
    computed_.emplace(key, out.node);
    return out;
}

// In pairs, pairs of pairs and so on: two large functions meet only at the end.
Function Diagrams::fold(std::vector<Function> inputs, bool all) {
    if (inputs.empty()) return constant(all);
    for (; inputs.size() > 1; inputs.resize((inputs.size() + 1) / 2))
        for (std::size_t i = 0; i < inputs.size(); i += 2) {
            const Function f = inputs[i];
            const Function g = i + 1 < inputs.size() ? inputs[i + 1] : f;
            inputs[i / 2] = all ? if_then_else(f, g, constant(false)) : if_then_else(f, constant(true), g);
        }
    return inputs.front();
}

Function Diagrams::from_cut_sets(const std::vector<std::vector<std::size_t>>& sets) {
    std::vector<Implicant> implicants;
    implicants.reserve(sets.size());
    for (const auto& set : sets) implicants.push_back({set, {}});
    return from_implicants(implicants);
}

Function Diagrams::from_implicants(const std::vector<Implicant>& implicants) {
    std::vector<Function> products;
    for (const Implicant& one : implicants) {
        std::vector<Function> literals;
        for (const std::size_t i : one.failed) literals.push_back(event(i));
        for (const std::size_t i : one.works) literals.push_back(negation(event(i)));
        products.push_back(conjunction(literals));
    }
    return disjunction(products);
}

// A node is made after its branches: numbers ascend from below.
std::vector<Function> Diagrams::parts(Function f) const {
    if (f.node >= nodes_.size()) throw std::out_of_range("a function of other diagrams");
    std::vector<bool> seen(f.node + std::size_t{1}, false);
    seen[f.node] = true;
    for (std::uint32_t n = f.node; n > 1; --n)
        if (seen[n]) seen[nodes_[n].on] = seen[nodes_[n].off] = true;
    std::vector<Function> out;
    for (std::uint32_t n = 2; n <= f.node; ++n)
        if (seen[n]) out.push_back({n});
    return out;
}

std::vector<std::size_t> Diagrams::support(Function f) const {
    std::vector<std::size_t> out;
    for (const Function part : parts(f)) out.push_back(event_of(part));
    std::sort(out.begin(), out.end());
    out.erase(std::unique(out.begin(), out.end()), out.end());
    return out;
}

}  // namespace lanyard::base
