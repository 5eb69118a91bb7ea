// A claim's result with its runs on film. Whoever writes about it - text, page, JSON, SARIF, record, evidence - is
// given this one value, so that a run is played once: a film is made when it is first asked for, by whichever thread,
// and kept.
#pragma once

#include <deque>

#include "claims/verdict.hpp"
#include "report/film.hpp"

namespace lanyard::report {

struct FilmedResult : ClaimResult {
    FilmedResult(const Model& of, ClaimResult result) : ClaimResult(std::move(result)), model(of) {}

    const Model& model;

    // Of the run that the verdict speaks of: the one against the claim, or the example of a proof, which is played in
    // the model of its playbook where there is one. Without a frame if there is no such run. Where time stops the
    // condition is to blame: a claim is then played only if it has a driver or two parts.
    const Film& film() const;
    const Film& film(const OtherRun& other) const;  // one of `others`

 private:
    const Film& kept(const Run& run, const Model& of, ConditionId condition, ClaimId k, const Causes* marks) const;
    mutable std::mutex one_;
    mutable std::map<std::pair<const Run*, ClaimId>, std::unique_ptr<Film>> films_;
};

using FilmedResults = std::deque<FilmedResult>;  // which stay where they are

}  // namespace lanyard::report
