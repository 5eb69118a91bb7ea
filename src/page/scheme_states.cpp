#include "page/scheme_states.hpp"

#include <algorithm>
#include <map>

namespace lanyard::page {

namespace {

// The rows, from above, at which parts join the net's trunk below its own row.
std::vector<int> joints(const Scheme& scheme, NetId net) {
    std::vector<int> out;
    for (const PartId p : scheme.nets[net].parts)
        if (scheme.parts[p].row > scheme.nets[net].row) out.push_back(scheme.parts[p].row);
    return out;
}

// What works is fed over these ways; of several that feed it the shortest is shown. Only what is drawn counts: what
// else hangs on a way would light a line that ends nowhere.
class Look {
 public:
    Look(const report::Film& film, long scan, const Scheme& scheme)
        : film_(film),
          m_(film.model()),
          scan_(scan),
          scheme_(scheme),
          flow_(film.flow(scan, sim::Look::rest)),
          carries_(like(scheme.parts)),
          lit_(like(scheme.nets)) {
        for (const PartId p : scheme.parts.ids()) {
            const SchemePart& part = scheme.parts[p];
            if (part.branch) part_of_[part.branch] = p;
            if (part.end == End::source) source_part_[part.index.to<Source>()] = p;
        }
        Flow turned = flow_;  // each consumer is looked at by the return by which it works
        for (const PartId p : scheme.parts.ids()) current_of(p, turned);
    }

    char net(const SchemeNet& n) const {
        return flow_.plus(n.node) ? 'p' : flow_.ground(n.node) ? 'g' : flow_.in_doubt(n.node) ? 'b' : 'n';
    }

    // Of the piece of the net's trunk that ends at this row.
    char trunk(NetId net, int row) const { return lit_[net].contains(row) ? '2' : '0'; }

    char state(PartId id) const {
        const SchemePart& p = scheme_.parts[id];
        if (p.end == End::source) {
            const bool live = film_.standing(scan_, sim::Look::rest).live[p.index];
            return !live ? '0' : carries_[id] ? '2' : '1';
        }
        if (p.end == End::input) return is_read() && on(m_.wired_inputs[p.index].signal) ? '1' : '0';
        if (p.end == End::magneto) return on(m_.loads[p.index].signal) ? '1' : '0';
        const Branch& b = m_.circuit.branches[p.branch];
        if (is_consumer(b)) return works(p.branch) ? '2' : '0';
        return !flow_.closed(p.branch) ? '0' : carries_[id] ? '2' : '1';
    }

    std::string words(PartId id) const {
        const SchemePart& p = scheme_.parts[id];
        const bool is = state(id) != '0';
        if (p.end == End::source) return is ? "live" : "supplies nothing";
        if (p.end == End::input) return !is_read() ? "not read" : is ? "seen on" : "seen off";
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
    const Scheme& scheme_;
    Flow flow_;
    std::map<BranchId, PartId> part_of_;
    std::map<SourceId, PartId> source_part_;
    Indexed<SchemePart, bool> carries_;
    Indexed<SchemeNet, std::set<int>> lit_;  // rows at which lit pieces of the trunk end

    bool on(SignalId id) const { return std::get<bool>(film_.at(scan_).signals[id]); }

    bool is_read() const { return film_.controller_runs(film_.at(scan_)); }

    bool works(BranchId branch) const {
        const Branch& b = m_.circuit.branches[branch];
        if (b.kind == BranchKind::load) return on(m_.loads[b.index].signal);
        const ProbeId probe =
            b.kind == BranchKind::winding ? m_.circuit.sources[b.index].field : m_.relays[b.index].coil_probe;
        return probe && film_.answer(probe, scan_);
    }

    void current_of(PartId id, Flow& flow) {
        const BranchId branch = scheme_.parts[id].branch;
        if (!branch || !is_consumer(m_.circuit.branches[branch]) || !works(branch)) return;
        const Branch& b = m_.circuit.branches[branch];
        flow.turn_to(branch);
        for (const bool sure : {true, false})
            for (const auto& [high, low] : {std::pair(b.from, b.to), std::pair(b.to, b.from)}) {
                const auto plus = sure ? flow.way(high, Sign::plus) : flow.weak_way(high, Sign::plus, branch);
                const auto ground = sure ? flow.way(low, Sign::ground) : flow.weak_way(low, Sign::ground, branch);
                if (!plus || !ground) continue;
                light(*plus, id);
                light(*ground, id);
                return;
            }
    }

    // Where the part joins the trunk of the net. One that is not drawn, or ends in the net's name, joins it where the
    // name is written.
    int row_at(PartId part, NetId net) const {
        return part && scheme_.parts[part].near == net ? scheme_.parts[part].row : scheme_.nets[net].row;
    }

    void light(const Way& way, PartId consumer) {
        NodeId node = way.begin;
        const auto source = source_part_.find(way.source);
        PartId last = way.source && source != source_part_.end() ? source->second : PartId{};
        const auto reach = [&](PartId next) {
            const NetId net = scheme_.net_at[node];
            const int a = row_at(last, net), b = row_at(next, net);
            for (const int row : joints(scheme_, net))
                if (row > std::min(a, b) && row <= std::max(a, b)) lit_[net].insert(row);
            if (last) carries_[last] = true;
            last = next;
        };
        for (const BranchId b : way.branches) {
            const NodeId there = other_end(m_.circuit.branches[b], node);
            if (scheme_.net_at[there] != scheme_.net_at[node]) {
                const auto part = part_of_.find(b);
                reach(part == part_of_.end() ? PartId{} : part->second);
            }
            node = there;
        }
        reach(consumer);
    }
};

}  // namespace

void scheme_states(const report::Film& film, const std::vector<report::Moment>& moments, Scheme& scheme) {
    for (const auto& moment : moments) {
        const Look look(film, moment.scan, scheme);
        for (const NetId n : scheme.nets.ids()) {
            scheme.nets[n].states += look.net(scheme.nets[n]);
            for (const int row : joints(scheme, n)) scheme.nets[n].trunk[row] += look.trunk(n, row);
        }
        for (const PartId p : scheme.parts.ids()) {
            scheme.parts[p].states += look.state(p);
            scheme.parts[p].words.push_back(look.words(p));
        }
    }
}

}  // namespace lanyard::page
