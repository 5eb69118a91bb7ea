// What stands behind the public results.
#pragma once

#include <mutex>

#include "api/evidence.hpp"
#include "api/impl.hpp"

namespace lanyard::api {

struct Results::Judged {
    Judged(const Model& of, unsigned threads) : model(of), jobs(threads) {}

    Model model;
    unsigned jobs;          // as the check had
    FilmedResults results;  // as Results::claims

    const std::vector<Evidence>& evidence() const;  // likewise; made when it is first asked
    std::vector<EvidenceMark> marks() const;        // of what is decided

 private:
    mutable std::once_flag once_;
    mutable std::vector<Evidence> evidence_;
};
// Throws std::invalid_argument where check() has not made them.
const Results::Judged& judged_of(const Results& results);

// The verdict with its runs, for the public face.
Verdict public_verdict(const Model& model, const ClaimResult& result);

}  // namespace lanyard::api
