#include "report/needs.hpp"

#include <algorithm>

#include "report/assumed.hpp"
#include "report/json_values.hpp"
#include "report/layout.hpp"
#include "report/story.hpp"
#include "report/terminal.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

using AssumedKind = Assumption::Kind;

constexpr std::size_t needs_column = 16;

const char* need_word(Need need) {
    switch (need) {
        case Need::needed:
            return "needed";
        case Need::by_itself:
            return "by itself";
        case Need::spare:
            return "spare";
        case Need::unknown:
            return "unknown";
    }
    return "";
}

std::vector<std::string> words_of(const Model& m, const ClaimNeeds& c, Need need) {
    std::vector<std::string> out;
    for (const auto& a : c.assumptions)
        if (a.need == need) out.push_back(assumption_words(m, c.result.claim, a.assumption));
    return out;
}

std::vector<std::string> elements_of(const ClaimNeeds& c, std::optional<bool> by_every_proof) {
    std::vector<std::string> out;
    for (const auto& e : c.elements)
        if (e.by_every_proof == by_every_proof) out.push_back(e.name);
    return out;
}

void add_words(std::string& out, const std::string& label, const std::vector<std::string>& words) {
    if (!words.empty()) out += labelled("  " + label, needs_column, joined(words, "; "));
}

// What somebody has to measure before the verdicts are about his car.
std::string assumed_text(const Model& m) {
    std::string out;
    std::size_t width = 0;
    const std::vector<Assumed> all = assumed_numbers(m);
    for (const auto& a : all) width = std::max(width, width_of(a.what));
    for (const auto& a : all) out += labelled("  " + a.what, width + 4, a.value + " (" + a.where + ")");
    return out.empty() ? "" : "\nAssumed: measure it on the car\n" + out;
}

}  // namespace

std::string assumption_words(const Model& m, ClaimId claim, const Assumption& a) {
    const Condition& c = m.conditions[m.claims[claim].condition];
    const AnyId k = a.index;
    switch (a.kind) {
        case AssumedKind::healthy:
            return "a healthy engine";
        case AssumedKind::holds:
            return "condition " + text_of(m, *c.holds[a.part]);
        case AssumedKind::except: {
            const auto& [quantity, within] = c.replaced[a.part];
            const SignalId id = m.quantities[quantity].signal;
            return m.name_of(id) + " within " + interval_text(m, id, within);
        }
        case AssumedKind::bands:
            return "the healthy bands of " + m.name_of(m.quantities[k].signal);
        case AssumedKind::line: {
            const GuardedLine& line = m.quantities[k].lines[a.part];
            return std::string(line.is_change ? "how fast " : "where ") + m.name_of(m.quantities[k].signal) +
                   (line.is_change ? " changes" : " is") + " when " + text_of(m, *line.when);
        }
        case AssumedKind::accuracy:
            return "accuracy of " + m.name_of(m.sensors[k].signal);
        case AssumedKind::delay:
            return "delay of " + m.name_of(m.sensors[k].signal) + " (if twice as long)";
        case AssumedKind::relay:
            return "times of " + m.name_of(m.relays[k].contact) + " (if twice as long)";
    }
    return "";
}

std::string needs_text(const Model& m, const std::vector<ClaimNeeds>& claims) {
    std::string out;
    for (const auto& c : claims) {
        out += (out.empty() ? "" : "\n") + story_heading(m, c.result) + '\n';
        const Certificate* certificate = certificate_of(c.result.verdict);
        if (const auto* open = std::get_if<Undecided>(&c.result.verdict))
            add_words(out, "stopped by", {sanitize_for_terminal(open->reason)});
        if (!std::holds_alternative<Proved>(c.result.verdict)) continue;
        add_words(out, "every proof", elements_of(c, true));
        add_words(out, "this proof", elements_of(c, false));
        if (certificate != nullptr && !certificate->parts.empty())
            out += labelled("  parts", needs_column, joined(grouped(certificate->parts), ", "));
        if (certificate != nullptr) add_words(out, "not used", certificate->unused_elements);
        add_words(out, "cannot spare", words_of(m, c, Need::needed));
        add_words(out, "holds without", words_of(m, c, Need::spare));
        add_words(out, "by itself", words_of(m, c, Need::by_itself));
        std::vector<std::string> open = elements_of(c, std::nullopt);
        for (auto& a : words_of(m, c, Need::unknown)) open.push_back(std::move(a));
        add_words(out, "not known", open);
        if (c.assumptions.empty()) add_words(out, "cannot spare", {"no assumption of this kind affects it"});
    }
    return out + assumed_text(m);
}

std::string needs_json(const Model& m, const std::vector<ClaimNeeds>& claims, const Versions& versions) {
    Json out = {{"lanyard_needs", 1}};
    out.update(head_json(m, versions));
    out["claims"] = Json::array();
    for (const auto& c : claims) {
        Json one = {{"id", m.claims[c.result.claim].id}, {"verdict", verdict_name(c.result.verdict)}};
        if (const auto* open = std::get_if<Undecided>(&c.result.verdict)) one["reason"] = open->reason;
        one["elements"] = Json::array();
        for (const auto& e : c.elements) {
            one["elements"].push_back({{"name", e.name}});
            if (e.by_every_proof) one["elements"].back()["needed_by_every_proof"] = *e.by_every_proof;
        }
        if (const Certificate* certificate = certificate_of(c.result.verdict))
            one.update({{"parts", certificate->parts}, {"unused_elements", certificate->unused_elements}});
        one["assumptions"] = Json::array();
        for (const auto& a : c.assumptions)
            one["assumptions"].push_back(
                {{"what", assumption_words(m, c.result.claim, a.assumption)}, {"need", need_word(a.need)}});
        out["claims"].push_back(one);
    }
    out["assumed"] = Json::array();
    for (const auto& a : assumed_numbers(m))
        out["assumed"].push_back({{"what", a.what}, {"value", a.value}, {"where", a.where}});
    return out.dump(2) + '\n';
}

}  // namespace lanyard::report
