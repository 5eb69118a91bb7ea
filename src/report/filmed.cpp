#include "report/filmed.hpp"

namespace lanyard::report {

const Film& FilmedResult::film() const {
    static const Run none;
    const Run* run = run_against(verdict);
    const Model* m = &model;
    ClaimId k = claim;
    if (const auto* p = std::get_if<Proved>(&verdict)) {
        run = &p->shown();
        if (p->playbook) m = p->playbook.get();
        if (p->playbook) k = m->claims.last();
    }
    const Claim& c = m->claims[k];
    const bool has_driver = c.reached_under || std::holds_alternative<Procedure>(c.body);
    if (std::holds_alternative<Vacuous>(verdict) && !has_driver) k = {};
    return kept(run != nullptr ? *run : none, *m, c.condition, k, causes ? &*causes : nullptr);
}

const Film& FilmedResult::film(const OtherRun& other) const {
    return kept(other.run, model, model.claims[claim].condition, claim, &other.causes);
}

const Film& FilmedResult::kept(const Run& run, const Model& of, ConditionId condition, ClaimId k,
                               const Causes* marks) const {
    const std::scoped_lock lock(one_);
    auto& film = films_[{&run, k}];
    if (film) return *film;
    film = std::make_unique<Film>(of, run, condition, k);
    film->mark(marks);
    if (std::holds_alternative<Vacuous>(verdict)) film->tell_all();
    return *film;
}

}  // namespace lanyard::report
