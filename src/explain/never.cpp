#include "explain/never.hpp"

#include <algorithm>
#include <set>

#include "base/needed.hpp"
#include "certify/rests_on.hpp"
#include "claims/bounds.hpp"
#include "explain/again.hpp"
#include "model/make_expr.hpp"
#include "prove/judge.hpp"
#include "sim/rule_words.hpp"

namespace lanyard::explain {

namespace {

constexpr int max_questions = 24;
constexpr std::uint64_t a_question = 5'000'000;
constexpr int deepest = 12;

ExprPtr negated(const ExprPtr& e) { return e->op == Op::not_ ? e->args[0] : boolean_expr(Op::not_, {e}); }

std::vector<ExprPtr> each_negated(const Expr& e) {
    std::vector<ExprPtr> out;
    for (const auto& a : e.args) out.push_back(negated(a));
    return out;
}

bool remembers(const ExprPtr& e) {
    bool out = false;
    visit(e, [&](const Expr& x) { out = out || x.element; });
    return out;
}

using During = std::optional<Mode>;

class Walk {
 public:
    // `claim` obeys `condition` throughout, and its body is replaced by what is asked.
    Walk(const Model& m, ClaimId claim, ConditionId condition, const JudgeOptions& o)
        : m_(m), made_into_(m.made_into), claim_(claim), options_(o) {
        m_.claims[claim].condition = condition;
        m_.claims[claim].reached_under = {};
        options_.any_run = true;
        options_.work_limit = std::min(options_.work_limit, a_question);
    }

    bool is_never(const ExprPtr& e) { return certificate(e, std::nullopt).has_value(); }
    // `e` is never true; it belongs to the claim, with its memory.
    std::vector<Never> why(const ExprPtr& e) { return why(e, std::nullopt, 0, true); }

 private:
    Model m_;
    const std::string made_into_;
    const ClaimId claim_;
    JudgeOptions options_;
    std::set<SignalId> path_;
    int questions_ = 0;

    // Nothing where it can be true, or that is not settled.
    std::optional<Certificate> certificate(const ExprPtr& e, During during) {
        if (++questions_ > max_questions || options_.stopped()) return std::nullopt;
        const ExprPtr in_mode =
            during ? boolean_expr(Op::eq, {signal_expr(m_, m_.mode), mode_expr(*during)}) : truth_expr(true);
        const ExprPtr asked = during ? boolean_expr(Op::and_, {e, in_mode}) : e;
        m_.claims[claim_].body = Possible{asked};
        m_.made_into = made_into_ + "\npossible: " + text_of(m_, *asked);
        const Verdict v = verdict_of(m_, claim_, options_);
        const auto* refuted = std::get_if<Refuted>(&v);
        return refuted != nullptr ? refuted->certificate : std::nullopt;
    }
    bool is_never(const ExprPtr& e, During during, bool of_claim) {
        return (of_claim || !remembers(e)) && certificate(e, during).has_value();
    }

    // The numbers that the proof of it cannot do without.
    std::vector<std::string> ranges(const ExprPtr& e, During during) {
        auto proof = certificate(e, during);
        if (!proof) return {};
        tell_what_it_rests_on(question_of(m_, claim_, *proof), *proof, nullptr, a_question, true);
        std::vector<std::string> out;
        for (const auto& label : proof->assumptions)
            if (const auto words = sim::rule_words(m_, {&m_.conditions[m_.claims[claim_].condition]}, label))
                out.push_back(words->text);
        return out;
    }

    Never end(const ExprPtr& e, During during, bool of_claim) {
        Never out{e, during};
        if (of_claim || !remembers(e)) out.ranges = ranges(e, during);
        return out;
    }

