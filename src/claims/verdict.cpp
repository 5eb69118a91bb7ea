#include "claims/verdict.hpp"

namespace lanyard::claims {

namespace {

const Run* some(const std::optional<Run>& run) { return run && !run->segments.empty() ? &*run : nullptr; }

}  // namespace

const Certificate* certificate_of(const Verdict& v) {
    const std::optional<Certificate>* c = nullptr;
    if (const auto* p = std::get_if<Proved>(&v)) c = &p->certificate;
    if (const auto* r = std::get_if<Refuted>(&v)) c = &r->certificate;
    if (const auto* w = std::get_if<Vacuous>(&v)) c = &w->certificate;
    return c != nullptr && *c ? &**c : nullptr;
}

const Run* run_against(const Verdict& v) {
    if (const auto* r = std::get_if<Refuted>(&v)) return some(r->run);
    if (const auto* w = std::get_if<Vacuous>(&v)) return some(w->run);
    return nullptr;
}

}  // namespace lanyard::claims
