#include "explain/needs.hpp"

#include <algorithm>
#include <functional>

#include "certify/rests_on.hpp"
#include "claims/cone.hpp"
#include "explain/again.hpp"
#include "explain/with_anything.hpp"
#include "prove/pool.hpp"
#include "prove/shared_time.hpp"
#include "sim/interpreter.hpp"

namespace lanyard::explain {

namespace {

using AssumedKind = Assumption::Kind;

const Claim& claim_of(const Model& m, ClaimId claim) { return m.claims[claim]; }

// The claim's condition, as one that no other claim is made under.
Condition& own_condition(Model& m, ClaimId claim) {
    Claim& c = m.claims[claim];
    c.condition = m.conditions.add(m.conditions[c.condition]);
    return m.conditions.back();
}

template <class List>
void drop(List& list, std::size_t part) {
    list.erase(list.begin() + static_cast<std::ptrdiff_t>(part));
}

Interval as_long_again(const Interval& times) { return {times.lo, times.hi * 2}; }

// Runs that are added can only break such a claim.
bool wants_all_runs(const Claim& c) {
    return !std::holds_alternative<Possible>(c.body) && !std::holds_alternative<Recoverable>(c.body) &&
           !c.reached_under;
}

}  // namespace

std::vector<Assumption> assumptions_of(const Model& m, ClaimId claim) {
    std::vector<Assumption> out;
    const Claim& c = claim_of(m, claim);
    if (!wants_all_runs(c)) return out;
    const Condition& condition = m.conditions[c.condition];
    const Cone cone = cone_of(m, c.condition, claim);
    const auto add = [&out](AssumedKind kind, AnyId index, std::size_t part = 0) {
        out.push_back({kind, index, part});
    };
    if (condition.healthy) add(AssumedKind::healthy, {});
    for (std::size_t k = 0; k < condition.holds.size(); ++k) add(AssumedKind::holds, {}, k);
    for (std::size_t k = 0; k < condition.replaced.size(); ++k) add(AssumedKind::except, {}, k);
    for (const QuantityId q : m.quantities.ids()) {
        if (!cone.has(m.quantities[q].signal)) continue;
        bool has_bands = false;
        for (const auto& band : m.quantities[q].healthy) has_bands = has_bands || band.has_value();
        for (const auto& replaced : condition.replaced) has_bands = has_bands && replaced.first != q;
        if (condition.healthy && has_bands) add(AssumedKind::bands, q);
        for (std::size_t k = 0; k < m.quantities[q].lines.size(); ++k)
            if (condition.healthy || !m.quantities[q].lines[k].healthy_only) add(AssumedKind::line, q, k);
    }
    for (const SensorId s : m.sensors.ids()) {
        if (!cone.has(m.sensors[s].signal)) continue;
        add(AssumedKind::accuracy, s);
        if (m.sensors[s].delay > 0) add(AssumedKind::delay, s);
    }
    for (const RelayId r : m.relays.ids())
        if (cone.has(m.relays[r].contact) && (m.relays[r].pulls_in.hi > 0 || m.relays[r].drops_out.hi > 0))
            add(AssumedKind::relay, r);
    return out;
}

namespace {

// What stands behind in a list first, so that the places of the others stay; the healthy engine last, as "except" is
// part of it.
bool goes_first(const Assumption& a, const Assumption& b) {
    const bool a_last = a.kind == AssumedKind::healthy, b_last = b.kind == AssumedKind::healthy;
    return a_last != b_last ? b_last : a.part > b.part;
}

void take_away(Model& out, ClaimId claim, const Assumption& a) {
    const AnyId k = a.index;
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
            const Interval& range = out.quantities[out.sensors[k].quantity].range;
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
}

}  // namespace

Model without(const Model& m, ClaimId claim, std::vector<Assumption> all) {
    Model out = m;
    std::stable_sort(all.begin(), all.end(), goes_first);
    for (const auto& a : all) take_away(out, claim, a);
    return out;
}

namespace {

// What is asked of one proof.
class Proof {
 public:
    Proof(const Model& m, ClaimNeeds& out) : m_(m), out_(out) {}

    // The certificate with what it cannot do without; the names that are asked about come from it.
    void pare_down() {
        auto& proved = std::get<Proved>(out_.result.verdict);
        for (const auto& a : assumptions_of(m_, claim())) out_.assumptions.push_back({a, Need::unknown});
        if (!proved.certificate || proved.playbook) return;
        const Question q = question_of(m_, claim(), *proved.certificate);
        tell_what_it_rests_on(q, *proved.certificate, &proved.example, rests_on_budget, true);
        for (const auto& name : proved.certificate->elements) out_.elements.push_back({name, {}});
    }

    std::size_t questions() const { return out_.assumptions.size() + out_.elements.size(); }