    std::vector<Never> why(const ExprPtr& e, During during, int depth, bool of_claim) {
        if (depth > deepest) return {};
        if (e->op == Op::and_) return all_of(e, during, depth, of_claim);
        if (e->op == Op::or_) return any_of(e->args, during, depth, of_claim);
        if (e->op == Op::implies) return any_of({negated(e->args[0]), e->args[1]}, during, depth, of_claim);
        if (e->op == Op::not_ && e->args[0]->op == Op::and_)
            return any_of(each_negated(*e->args[0]), during, depth, of_claim);
        if (e->op == Op::not_ && e->args[0]->op == Op::or_)
            return all_of(boolean_expr(Op::and_, each_negated(*e->args[0])), during, depth, of_claim);
        if (e->op == Op::not_ && e->args[0]->op == Op::not_)
            return why(e->args[0]->args[0], during, depth + 1, of_claim);
        if (e->op == Op::signal) return {name(e, e->signal, true, during, depth)};
        if (e->op == Op::not_ && e->args[0]->op == Op::signal)
            return {name(e, e->args[0]->signal, false, during, depth)};
        if (e->op == Op::eq && e->args[0]->type.kind == TypeKind::mode) return {mode(e, during, depth)};
        if (e->op == Op::ton) return {delay(e, during, depth, of_claim)};
        return {end(e, during, of_claim)};
    }

    std::vector<Never> any_of(const std::vector<ExprPtr>& parts, During during, int depth, bool of_claim) {
        std::vector<Never> out;
        for (const auto& a : parts)
            for (auto& n : why(a, during, depth + 1, of_claim)) out.push_back(std::move(n));
        return out;
    }

    std::vector<Never> all_of(const ExprPtr& e, During during, int depth, bool of_claim) {
        for (const auto& a : e->args)
            if (is_never(a, during, of_claim)) return why(a, during, depth + 1, of_claim);
        const auto needed = needed_of(e->args, [&](const std::vector<ExprPtr>& fewer) {
            return fewer.size() > 1 && is_never(boolean_expr(Op::and_, fewer), during, of_claim);
        });
        const ExprPtr parts = needed.size() == e->args.size() ? e : boolean_expr(Op::and_, needed);
        Never out = end(parts, during, of_claim);
        out.how = Never::How::together;
        return {out};
    }

    // A signal that is never on, or never off.
    Never name(const ExprPtr& e, SignalId id, bool on, During during, int depth) {
        const Signal& s = m_.signal(id);
        Never out{e, during};
        if (!path_.insert(id).second) {
            if (s.kind == SignalKind::loop) out.how = Never::How::read_back;
            return out;
        }
        if (s.kind == SignalKind::logic || s.kind == SignalKind::output) {
            const ExprPtr& is = definition(m_, id);
            out.because = why(on ? is : negated(is), during, depth + 1, false);
        } else if (s.kind == SignalKind::load && on && !m_.loads[s.index].is_free()) {
            for (const SignalId f : m_.loads[s.index].feeders) add_if_never(out, f, during, depth);
        } else if (s.kind == SignalKind::contact && on && m_.relays[s.index].coil) {
            add_if_never(out, m_.relays[s.index].coil, std::nullopt, depth);
        } else if (s.kind == SignalKind::loop && on) {
            if (path_.contains(m_.loops[s.index].output))
                out.how = Never::How::read_back;
            else
                add_if_never(out, m_.loops[s.index].output, std::nullopt, depth);
        }
        if (out.because.empty() && out.how == Never::How::alone) out.ranges = ranges(e, during);
        path_.erase(id);
        return out;
    }
    void add_if_never(Never& to, SignalId id, During during, int depth) {
        const ExprPtr e = signal_expr(m_, id);
        if (m_.signal(id).type.kind == TypeKind::boolean && is_never(e, during, false))
            for (auto& n : why(e, during, depth + 1, false)) to.because.push_back(std::move(n));
    }

