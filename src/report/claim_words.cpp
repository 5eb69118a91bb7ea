#include "report/claim_words.hpp"

#include <algorithm>

#include "base/characters.hpp"
#include "report/words.hpp"

namespace lanyard::report {

const std::vector<std::string>& all_kinds() {
    static const std::vector<std::string> kinds{"always",    "response",    "possible",
                                                "procedure", "recoverable", "change limit"};
    static_assert(std::variant_size_v<decltype(Claim::body)> == 6);
    return kinds;
}

std::string kind_of(const Claim& c) { return all_kinds()[c.body.index()]; }

namespace {

std::vector<std::string> sentences(const Model& m, const Always& a) {
    if (a.body->op != Op::implies) return {"at every scan: " + text_of(m, *a.body)};
    return {"at every scan with " + text_of(m, *a.body->args[0]) + ": " + text_of(m, *a.body->args[1])};
}

std::vector<std::string> sentences(const Model& m, const Response& r) {
    std::string held = r.for_time > 0 ? " has held for " + duration_text(r.for_time) : "";
    if (r.manner == Manner::in_total) held += " in total within any " + duration_text(r.out_of);
    const std::string call = r.manner == Manner::once_begun ? "once " : "whenever ";
    const std::string since = r.manner == Manner::while_it_lasts ? "" : ", whatever happens to the first afterwards";
    const bool counts_on = r.for_time > 0;
    const std::string in_all =
        counts_on && r.manner != Manner::in_total ? ", " + duration_text(r.for_time + r.within) + " in all" : "";
    return {call + text_of(m, *r.whenever) + held + ": " + text_of(m, *r.then) +
            (counts_on ? " within a further " : " within ") + duration_text(r.within) + in_all + since};
}

std::vector<std::string> sentences(const Model& m, const ChangeLimit& l) {
    return {text_of(m, *l.body) + " changes at most " + counted(l.at_most, "time") + " within any " +
            duration_text(l.in_any)};
}

std::vector<std::string> sentences(const Model& m, const Recoverable& r) {
    std::string text = "from every state that can be reached, some run reaches: " + text_of(m, *r.body);
    if (r.within) text += " within " + duration_text(*r.within);
    std::string still;
    for (const SwitchId i : r.may_move.ids())
        if (!r.may_move[i]) still += (still.empty() ? "" : ", ") + m.name_of(m.switches[i].position);
    std::vector<std::string> out{text};
    if (!still.empty()) out.push_back("without moving " + still);
    return out;
}

std::vector<std::string> sentences(const Model& m, const Possible& p) {
    return {"some run reaches: " + text_of(m, *p.body)};
}

std::vector<std::string> sentences(const Model& m, const Procedure& p) {
    std::vector<std::string> out;
    if (p.from) out.push_back("from every state with " + text_of(m, *p.from));
    long number = 0;
    for (const auto& phase : p.phases)
        out.push_back("step " + std::to_string(++number) + ": " + sanitize_for_terminal(phase.text));
    const std::string from = p.from ? " after the first step begins" : "";
    const std::string when = p.within ? "by " + duration_text(*p.within) + from : "by the end of the last step";
    out.push_back("then " + when + ": " + text_of(m, *p.goal));
    return out;
}

}  // namespace

std::vector<std::string> claim_sentences(const Model& m, const Claim& c) {
    return std::visit([&m](const auto& body) { return sentences(m, body); }, c.body);
}

std::vector<std::string> plain_sentences(const Model& m, const Claim& c) {
    std::vector<std::string> all{kind_of(c) + ", under " + condition_in_full(m, c.condition)};
    if (c.reached_under) all.push_back("from states reached under " + condition_in_full(m, c.reached_under));
    for (auto& s : claim_sentences(m, c)) all.push_back(std::move(s));
    return all;
}

const std::string& condition_text(const Model& m, const Claim& c) { return m.conditions[c.condition].text; }

namespace {

constexpr std::size_t longest_in_a_cell = 28;

// Its number among the long ones that were written in a claim; 0 where it is short, or has a name.
long number_of_long(const Model& m, ConditionId condition) {
    const auto is_long = [&](ConditionId c) {
        return c > healthy_condition && m.conditions[c].text.size() > longest_in_a_cell &&
               m.conditions[c].text.find(' ') != std::string::npos;
    };
    if (!is_long(condition)) return 0;
    long number = 1;
    for (const ConditionId c : m.conditions.ids())
        if (c < condition && is_long(c)) ++number;
    return number;
}

}  // namespace

std::string condition_label(const Model& m, ConditionId condition) {
    const long number = number_of_long(m, condition);
    return number > 0 ? "condition " + std::to_string(number) : sanitize_for_terminal(m.conditions[condition].text);
}

std::vector<std::string> long_conditions(const Model& m) {
    std::vector<std::string> out;
    for (const ConditionId c : m.conditions.ids()) {
        const auto uses = [&](const Claim& claim) { return claim.condition == c; };
        if (number_of_long(m, c) > 0 && std::any_of(m.claims.begin(), m.claims.end(), uses))
            out.push_back(condition_label(m, c) + ": " + sanitize_for_terminal(m.conditions[c].text));
    }
    return out;
}

std::string condition_in_full(const Model& m, ConditionId index) {
    const Condition& condition = m.conditions[index];
    const std::string under = sanitize_for_terminal(condition.text);
    if (condition.text != condition.name || index <= healthy_condition) return under;
    std::vector<std::string> says{condition.healthy ? "healthy" : "any"};
    for (const auto& [q, interval] : condition.replaced) {
        const SignalId id = m.quantities[q].signal;
        says.push_back("except " + m.name_of(id) + " within " + interval_text(m, id, interval));
    }
    for (const auto& e : condition.holds) says.push_back(text_of(m, *e));
    if (!condition.fault_list.empty())
        says.push_back(
            (condition.at_most == 1 ? "one fault of " : "up to " + std::to_string(condition.at_most) + " faults of ") +
            sanitize_for_terminal(joined(condition.fault_list, ", ")) +
            (condition.from_the_start ? " from the start" : ""));
    const std::string in_full = joined(says, ", ");
    return says.size() == 1 || in_full == under ? under : under + ": " + in_full;
}

std::string file_name(const Model& m) {
    const std::string& name = m.source.name();
    const std::size_t slash = name.find_last_of("/\\");
    return sanitize_for_terminal(slash == std::string::npos ? name : name.substr(slash + 1));
}

}  // namespace lanyard::report
