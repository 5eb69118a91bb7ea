#include "explain/needs.hpp"

#include "base/slot.hpp"
#include "claims/cone.hpp"
#include "prove/pool.hpp"

namespace lanyard {

namespace {

using AssumedKind = Assumption::Kind;

const Claim& claim_of(const Model& m, int claim) { return m.claims[slot(claim)]; }

// The claim's condition, as one that no other claim is made under.
Condition& own_condition(Model& m, int claim) {
    Claim& c = m.claims[slot(claim)];
    m.conditions.push_back(m.conditions[slot(c.condition)]);
    c.condition = static_cast<int>(m.conditions.size()) - 1;
    return m.conditions.back();
}

template <class List>
void drop(List& list, int part) {
    list.erase(list.begin() + part);
}

Interval as_long_again(const Interval& times) { return {times.lo, times.hi * 2}; }

// Runs that are added can only break such a claim.
bool wants_all_runs(const Claim& c) {
    return !std::holds_alternative<Possible>(c.body) && !std::holds_alternative<Recoverable>(c.body) &&
           c.reached_under < 0;
}

}  // namespace

std::vector<Assumption> assumptions_of(const Model& m, int claim) {
    std::vector<Assumption> out;
    const Claim& c = claim_of(m, claim);
    if (!wants_all_runs(c)) return out;
    const Condition& condition = m.conditions[slot(c.condition)];
    const Cone cone = cone_of(m, c.condition, claim);
    const auto add = [&out](AssumedKind kind, std::size_t index, std::size_t part = 0) {
        out.push_back({kind, static_cast<int>(index), static_cast<int>(part)});
    };
    if (condition.healthy) add(AssumedKind::healthy, 0);
    for (std::size_t k = 0; k < condition.holds.size(); ++k) add(AssumedKind::holds, 0, k);
    for (std::size_t k = 0; k < condition.replaced.size(); ++k) add(AssumedKind::except, 0, k);
    for (std::size_t q = 0; q < m.quantities.size(); ++q) {
        if (!cone.has(m.quantities[q].signal)) continue;
        bool has_bands = false;
        for (const auto& band : m.quantities[q].healthy) has_bands = has_bands || band.has_value();
        for (const auto& replaced : condition.replaced) has_bands = has_bands && slot(replaced.first) != q;
        if (condition.healthy && has_bands) add(AssumedKind::bands, q);
        for (std::size_t k = 0; k < m.quantities[q].lines.size(); ++k)
            if (condition.healthy || !m.quantities[q].lines[k].healthy_only) add(AssumedKind::line, q, k);
    }
    for (std::size_t s = 0; s < m.sensors.size(); ++s) {
        if (!cone.has(m.sensors[s].signal)) continue;
        add(AssumedKind::accuracy, s);
        if (m.sensors[s].delay > 0) add(AssumedKind::delay, s);
    }
    for (std::size_t r = 0; r < m.relays.size(); ++r)
        if (cone.has(m.relays[r].contact) && (m.relays[r].pulls_in.hi > 0 || m.relays[r].drops_out.hi > 0))
            add(AssumedKind::relay, r);
    return out;
}

Model without(const Model& m, int claim, const Assumption& a) {
    Model out = m;
    const auto k = slot(a.index);
    switch (a.kind) {
        case AssumedKind::healthy:
            own_condition(out, claim).healthy = false;
            // They are in the place of what is healthy.
            out.conditions.back().replaced.clear();
            break;
        case AssumedKind::holds:
            drop(own_condition(out, claim).holds, a.part);
            break;
        case AssumedKind::except:
            drop(own_condition(out, claim).replaced, a.part);
            break;
        case AssumedKind::bands:
            out.quantities[k].healthy = {};
            break;
        case AssumedKind::line:
            drop(out.quantities[k].lines, a.part);
            break;
        case AssumedKind::accuracy: {
            const Interval& range = out.quantities[slot(out.sensors[k].quantity)].range;
            out.sensors[k].accuracy = range.hi - range.lo;
            break;
        }
        case AssumedKind::delay:
            out.sensors[k].delay *= 2;
            break;
        case AssumedKind::relay:
            out.relays[k].pulls_in = as_long_again(out.relays[k].pulls_in);
            out.relays[k].drops_out = as_long_again(out.relays[k].drops_out);
            break;
    }
    return out;
}

namespace {

Need need_of(const Model& m, int claim, const Assumption& a, const JudgeOptions& o) {
    try {
        if (o.stopped()) return Need::unknown;
        const Verdict verdict = judge(without(m, claim, a), claim, o).verdict;
        if (std::holds_alternative<Proved>(verdict)) return Need::spare;
        if (!std::holds_alternative<Undecided>(verdict)) return Need::needed;
    } catch (const InternalError&) {
        // What a solver says that was stopped counts for nothing.
        if (!o.stopped()) throw;
    }
    return Need::unknown;
}

}  // namespace

NeedsReport needs_of(const Model& m, const DriverOptions& options, std::uint64_t work) {
    DriverReport base = check_claims(m, options);
    NeedsReport out{{}, base.interrupted};
    struct Task {
        std::size_t claim, assumption;
    };
    std::vector<Task> all;
    for (auto& r : base.results) {
        ClaimNeeds c;
        if (std::holds_alternative<Proved>(r.verdict))
            for (const auto& a : assumptions_of(m, r.claim)) {
                all.push_back({out.claims.size(), c.assumptions.size()});
                c.assumptions.push_back({a, Need::unknown});
            }
        c.result = std::move(r);
        out.claims.push_back(std::move(c));
    }
    if (out.interrupted) return out;
    PoolTasks tasks;
    tasks.count = all.size();
    tasks.work = [&](std::size_t i, const JudgeOptions& o) {
        ClaimNeeds& c = out.claims[all[i].claim];
        JudgedAssumption& j = c.assumptions[all[i].assumption];
        j.need = need_of(m, c.result.claim, j.assumption, o);
    };
    PoolOptions pool = pool_options(options);
    pool.judge.work_limit = work;
    out.interrupted = run_pool(tasks, pool);
    return out;
}

}  // namespace lanyard
