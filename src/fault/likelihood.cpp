#include "fault/likelihood.hpp"

#include <algorithm>
#include <map>

#include "fault/demand.hpp"
#include "fault/importance.hpp"
#include "fault/mef.hpp"
#include "fault/probability.hpp"

namespace lanyard::fault {

namespace {

// The faults of the sets as basic events, numbered as they come.
struct Events {
    std::vector<FaultId> faults;
    std::vector<BasicEvent> events;
    std::vector<CutSet> sets;
    double hours = 0;  // the longest test interval, or the mission
    bool rates = false;
    std::string why_not;
};

Events events_of(const Model& m, const ClaimFaults& claim) {
    Events out;
    std::map<FaultId, std::size_t> number;
    for (const auto& set : claim.sets) {
        CutSet numbered;
        for (const FaultId f : set.faults) {
            const auto [place, is_new] = number.emplace(f, out.events.size());
            numbered.push_back(place->second);
            if (!is_new) continue;
            const Fault& x = m.faults[f];
            BasicEvent e;
            e.name = x.name;
            if (x.probability) e.probability = x.probability->get_d();
            if (!x.probability && x.per_hour) {
                e.rate_per_hour = x.per_hour->get_d();
                if (x.test_every) e.test_interval_hours = x.test_every->get_d();
                out.rates = true;
                out.hours = std::max(out.hours, x.test_every ? x.test_every->get_d() : mission_hours);
            }
            if (!e.probability && !e.rate_per_hour && out.why_not.empty())
                out.why_not = x.name + " has neither a rate nor a probability";
            out.faults.push_back(f);
            out.events.push_back(std::move(e));
        }
        if (!(set.undone_by.empty() && set.undone_open.empty()) && out.why_not.empty())
            out.why_not = "further faults may undo what a set has done";
        std::sort(numbered.begin(), numbered.end());
        out.sets.push_back(std::move(numbered));
    }
    return out;
}

void weigh(Likelihood& out, const Events& e, Diagrams& s, Function top, const Probabilities& p) {
    const auto all = importance(s, top, p);
    if (!all) return;
    for (std::size_t i = 0; i < e.faults.size(); ++i) {
        const auto& w = (*all)[i];
        out.weights.push_back({e.faults[i], w.birnbaum, w.criticality, w.fussell_vesely.value_or(0)});
    }
    std::sort(out.weights.begin(), out.weights.end(), [](const FaultWeight& a, const FaultWeight& b) {
        return a.criticality != b.criticality ? a.criticality > b.criticality : a.fault < b.fault;
    });
}

}  // namespace

Likelihood likelihood_of(const Model& model, const ClaimFaults& claim) {
    const Events e = events_of(model, claim);
    Likelihood out;
    out.why_not = e.why_not;
    if (claim.sets.empty()) out.why_not = "no set of faults is known";
    if (!out.why_not.empty()) return out;
    try {
        Diagrams s(e.events.size());
        const Function top = s.from_cut_sets(e.sets);
        Probabilities p;
        for (const auto& chance : chances_at(e.events, e.hours)) p.push_back(chance.failed);
        out.exact = exact_probability(s, top, p);
        out.rare_event_sum = rare_event_sum(e.sets, p);
        out.hours = e.hours;
        if (e.rates) {
            const Average a = average_unavailability(s, top, e.events, e.hours);
            out.average = a.value;
            out.average_error = a.error_bound;
        }
        weigh(out, e, s, top, p);
    } catch (const TooLarge&) {
        out.why_not = "too many sets of faults for an exact number";
    } catch (const std::invalid_argument& wrong) {
        out.why_not = wrong.what();
    }
    return out;
}

std::optional<std::string> fault_tree_of(const Model& model, const ClaimFaults& claim, std::string& why_not) {
    const Events e = events_of(model, claim);
    why_not = claim.sets.empty() ? "no set of faults is known" : e.why_not;
    if (!why_not.empty()) return std::nullopt;
    std::vector<Implicant> products;
    for (const auto& set : e.sets) {
        Implicant product;
        product.failed = set;
        products.push_back(std::move(product));
    }
    const auto& id = model.claims[claim.claim].id;
    return mef_text(id, e.events, products, e.rates ? std::optional<double>(e.hours) : std::nullopt);
}

}  // namespace lanyard::fault
