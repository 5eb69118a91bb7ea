// Boolean functions of events as binary decision diagrams: the structure function of a fault tree, what a circuit does
// for each position of its switches.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <stdexcept>
#include <unordered_map>
#include <vector>

#include "base/layers.hpp"

namespace lanyard::base {

// A product of literals: all of `failed` have happened and none of `works`. Both ascending, nothing in both.
struct Implicant {
    std::vector<std::size_t> failed;
    std::vector<std::size_t> works;

    friend bool operator==(const Implicant&, const Implicant&) = default;
};

// A diagram, a list or a computation outgrew its limit. There is no result then, never a part of one.
struct TooLarge : std::runtime_error {
    using std::runtime_error::runtime_error;
};

// One function of some Diagrams. Two functions of the same diagrams are equal exactly if their handles are.
struct Function {
    std::uint32_t node = 0;

    friend bool operator==(const Function&, const Function&) = default;
};

// Makes and keeps functions of the events 0 .. events-1; the order of the diagram is the order of these numbers.
// Handles of functions that this structure never made and numbers of events that do not exist throw std::out_of_range;
// outgrowing `max_nodes` throws TooLarge, after which all functions made before are still good.
class Diagrams {
 public:
    static constexpr std::size_t max_events = 4096;

    explicit Diagrams(std::size_t events, std::size_t max_nodes = 500'000);

    std::size_t events() const { return events_; }
    std::size_t max_nodes() const { return max_nodes_; }

    Function constant(bool value) const { return {value ? 1U : 0U}; }  // a house event
    Function event(std::size_t i);
    Function negation(Function f) { return if_then_else(f, constant(false), constant(true)); }
    Function conjunction(const std::vector<Function>& inputs) { return fold(inputs, true); }   // of nothing: true
    Function disjunction(const std::vector<Function>& inputs) { return fold(inputs, false); }  // of nothing: false
    Function if_then_else(Function f, Function g, Function h);
    // At least one of the sets has happened as a whole. They need not be minimal; repeated numbers count once.
    Function from_cut_sets(const std::vector<std::vector<std::size_t>>& sets);
    Function from_implicants(const std::vector<Implicant>& implicants);

    // How the diagram looks: if event_of(f) has happened then f is on(f), else off(f). Not for constants.
    bool is_constant(Function f) const { return f.node < 2; }
    std::size_t event_of(Function f) const { return at(f).event; }
    Function on(Function f) const { return {at(f).on}; }
    Function off(Function f) const { return {at(f).off}; }
    // All functions that the diagram of f consists of, itself included, constants not; those of below it first.
    std::vector<Function> parts(Function f) const;
    // The events that f depends on, ascending.
    std::vector<std::size_t> support(Function f) const;

 private:
    struct Node {
        std::size_t event;
        std::uint32_t on, off;
    };
    using Key = std::array<std::uint32_t, 3>;
    struct Hash {
        std::size_t operator()(const Key& k) const;
    };

    const Node& at(Function f) const { return nodes_.at(f.node); }
    std::size_t check_event(std::size_t i) const;
    Function fold(std::vector<Function> inputs, bool all);
    Function make(std::size_t event, Function on, Function off);
    Function cofactor(Function f, std::size_t event, bool value) const;

    std::size_t events_;
    std::size_t max_nodes_;
    std::vector<Node> nodes_;
    std::unordered_map<Key, std::uint32_t, Hash> unique_;
    std::unordered_map<Key, std::uint32_t, Hash> computed_;
};

}  // namespace lanyard::base
