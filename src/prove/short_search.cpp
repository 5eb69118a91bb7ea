#include "prove/short_search.hpp"

#include <algorithm>

#include "encode/solver.hpp"

namespace lanyard::prove {

std::optional<Run> short_search(const Question& q, const JudgeOptions& given, std::uint64_t units) {
    JudgeOptions o = given;
    o.prover = "bounded";
    o.work_limit = std::min(o.work_limit, units);
    o.known = nullptr;
    std::string prover;
    Timing unused;
    try {
        const Answered a = ask(q, o, unused, prover);
        if (const auto* hit = std::get_if<Reachable>(&a)) return hit->run;
    } catch (const Unsupported&) {
    } catch (const z3::exception&) {
        if (!o.stopped()) throw;
    }
    return std::nullopt;
}

}  // namespace lanyard::prove
