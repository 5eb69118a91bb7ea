#include "report/graph.hpp"

#include <map>
#include <optional>
#include <set>

#include "claims/cone.hpp"

namespace lanyard::report {

namespace {

std::string terminal_of(const Model& m, const Signal& s) {
    const AnyId k = s.index;
    if (s.kind == SignalKind::seen) return m.switches[k].terminal;
    if (s.kind == SignalKind::reading) return m.sensors[k].terminal;
    if (s.kind == SignalKind::loop) return m.loops[k].terminal;
    if (s.kind == SignalKind::output) return m.outputs[k].terminal;
    return "";
}

class Maker {
 public:
    Maker(const Model& m, const Cone& cone) : m_(m), cone_(cone) {}

    SignalGraph graph() {
        for (const SignalId id : m_.signals.ids()) {
            if (!shown(id)) continue;
            numbers_[id] = graph_.nodes.size();
            graph_.nodes.push_back({id, m_.name_of(id), terminal_of(m_, m_.signal(id))});
        }
        for (const auto& [id, number] : std::map(numbers_)) feeds(id, number);
        return std::move(graph_);
    }

 private:
    const Model& m_;
    const Cone& cone_;
    SignalGraph graph_;
    std::map<SignalId, std::size_t> numbers_;
    std::optional<std::size_t> wiring_;

    // Power that never fails, and faults that nobody speaks of, would be fed into everything and tell nothing.
    bool shown(SignalId id) const { return cone_.has(id) && (id != m_.powered || m_.may_lose_power()); }

    void edge(SignalId from, std::size_t to, bool later) {
        const auto known = numbers_.find(from);
        if (known != numbers_.end()) graph_.edges.push_back({known->second, to, later});
    }

    void feeds(SignalId id, std::size_t number) {
        bool wired = false;
        const Cone direct = sources_of(m_, id, [&wired](SignalId, const auto&) { wired = true; });
        const Signal& s = m_.signal(id);
        std::set<SignalId> later;  // read with last() only
        std::set<SignalId> now;
        if (s.kind == SignalKind::logic || s.kind == SignalKind::output)
            visit(definition(m_, id), [&](const Expr& e) {
                if (e.op == Op::last) later.insert(e.signal);
                if (e.op == Op::signal) now.insert(e.signal);
            });
        if (wired) graph_.edges.push_back({wiring(id), number, false});
        for (const SignalId from : direct.signals)
            edge(from, number, s.kind == SignalKind::loop || (later.contains(from) && !now.contains(from)));
    }

    std::size_t wiring(SignalId asked) {
        if (wiring_) return *wiring_;
        wiring_ = graph_.nodes.size();
        graph_.nodes.push_back({{}, "wiring", ""});
        for (const SignalId from : sources_of(m_, asked).signals) edge(from, *wiring_, false);
        return *wiring_;
    }
};

}  // namespace

SignalGraph signal_graph(const Model& m, ClaimId claim) {
    const Cone cone = claim ? cone_of(m, m.claims[claim].condition, claim) : whole_model(m);
    return Maker(m, cone).graph();
}

}  // namespace lanyard::report
