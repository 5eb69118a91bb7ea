#include "model/model.hpp"

namespace lanyard::model {

const ExprPtr& definition(const Model& m, SignalId id) {
    const Signal& s = m.signal(id);
    if (s.kind == SignalKind::output) return m.outputs.at(s.index).on;
    return m.logic.at(s.index).is;
}

std::vector<ExprPtr> expressions_of(const Claim& claim) {
    std::vector<ExprPtr> out;
    if (const auto* a = std::get_if<Always>(&claim.body)) out = {a->body};
    if (const auto* r = std::get_if<Response>(&claim.body)) out = {r->whenever, r->then};
    if (const auto* p = std::get_if<Possible>(&claim.body)) out = {p->body};
    if (const auto* r = std::get_if<Recoverable>(&claim.body)) out = {r->body};
    if (const auto* l = std::get_if<ChangeLimit>(&claim.body)) out = {l->body};
    if (const auto* p = std::get_if<Procedure>(&claim.body)) {
        out = {p->goal};
        if (p->from) out.push_back(p->from);
        for (const auto& phase : p->phases)
            if (phase.until) out.push_back(phase.until);
    }
    return out;
}

}  // namespace lanyard::model
