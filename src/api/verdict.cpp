// Verdicts as the public face hands them out.
#include "api/judged.hpp"
#include "api/runs.hpp"
#include "report/cause_marks.hpp"

namespace lanyard::api {

namespace {

using lanyard::claims::InputEvent;
static_assert(static_cast<int>(CausePart::Kind::mode) == static_cast<int>(InputEvent::Kind::mode));

class PublicVerdict {
 public:
    PublicVerdict(const Model& model, const ClaimResult& r) : m_(shared_model(model)), r_(r) {}

    Verdict operator()(const lanyard::claims::Proved& p) const {
        Proved out;
        out.certificate = certificate(p.certificate);
        const auto& played = p.playbook ? p.playbook : m_;
        const ClaimId claim = p.playbook ? played->claims.last() : r_.claim;
        if (!p.shown().segments.empty()) out.example = run_of(played, p.shown(), claim);
        if (p.playbook)
            for (const auto& step : std::get<Procedure>(played->claims.back().body).phases)
                out.playbook.push_back(step.text);
        return out;
    }
    Verdict operator()(const lanyard::claims::Refuted& f) const {
        Refuted out;
        out.run = run(f.run);
        if (f.run && r_.causes) out.causes = causes(*f.run, *r_.causes);
        for (const auto& other : r_.others)
            out.others.push_back({run_of(m_, other.run, r_.claim), causes(other.run, other.causes)});
        out.certificate = certificate(f.certificate);
        out.remark = f.remark;
        return out;
    }
    Verdict operator()(const lanyard::claims::Vacuous& v) const {
        return Vacuous{v.reason, run(v.run), certificate(v.certificate)};
    }
    Verdict operator()(const lanyard::claims::Undecided& u) const { return Undecided{u.reason, u.depth}; }

 private:
    std::optional<Run> run(const std::optional<lanyard::claims::Run>& run) const {
        if (!run || run->segments.empty()) return std::nullopt;
        return run_of(m_, *run, r_.claim);
    }
    static std::optional<Certificate> certificate(const std::optional<lanyard::claims::Certificate>& c) {
        if (!c) return std::nullopt;
        return Certificate{c->lemmas, c->induction, {c->assumptions, c->elements, c->parts, c->unused_elements}};
    }
    CausePart part(const lanyard::claims::Run& run, const RunCause::Part& p) const {
        const report::EventWords words = report::event_words(*m_, run, p);
        const SignalId id = report::signal_of(*m_, p.event);
        const long scan = report::shown_at(p.event);
        return {static_cast<CausePart::Kind>(p.event.kind),
                scan,
                exact_text(Rational(m_->scan * scan)),
                id ? m_->name_of(id) : "",
                words.what,
                words.instead};
    }
    Causes causes(const lanyard::claims::Run& run, const lanyard::claims::Causes& found) const {
        Causes out;
        out.complete = found.complete;
        for (const auto& c : found.list) {
            Cause cause{{}, run_of(m_, c.otherwise, r_.claim)};
            for (const auto& p : c.parts) cause.parts.push_back(part(run, p));
            out.list.push_back(std::move(cause));
        }
        return out;
    }

    std::shared_ptr<const lanyard::model::Model> m_;
    const ClaimResult& r_;
};

}  // namespace

Verdict public_verdict(const Model& model, const ClaimResult& result) {
    return std::visit(PublicVerdict(model, result), result.verdict);
}

std::string verdict_word(const Verdict& verdict) {
    static constexpr const char* words[] = {"proved", "refuted", "vacuous", "undecided"};
    return words[verdict.index()];
}

const Certificate* certificate_of(const Verdict& verdict) {
    const auto some = [](const auto& v) -> const Certificate* {
        if constexpr (requires { v.certificate; })
            return v.certificate ? &*v.certificate : nullptr;
        else
            return nullptr;
    };
    return std::visit(some, verdict);
}

const Run* run_against(const Verdict& verdict) {
    const auto some = [](const auto& v) -> const Run* {
        if constexpr (requires { v.run; })
            return v.run ? &*v.run : nullptr;
        else
            return nullptr;
    };
    return std::visit(some, verdict);
}

}  // namespace lanyard::api
