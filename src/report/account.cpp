#include "report/account.hpp"

#include <algorithm>
#include <set>
#include <tuple>

#include "report/broken.hpp"
#include "report/moments.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

Step step_of(const Film& film, const Moment& moment) {
    const Model& m = film.model();
    Step out;
    out.time = moment.row.time;
    const bool both = !moment.row.left.empty() && !moment.row.right.empty();
    out.text = moment.row.left + (both ? ": " : "") + moment.row.right;
    if (moment.scan < 0) return out;
    const Frame& frame = film.at(moment.scan);
    for (const SignalId id : moment.signals) out.states.push_back({id, state_words(m, id, frame.signals[id])});
    return out;
}

bool comes_first(const Model& m, SignalId a, SignalId b) {
    const Place& p = m.signal(a).place;
    const Place& q = m.signal(b).place;
    return std::tie(p.line, p.column, a) < std::tie(q.line, q.column, b);
}

std::set<SignalId> named(const Model& m, const std::vector<std::string>& names) {
    std::set<SignalId> out;
    for (const SignalId id : m.order)
        if (std::find(names.begin(), names.end(), m.name_of(id)) != names.end()) out.insert(id);
    return out;
}

}  // namespace

Account account_of(const FilmedResult& r) {
    const Model& m = r.model;
    Account out;
    std::set<SignalId> hangs_on;
    if (run_against(r.verdict) != nullptr) {
        const Film& film = r.film();
        if (!film.is_complete()) return out;
        for (const auto& moment : moments(film)) out.steps.push_back(step_of(film, moment));
        const bool refuted = std::holds_alternative<Refuted>(r.verdict);
        out.broken = refuted ? broken_words(film) : std::vector<std::string>{"no scan may follow"};
        if (refuted) hangs_on = broken_reasons(film).signals;
    } else if (const Certificate* certificate = certificate_of(r.verdict)) {
        hangs_on = named(m, certificate->elements);
    }
    out.hangs_on.assign(hangs_on.begin(), hangs_on.end());
    std::sort(out.hangs_on.begin(), out.hangs_on.end(), [&m](SignalId a, SignalId b) { return comes_first(m, a, b); });
    return out;
}

}  // namespace lanyard::report
