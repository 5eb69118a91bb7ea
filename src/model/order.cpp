// Strongly connected components by R. Tarjan, "Depth-first search and linear graph algorithms", SIAM J. Comput. 1
// (1972), with a stack of our own: chains of a hundred thousand definitions are nothing special.
//
// It is done twice. Over the reads of the same scan: a component with more than one node, or one that reads itself, is
// a cycle; components come out in an order of evaluation. Over all reads: components come out in an order in which
// types are known before they are asked for, except inside of a component, where the first order decides. As an edge of
// the first graph is one of the second, the merged sequence is an order of evaluation as well.
//
// tested by: tests/model/order_test.cpp
// Tested by: tests/model/order_test.cpp
#include "model/order.hpp"

#include <algorithm>
#include <deque>
#include <unordered_map>

namespace lanyard::model {

namespace {

using Graph = std::vector<std::vector<std::size_t>>;
constexpr std::size_t unseen = static_cast<std::size_t>(-1);

class Components {
 public:
    explicit Components(const Graph& graph)
        : graph_(graph), number_(graph.size(), unseen), low_(graph.size()), open_(graph.size(), false) {
        for (std::size_t n = 0; n < graph.size(); ++n)
            if (number_[n] == unseen) search(n);
    }
    std::vector<std::vector<std::size_t>> all() && { return std::move(components_); }

 private:
    struct Frame {
        std::size_t node;
        std::size_t next;
    };

    void enter(std::size_t n) {
        number_[n] = low_[n] = count_++;
        stack_.push_back(n);
        open_[n] = true;
        frames_.push_back({n, 0});
    }

    void search(std::size_t root) {
        enter(root);
        while (!frames_.empty()) {
            const std::size_t n = frames_.back().node;
            if (frames_.back().next < graph_[n].size()) {
                const std::size_t to = graph_[n][frames_.back().next++];
                if (number_[to] == unseen)
                    enter(to);
                else if (open_[to])
                    low_[n] = std::min(low_[n], number_[to]);
                continue;
            }
            frames_.pop_back();
            if (!frames_.empty()) low_[frames_.back().node] = std::min(low_[frames_.back().node], low_[n]);
            if (low_[n] == number_[n]) close(n);
        }
    }

    void close(std::size_t root) {
        std::vector<std::size_t> component;
        std::size_t n = unseen;
        do {
            n = stack_.back();
            stack_.pop_back();
            open_[n] = false;
            component.push_back(n);
        } while (n != root);
        std::sort(component.begin(), component.end());
        components_.push_back(std::move(component));
    }

    const Graph& graph_;
    std::vector<std::size_t> number_;
    std::vector<std::size_t> low_;
    std::vector<bool> open_;
    std::vector<std::size_t> stack_;
    std::vector<Frame> frames_;
    std::size_t count_ = 0;
    std::vector<std::vector<std::size_t>> components_;
};

// A shortest way from the first node of the component back to it.
std::vector<std::size_t> cycle_in(const Graph& graph, const std::vector<std::size_t>& component) {
    const std::size_t start = component.front();
    const auto inside = [&](std::size_t n) { return std::binary_search(component.begin(), component.end(), n); };
    std::unordered_map<std::size_t, std::size_t> came_from;
    std::deque<std::size_t> queue{start};
    while (!queue.empty()) {
        const std::size_t n = queue.front();
        queue.pop_front();
        for (const std::size_t to : graph[n]) {
            if (to == start) {
                std::vector<std::size_t> way;
                for (std::size_t at = n; at != start; at = came_from.at(at)) way.push_back(at);
                way.push_back(start);
                std::reverse(way.begin(), way.end());
                return way;
            }
            if (!inside(to) || !came_from.emplace(to, n).second) continue;
            queue.push_back(to);
        }
    }
    return {};
}

}  // namespace

Order order_of(const std::vector<Reads>& graph) {
    Graph now(graph.size());
    Graph all(graph.size());
    for (std::size_t n = 0; n < graph.size(); ++n) {
        now[n] = all[n] = graph[n].now;
        all[n].insert(all[n].end(), graph[n].earlier.begin(), graph[n].earlier.end());
    }
    Order order;
    order.in_cycle.assign(graph.size(), false);
    std::vector<std::size_t> rank(graph.size());
    std::size_t next = 0;
    for (const auto& component : Components(now).all()) {
        for (const std::size_t n : component) rank[n] = next++;
        const std::size_t first = component.front();
        const bool reads_itself = std::find(now[first].begin(), now[first].end(), first) != now[first].end();
        if (component.size() == 1 && !reads_itself) continue;
        for (const std::size_t n : component) order.in_cycle[n] = true;
        order.cycles.push_back(cycle_in(now, component));
    }
    for (auto component : Components(all).all()) {
        std::sort(component.begin(), component.end(), [&](auto a, auto b) { return rank[a] < rank[b]; });
        order.sequence.insert(order.sequence.end(), component.begin(), component.end());
    }
    return order;
}

}  // namespace lanyard::model
