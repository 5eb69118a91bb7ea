#include "explain/again.hpp"

#include "certify/obligations.hpp"
#include "prove/judge.hpp"

namespace lanyard::explain {

Question question_of(const Model& m, ClaimId claim, const Certificate& certificate) {
    Question q = question_about(m, claim);
    q.leaps = certificate.leaps;
    q.with_binding_quantities = certificate.with_binding_quantities;
    q.tangents = certificate.tangents;
    return q;
}

bool proves_still(const Model& changed, ClaimId claim, const Certificate& certificate, const JudgeOptions& o) {
    if (o.stopped()) return false;
    Question q = question_of(changed, claim, certificate);
    try {
        Timing unused;
        if (q.leaps) settle_leaps(q, o, unused);
        if (q.leaps != certificate.leaps) return false;
        return check_obligations(obligations(q, certificate), o.work_limit).check == Check::holds;
    } catch (const Unsupported&) {
    } catch (const z3::exception&) {  // it speaks of a state that the changed model has not got
    } catch (const InternalError&) {
    }
    return false;
}

Verdict verdict_of(const Model& m, ClaimId claim, const JudgeOptions& o) {
    try {
        if (!o.stopped()) return judge(m, claim, o).verdict;
    } catch (const InternalError&) {
        if (!o.stopped()) throw;
    }
    return Undecided{o.why_stopped(), 0};
}

}  // namespace lanyard::explain
