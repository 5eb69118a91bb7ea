#include "report/explainer.hpp"

#include <algorithm>

#include "report/faults.hpp"
#include "report/words.hpp"

namespace lanyard::report {

std::string Walker::time(long scan) const { return scan_time(m_, scan); }

std::string Walker::when(long scan) const {
    if (changes_ && scan == 0) return " from the beginning";
    return scan == now_ && !changes_ ? "" : " at " + time(scan);
}

std::vector<Reason> Walker::truth(const Expr& e, long scan) const { return ask_.truth(e, scan); }

Reason Walker::signal(SignalId id, long scan) const { return ask_.signal(id, scan); }

bool Walker::on(SignalId id, long scan) const {
    const Value& v = film_.at(scan).signals[id];
    if (const auto* duty = std::get_if<Rational>(&v)) return *duty > 0;
    return std::get<bool>(v);
}

bool Walker::there(const std::vector<FaultId>& faults, long scan) const {
    return std::any_of(faults.begin(), faults.end(), [&](FaultId f) { return film_.fault(f, scan); });
}

std::vector<Reason> Walker::of_faults(const std::vector<FaultId>& faults, long scan) const {
    List out;
    for (const FaultId f : faults) {
        if (!film_.fault(f, scan)) continue;
        const long since = film_.fault_since(f, scan);
        const std::string when = since == 0 ? " (from the start)" : " at " + time(since);
        out.push_back({fault_words(m_, f) + when, {}});
    }
    return out;
}

bool Walker::tell(SignalId id, long scan) {
    return told_.signals.emplace(id, state_words(m_, id, film_.at(scan).signals[id])).second;
}

bool Walker::is_told(SignalId id, long scan) const {
    return told_.signals.contains({id, state_words(m_, id, film_.at(scan).signals[id])});
}

std::set<SignalId> Explainer::told() const {
    std::set<SignalId> out;
    for (const auto& [id, state] : told_.signals) out.insert(id);
    return out;
}

std::vector<Reason> Explainer::why_untold(SignalId id, long scan) {
    const AlreadyTold before = told_;
    auto out = why(id, scan);
    told_ = before;
    return out;
}

namespace {

bool says_already(const std::vector<Reason>& list, const std::string& text) {
    return std::any_of(list.begin(), list.end(),
                       [&text](const Reason& r) { return r.text == text || says_already(r.because, text); });
}

}  // namespace

Reasons reasons_for(const Film& film, const Expr& e, long scan) {
    Explainer explainer(film, scan);
    Reasons out;
    // What a claim asks is not told again where it has been told as a reason.
    for (auto& r : explainer.truth(e, scan))
        if (!r.because.empty() || !says_already(out.list, r.text)) out.list.push_back(std::move(r));
    out.signals = explainer.told();
    return out;
}

}  // namespace lanyard::report
