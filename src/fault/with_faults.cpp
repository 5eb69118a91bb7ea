#include "fault/with_faults.hpp"

#include "model/faults.hpp"

namespace lanyard::fault {

namespace {

std::string choice_text(const Model& m, const FaultChoice& c) {
    std::string names;
    for (const FaultId f : c.faults) names += (names.empty() ? "" : ", ") + m.faults[f].name;
    if (c.present) return names + " from the start";
    if (std::ssize(c.faults) == c.at_most) return names;
    const std::string number = c.at_most == 1 ? "one fault" : "up to " + std::to_string(c.at_most) + " faults";
    return number + " of " + std::to_string(c.faults.size());
}

// All of the choice, as it decides every answer.
std::string made_into(ClaimId claim, const FaultChoice& c) {
    const auto list = [](const std::vector<FaultId>& faults) {
        std::string out;
        for (const FaultId f : faults) out += ' ' + std::to_string(f.index());
        return out;
    };
    std::string out = "\nclaim " + std::to_string(claim.index()) + " with at most " + std::to_string(c.at_most) +
                      (c.from_the_start ? " from the start" : "") + (c.present ? " present" : "") + ':' +
                      list(c.faults);
    for (const auto& set : c.excluded) out += ", not" + list(set);
    return out;
}

ConditionId add_condition(Model& m, ConditionId base, const FaultChoice& choice) {
    Condition c = m.conditions[base];
    c.text += (c.healthy ? ", except " : ", with ") + choice_text(m, choice);
    c.name = c.text;
    if (choice.present) {
        c.present = choice.faults;
    } else {
        c.faults = choice.faults;
        c.at_most = choice.at_most;
        c.from_the_start = choice.from_the_start;
        c.excluded = choice.excluded;
    }
    return m.conditions.add(std::move(c));
}

}  // namespace

std::vector<FaultId> all_faults(const Model& model) {
    std::vector<FaultId> all;
    for (const FaultId f : model.faults.ids()) all.push_back(f);
    return all;
}

Model with_faults(const Model& model, ClaimId claim, const FaultChoice& choice) {
    Model m = model;
    m.made_into += made_into(claim, choice);
    for (const FaultId f : choice.faults) use_fault(m, f);
    Claim& c = m.claims[claim];
    if (c.reached_under) c.reached_under = add_condition(m, c.reached_under, choice);
    if (!std::holds_alternative<Recoverable>(c.body) || choice.present)
        c.condition = add_condition(m, c.condition, choice);
    return m;
}

}  // namespace lanyard::fault
