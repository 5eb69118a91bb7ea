#include "explain/other_runs.hpp"

#include <algorithm>
#include <deque>
#include <set>

#include "base/slot.hpp"
#include "explain/causes.hpp"
#include "explain/input_events.hpp"
#include "prove/judge.hpp"
#include "sim/interpreter.hpp"

namespace lanyard {

namespace {

using Kind = InputEvent::Kind;
using Part = RunCause::Part;

constexpr std::size_t questions_a_run = 6;

ExprPtr leaf(const Model& m, SignalId id) {
    auto e = std::make_shared<Expr>();
    e->op = Op::signal;
    e->signal = id;
    e->type = m.signal(id).type;
    return e;
}

ExprPtr node(Op op, std::vector<ExprPtr> args) {
    auto e = std::make_shared<Expr>();
    e->op = op;
    e->args = std::move(args);
    return e;
}

ExprPtr constant(const Model& m, SignalId id, const Rational& value) {
    auto e = std::make_shared<Expr>();
    e->op = Op::number;
    e->type = m.signal(id).type;
    e->value = value;
    return e;
}

ExprPtr is_on(const Model& m, SignalId id, bool on) { return on ? leaf(m, id) : node(Op::not_, {leaf(m, id)}); }

// Rules the part out in the condition; false where that cannot be said.
bool rule_out(const Model& m, const OtherRun& run, const Part& p, Condition& c) {
    const auto k = slot(p.event.index);
    switch (p.event.kind) {
        case Kind::position:
            c.holds.push_back(is_on(m, m.switches[k].position, std::get<bool>(p.instead)));
            return true;
        case Kind::free_load:
            c.holds.push_back(is_on(m, m.loads[k].signal, std::get<bool>(p.instead)));
            return true;
        case Kind::missed: {
            const ExprPtr position = is_on(m, m.switches[k].position, !m.switches[k].normally_closed);
            c.holds.push_back(node(Op::not_, {node(Op::xor_, {leaf(m, m.switches[k].seen), position})}));
            return true;
        }
        case Kind::quantity: {
            const SignalId id = m.quantities[k].signal;
            const auto& harmless = std::get<Rational>(p.instead);
            Rational is = harmless;
            long begin = 0;
            for (const auto& s : run.run.segments) {
                // What it gets to while the event lasts.
                if (begin >= p.event.scan) is = choices_at(s, s.scans - 1).quantities[k];
                begin += s.scans;
                if (begin >= p.event.until) break;
            }
            if (is == harmless) return false;
            c.holds.push_back(node(is < harmless ? Op::ge : Op::le, {leaf(m, id), constant(m, id, harmless)}));
            return true;
        }
        case Kind::reading: {
            const Sensor& s = m.sensors[k];
            c.holds.push_back(node(Op::eq, {leaf(m, s.signal), leaf(m, m.quantities[slot(s.quantity)].signal)}));
            return true;
        }
        case Kind::contact: {
            const Relay& r = m.relays[k];
            const bool at_once = r.coil >= 0 && r.pulls_in.lo == 0 && r.drops_out.lo == 0;
            if (!at_once || m.signal(r.coil).type.kind != TypeKind::boolean) return false;
            c.holds.push_back(node(Op::not_, {node(Op::xor_, {leaf(m, r.contact), leaf(m, r.coil)})}));
            return true;
        }
        case Kind::fault:
            c.excluded.push_back({p.event.index});
            return true;
        case Kind::mode:
        case Kind::wiring:
            break;
    }
    return false;
}

// What the causes are of, whenever it happens.
using Reasons = std::set<std::set<std::pair<Kind, int>>>;
Reasons reasons_of(const Causes& causes) {
    Reasons out;
    for (const auto& cause : causes.list) {
        std::set<std::pair<Kind, int>> parts;
        for (const auto& p : cause.parts) parts.emplace(p.event.kind, p.event.index);
        out.insert(std::move(parts));
    }
    return out;
}

class Searcher {
 public:
    Searcher(const Model& m, int claim, const JudgeOptions& o) : m_(m), claim_(claim), options_(o) {}

    std::vector<OtherRun> find(const OtherRun& first, unsigned count) {
        known_.insert(reasons_of(first.causes));
        open_children(first, m_.conditions[slot(m_.claims[slot(claim_)].condition)]);
        const std::size_t most = questions_a_run * count;
        for (std::size_t asked = 0; asked < most && !open_.empty() && out_.size() < count; ++asked) {
            if (options_.stopped()) break;
            const Condition narrower = std::move(open_.front());
            open_.pop_front();
            ask_under(narrower);
        }
        return std::move(out_);
    }

 private:
    const Model& m_;
    const int claim_;
    const JudgeOptions& options_;
    std::deque<Condition> open_;
    std::set<Reasons> known_;
    std::vector<OtherRun> out_;

    void open_children(const OtherRun& run, const Condition& under) {
        for (const auto& cause : run.causes.list)
            for (const auto& part : cause.parts) {
                Condition narrower = under;
                if (rule_out(m_, run, part, narrower)) open_.push_back(std::move(narrower));
            }
    }

    void ask_under(const Condition& narrower) {
        Model asked = m_;
        asked.claims[slot(claim_)].condition = static_cast<int>(asked.conditions.size());
        asked.conditions.push_back(narrower);
        const auto run = broken_in(asked);
        if (!run) return;
        const Replay played = replay(m_, *run, m_.claims[slot(claim_)].condition, claim_);
        if (!played.legal || !played.violated_at_end) return;
        OtherRun found{*run, causes_of(m_, *run, claim_)};
        open_children(found, narrower);
        if (known_.insert(reasons_of(found.causes)).second) out_.push_back(std::move(found));
    }

    // What a solver says that was stopped counts for nothing.
    std::optional<Run> broken_in(const Model& asked) const {
        try {
            const ClaimResult r = judge(asked, claim_, options_);
            const auto* refuted = std::get_if<Refuted>(&r.verdict);
            if (refuted != nullptr) return refuted->run;
        } catch (const InternalError&) {
            if (!options_.stopped()) throw;
        }
        return std::nullopt;
    }
};

}  // namespace

std::vector<OtherRun> other_runs(const Model& model, const OtherRun& first, int claim, unsigned count,
                                 const JudgeOptions& options) {
    return Searcher(model, claim, options).find(first, count);
}

}  // namespace lanyard