    // Each by itself.
    void ask(std::size_t i, const JudgeOptions& o) {
        if (i < out_.assumptions.size())
            out_.assumptions[i].need = need_of(without(m_, claim(), {out_.assumptions[i].assumption}), o);
        else
            ask_element(out_.elements[i - out_.assumptions.size()], o);
    }

    // All that can be spared by itself: at once, or else one after the other as long as the claim is proved.
    void ask_together(const JudgeOptions& o) {
        std::vector<Assumption> away;
        for (const auto& a : out_.assumptions)
            if (a.need == Need::spare) away.push_back(a.assumption);
        if (away.size() < 2 || need_of(without(m_, claim(), away), o) == Need::spare) return;
        away.clear();
        for (auto& a : out_.assumptions) {
            if (a.need != Need::spare) continue;
            away.push_back(a.assumption);
            if (away.size() == 1) continue;
            const Need together = need_of(without(m_, claim(), away), o);
            if (together == Need::spare) continue;
            away.pop_back();
            a.need = together == Need::needed ? Need::by_itself : Need::unknown;
        }
    }

 private:
    const Model& m_;
    ClaimNeeds& out_;

    ClaimId claim() const { return out_.result.claim; }

    // The proof at hand may do for the changed model, with the example that it owes; else the search says.
    Need need_of(const Model& changed, const JudgeOptions& o) const {
        const auto& proved = std::get<Proved>(out_.result.verdict);
        if (proved.certificate && !proved.playbook && demands_still(changed, proved.example) &&
            proves_still(changed, claim(), *proved.certificate, o))
            return Need::spare;
        const Verdict verdict = verdict_of(changed, claim(), o);
        if (std::holds_alternative<Proved>(verdict)) return Need::spare;
        return std::holds_alternative<Undecided>(verdict) ? Need::unknown : Need::needed;
    }
    bool demands_still(const Model& changed, const Run& example) const {
        const Replay played = replay(changed, example, claim_of(changed, claim()).condition, claim());
        return played.legal && played.demanded;
    }

    void ask_element(UsedElement& element, const JudgeOptions& o) const {
        element.by_every_proof = is_needed(element.name, o);
    }

    // A refutation is nearly always short: so that is looked for first.
    std::optional<bool> is_needed(const std::string& name, JudgeOptions o) const {
        const auto signal =
            std::find_if(m_.order.begin(), m_.order.end(), [&](SignalId id) { return m_.name_of(id) == name; });
        const auto changed = signal == m_.order.end() ? std::nullopt : with_anything(m_, *signal);
        if (!changed) return std::nullopt;
        o.work_limit /= 2;
        JudgeOptions shallow = o;
        shallow.prover = "bounded";
        if (std::holds_alternative<Refuted>(verdict_of(*changed, claim(), shallow))) return true;
        const Verdict verdict = verdict_of(*changed, claim(), o);
        if (std::holds_alternative<Refuted>(verdict)) return true;
        if (std::holds_alternative<Proved>(verdict)) return false;
        return std::nullopt;
    }
};

}  // namespace

NeedsReport needs_of(const Model& m, const DriverOptions& options, std::uint64_t work) {
    const SharedTime time(options.time_s);
    DriverOptions first = options;
    first.time_s = time.half();
    DriverReport base = check_claims(m, first);
    NeedsReport out{{}, base.interrupted};
    for (auto& r : base.results) out.claims.push_back({std::move(r), {}, {}});
    std::vector<Proof> proofs;
    for (auto& c : out.claims)
        if (std::holds_alternative<Proved>(c.result.verdict)) proofs.emplace_back(m, c);
    PoolOptions pool = pool_options(options);
    pool.judge.work_limit = work;
    pool.judge.any_run = true;  // nobody is shown it
    const auto each = [&](std::size_t count, bool repeatable,
                          const std::function<void(std::size_t, const JudgeOptions&)>& f) {
        if (out.interrupted) return;
        PoolTasks tasks;
        tasks.count = count;
        tasks.repeatable = repeatable;
        tasks.work = f;
        pool.time_s = time.left();
        out.interrupted = run_pool(tasks, pool);
    };
    each(proofs.size(), false, [&](std::size_t i, const JudgeOptions&) { proofs[i].pare_down(); });
    struct Task {
        Proof* proof;
        std::size_t question;
    };
    std::vector<Task> all;
    for (auto& proof : proofs)
        for (std::size_t k = 0; k < proof.questions(); ++k) all.push_back({&proof, k});
    each(all.size(), true, [&](std::size_t i, const JudgeOptions& o) { all[i].proof->ask(all[i].question, o); });
    each(proofs.size(), false, [&](std::size_t i, const JudgeOptions& o) { proofs[i].ask_together(o); });
    return out;
}

}  // namespace lanyard::explain
