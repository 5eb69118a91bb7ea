#include "fault/with_faults.hpp"

#include "model/faults.hpp"

namespace lanyard {

namespace {

std::string choice_text(const Model& m, const FaultChoice& c) {
    std::string names;
    for (const int f : c.faults) names += (names.empty() ? "" : ", ") + m.faults[static_cast<std::size_t>(f)].name;
    if (c.present) return names + " from the start";
    if (static_cast<int>(c.faults.size()) == c.at_most) return names;
    const std::string number = c.at_most == 1 ? "one fault" : "up to " + std::to_string(c.at_most) + " faults";
    return number + " of " + std::to_string(c.faults.size());
}

int add_condition(Model& m, int base, const FaultChoice& choice) {
    Condition c = m.conditions[static_cast<std::size_t>(base)];
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
    m.conditions.push_back(std::move(c));
    return static_cast<int>(m.conditions.size()) - 1;
}

}  // namespace

std::vector<int> all_faults(const Model& model) {
    std::vector<int> all;
    for (std::size_t f = 0; f < model.faults.size(); ++f) all.push_back(static_cast<int>(f));
    return all;
}

Model with_faults(const Model& model, int claim, const FaultChoice& choice) {
    Model m = model;
    for (const int f : choice.faults) use_fault(m, f);
    Claim& c = m.claims[static_cast<std::size_t>(claim)];
    if (c.reached_under >= 0) c.reached_under = add_condition(m, c.reached_under, choice);
    if (!std::holds_alternative<Recoverable>(c.body) || choice.present)
        c.condition = add_condition(m, c.condition, choice);
    return m;
}

}  // namespace lanyard
