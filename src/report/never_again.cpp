#include "report/never_again.hpp"

#include <algorithm>
#include <set>

#include "report/unmeasured.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

class NeverAgain {
 public:
    NeverAgain(const Film& film, const Fixed& fixed, const TrapFacts& facts)
        : film_(film), m_(film.model()), fixed_(fixed), facts_(facts) {}

    std::vector<std::string> reasons(const Expr& comparison) const {
        std::vector<std::string> out;
        for (const QuantityId q : quantities_in(comparison)) {
            bands(q, out);
            for (const auto& holds : condition().holds)
                if (quantities_in(*holds).contains(q)) asked_of(*holds, "the condition is " + text_of(m_, *holds), out);
            for (const auto& line : m_.quantities[q].lines)
                if (line.when->op != Op::truth)
                    asked_of(*line.when,
                             m_.name_of(m_.quantities[q].signal) + " is held when " + text_of(m_, *line.when), out);
        }
        return out;
    }

 private:
    const Film& film_;
    const Model& m_;
    const Fixed& fixed_;
    const TrapFacts& facts_;

    const Condition& condition() const { return m_.conditions[film_.condition()]; }
    bool is_lost(Mode mode) const {
        return std::find(facts_.lost_modes.begin(), facts_.lost_modes.end(), mode) != facts_.lost_modes.end();
    }

    std::set<SignalId> signals_in(const Expr& e) const {
        std::set<SignalId> out;
        if (e.op == Op::signal || e.op == Op::last) out.insert(e.signal);
        for (const auto& a : e.args) out.merge(signals_in(*a));
        return out;
    }
    // Those that a comparison speaks of, by their names or by what a sensor reads of them.
    std::set<QuantityId> quantities_in(const Expr& e) const {
        std::set<QuantityId> out;
        for (const SignalId id : signals_in(e)) {
            const Signal& s = m_.signal(id);
            if (s.kind == SignalKind::quantity) out.insert(s.index.to<Quantity>());
            if (s.kind == SignalKind::reading) out.insert(m_.sensors[s.index].quantity);
        }
        return out;
    }

    void bands(QuantityId q, std::vector<std::string>& out) const {
        const auto& replaced = condition().replaced;
        if (!condition().healthy || !m_.engine || facts_.lost_modes.empty() ||
            std::any_of(replaced.begin(), replaced.end(), [q](const auto& r) { return r.first == q; }))
            return;
        std::vector<std::string> left, lost;
        for (const Mode mode : all_modes) {
            const auto& band = m_.quantities[q].healthy[ordinal(mode)];
            if (is_lost(mode)) {
                lost.emplace_back(mode_name(mode));
                continue;
            }
            if (!band) return;
            left.push_back(std::string(mode_name(mode)) + " " + band_text(m_, m_.quantities[q].signal, *band));
        }
        out.push_back("the engine can no longer be " + joined(lost, " or ") + ", and " +
                      m_.name_of(m_.quantities[q].signal) + " is " + joined(left, ", "));
    }

    // What is asked, with what stays as it is of that.
    void asked_of(const Expr& e, const std::string& what, std::vector<std::string>& out) const {
        std::vector<std::string> stay;
        for (const SignalId id : signals_in(e)) {
            const Signal& s = m_.signal(id);
            if (s.kind != SignalKind::logic && s.kind != SignalKind::output) continue;
            for (auto& text : fixed_.causes_of(id)) stay.push_back(std::move(text));
        }
        if (!stay.empty()) out.push_back(what + ", and " + joined(stay, ", "));
    }
};

}  // namespace

std::string never_again(const Film& film, const Fixed& fixed, const TrapFacts& facts, const Expr& comparison) {
    const auto reasons = NeverAgain(film, fixed, facts).reasons(comparison);
    return text_of(film.model(), comparison) + " is true in no run from there" +
           (reasons.empty() ? "" : " (" + joined(reasons, "; ") + ")");
}

}  // namespace lanyard::report
