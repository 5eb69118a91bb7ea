#include "page/scheme_states.hpp"

#include <algorithm>

namespace lanyard::page {

namespace {

class Look {
 public:
    Look(const report::Film& film, long scan)
        : film_(film),
          m_(film.model()),
          scan_(scan),
          flow_(film.flow(scan, sim::Look::rest)),
          carries_(like(m_.circuit.branches)),
          gives_(like(m_.circuit.sources)) {
        for (const BranchId b : m_.circuit.branches.ids()) current_of(b);
    }

    char net(const SchemeNet& n) const {
        return flow_.plus(n.node) ? 'p' : flow_.ground(n.node) ? 'g' : flow_.in_doubt(n.node) ? 'b' : 'n';
    }

    char state(const SchemePart& p) const {
        if (p.end == End::source) {
            const bool live = film_.standing(scan_, sim::Look::rest).live[p.index];
            return !live ? '0' : gives_[p.index] ? '2' : '1';
        }
        if (p.end == End::input) return on(m_.wired_inputs[p.index].signal) ? '1' : '0';
        if (p.end == End::magneto) return on(m_.loads[p.index].signal) ? '1' : '0';
        const Branch& b = m_.circuit.branches[p.branch];
        if (is_consumer(b)) return works(p.branch) ? '2' : '0';
        return !flow_.closed(p.branch) ? '0' : carries_[p.branch] ? '2' : '1';
    }

    std::string words(const SchemePart& p) const {
        const bool is = state(p) != '0';
        if (p.end == End::source) return is ? "live" : "supplies nothing";
        if (p.end == End::input) return is ? "seen on" : "seen off";
        if (p.end == End::magneto) return is ? "sparks" : "stopped";
        const Branch& b = m_.circuit.branches[p.branch];
        if (b.kind == BranchKind::load) return is ? "powered" : "no power";
        if (b.kind == BranchKind::coil || b.kind == BranchKind::winding) return is ? "energised" : "not energised";
        if (b.kind == BranchKind::output) return is ? "on" : "off";
        if (b.kind == BranchKind::pole || b.kind == BranchKind::contact) return is ? "closed" : "open";
        return is ? "whole" : "broken";
    }

 private:
    const report::Film& film_;
    const Model& m_;
    long scan_;
    Flow flow_;
    Indexed<Branch, bool> carries_;
    Indexed<Source, bool> gives_;

    bool on(SignalId id) const { return std::get<bool>(film_.at(scan_).signals[id]); }

    bool works(BranchId branch) const {
        const Branch& b = m_.circuit.branches[branch];
        if (b.kind == BranchKind::load) return on(m_.loads[b.index].signal);
        const ProbeId probe =
            b.kind == BranchKind::winding ? m_.circuit.sources[b.index].field : m_.relays[b.index].coil_probe;
        return probe && film_.answer(probe, scan_);
    }

    // What works is fed over these ways; of several that feed it the shortest is shown.
    void current_of(BranchId branch) {
        const Branch& b = m_.circuit.branches[branch];
        if (!is_consumer(b) || !works(branch)) return;
        for (const NodeId node : {b.from, b.to})
            for (const Sign sign : {Sign::plus, Sign::ground}) {
                const auto way = flow_.way(node, sign);
                if (!way) continue;
                for (const BranchId w : way->branches) carries_[w] = true;
                if (sign == Sign::plus && way->source) gives_[way->source] = true;
            }
    }
};

}  // namespace

void scheme_states(const report::Film& film, const std::vector<report::Moment>& moments, Scheme& scheme) {
    for (const auto& moment : moments) {
        const Look look(film, moment.scan);
        for (auto& n : scheme.nets) n.states += look.net(n);
        for (auto& p : scheme.parts) {
            p.states += look.state(p);
            p.words.push_back(look.words(p));
        }
    }
}

}  // namespace lanyard::page