    Never mode(const ExprPtr& e, During during, int depth) {
        const ExprPtr& constant = e->args[0]->op == Op::mode ? e->args[0] : e->args[1];
        Never out{e, during};
        if (constant->op != Op::mode || during || !m_.engine) return out;
        const auto is = [this](Mode which) {
            return boolean_expr(Op::eq, {signal_expr(m_, m_.mode), mode_expr(which)});
        };
        const auto before = [&](Mode which) {
            if (!is_never(is(which), std::nullopt, false)) return false;
            out.because.push_back(mode(is(which), std::nullopt, depth + 1));
            return true;
        };
        if (constant->mode == Mode::coasting) before(Mode::running);
        if (constant->mode == Mode::running && !before(Mode::cranking))
            for (const LoadId load : m_.engine->fires_with)
                add_if_never(out, m_.loads[load].signal, Mode::cranking, depth);
        if (constant->mode == Mode::cranking && m_.engine->cranks_with)
            add_if_never(out, m_.loads[m_.engine->cranks_with].signal, std::nullopt, depth);
        if (out.because.empty()) out.ranges = ranges(e, std::nullopt);
        return out;
    }

    Never delay(const ExprPtr& e, During during, int depth, bool of_claim) {
        if (is_never(e->args[0], std::nullopt, of_claim)) {
            Never out{e, during};
            out.because = why(e->args[0], std::nullopt, depth + 1, of_claim);
            return out;
        }
        Never out = end(e, during, of_claim);
        out.what = e->args[0];
        out.how = Never::How::lasts;
        out.time = e->value;
        return out;
    }
};

// What a vacuous claim waits for, and under which condition.
ExprPtr premise_of(const Claim& c) {
    if (const auto* a = std::get_if<Always>(&c.body)) return a->body->op == Op::implies ? a->body->args[0] : nullptr;
    if (const auto* r = std::get_if<Response>(&c.body)) return r->whenever;
    if (const auto* p = std::get_if<Procedure>(&c.body)) return p->from;
    return nullptr;
}

std::optional<Meant> meant_by(const Model& m, ClaimId claim, const JudgeOptions& o) {
    Model other = m;
    other.made_into += "\nonce begun";
    std::get<Response>(other.claims[claim].body).manner = Manner::once_begun;
    JudgeOptions options = o;
    options.work_limit = std::min(options.work_limit, a_question);
    const Verdict v = verdict_of(other, claim, options);
    if (!std::holds_alternative<Proved>(v) && !std::holds_alternative<Refuted>(v)) return std::nullopt;
    return Meant{other.claims[claim], std::holds_alternative<Proved>(v)};
}

void explain_vacuous(const Model& m, ClaimResult& r, Vacuous& v, const JudgeOptions& o) {
    const Claim& c = m.claims[r.claim];
    const ExprPtr premise = premise_of(c);
    if (!v.certificate || v.tautology || v.run || !premise) return;
    Walk walk(m, r.claim, c.reached_under ? c.reached_under : c.condition, o);
    if (walk.is_never(premise)) {
        r.never = walk.why(premise);
        return;
    }
    const auto* response = std::get_if<Response>(&c.body);
    if (response == nullptr || response->manner == Manner::in_total) return;
    const bool lasts = response->manner == Manner::while_it_lasts;
    Never never{premise};
    never.how = Never::How::lasts;
    never.time = m.scan * (lasts ? response_bound(*response, m.scan) : response_calls(*response, m.scan));
    r.never.push_back(never);
    if (lasts) r.meant = meant_by(m, r.claim, o);
}

}  // namespace

void explain_never(const Model& m, ClaimResult& r, const JudgeOptions& o) {
    const Claim& c = m.claims[r.claim];
    if (auto* vacuous = std::get_if<Vacuous>(&r.verdict)) return explain_vacuous(m, r, *vacuous, o);
    const auto* refuted = std::get_if<Refuted>(&r.verdict);
    const auto* goal = std::get_if<Possible>(&c.body);
    if (refuted == nullptr || goal == nullptr || !refuted->certificate) return;
    r.never = Walk(m, r.claim, c.condition, o).why(goal->body);
}

}  // namespace lanyard::explain
