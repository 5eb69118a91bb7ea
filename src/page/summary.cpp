#include "page/summary.hpp"

#include <algorithm>

#include "circuit/finding.hpp"
#include "model/packs.hpp"
#include "page/markup.hpp"
#include "page/opening.hpp"
#include "page/svg.hpp"
#include "report/assumed.hpp"
#include "report/card.hpp"
#include "report/claim_words.hpp"
#include "report/layout.hpp"
#include "report/terminal.hpp"
#include "report/words.hpp"

namespace lanyard::page {

namespace {

// Rows of each list, letters of each text: together they fill less than four pages.
constexpr std::size_t most_open = 16;
constexpr std::size_t most_proved = 20;
constexpr std::size_t most_named = 6;
constexpr std::size_t most_findings = 6;
constexpr std::size_t most_numbers = 12;
constexpr std::size_t most_inspected = 10;
constexpr std::size_t longest_name = 60;
constexpr std::size_t longest_cell = 120;
constexpr std::size_t longest_item = 240;

std::string link(const std::string& to, const std::string& markup) { return tag("a href=\"#" + to + "\"", markup); }

std::string cut(const std::string& words, std::size_t longest) {
    const std::string line = sanitize_for_terminal(words);
    if (report::width_of(line) <= longest) return tag("bdi", text(line));
    return tag("bdi", text(first_letters(line, longest) + "\xE2\x80\xA6"));
}

// "12 more in the annex"
std::string rest(std::size_t all, std::size_t shown, const std::string& annex) {
    return all > shown ? tag("p class=\"rest\"", link(annex, std::to_string(all - shown) + " more in the annex")) + "\n"
                       : "";
}

std::string reference(const PageInput& in, ClaimId claim) {
    return link(claim_anchor(claim), cut(in.model.claims[claim].id, longest_name));
}

std::string proved_names(const PageInput& in) {
    std::string names;
    std::size_t count = 0;
    for (const auto& r : in.results)
        if (std::holds_alternative<Proved>(r.verdict) && count++ < most_proved)
            names +=
                tag("li", reference(in, r.claim) + " " +
                              tag("span class=\"under\"",
                                  cut("under " + report::condition_label(in.model, in.model.claims[r.claim].condition),
                                      longest_name)));
    if (count == 0) return "";
    return tag("h3", "Proved") + tag("ul class=\"names\"", names) + "\n" + rest(count, most_proved, "verdicts");
}

std::string item(const std::string& markup) { return tag("li", markup) + "\n"; }

std::string judge_again(const std::string& which, const char* meanwhile) {
    return item(which + text(std::string(" Judge again with more time (--time, --work): until then ") + meanwhile) +
                " " + link("undecided", "What is known"));
}

// Those that may fail, and those that may be found to promise nothing.
std::string about_undecided(const PageInput& in) {
    std::size_t open = 0, unbroken = 0;
    std::string names;
    for (const auto& r : in.results) {
        const auto* undecided = std::get_if<Undecided>(&r.verdict);
        if (undecided == nullptr) continue;
        if (!undecided->unbroken)
            ++open;
        else if (unbroken++ < most_named)
            names += (names.empty() ? "" : ", ") + reference(in, r.claim);
    }
    if (unbroken > most_named) names += text(" and " + std::to_string(unbroken - most_named) + " more");
    std::string out;
    if (unbroken > 0)
        out += judge_again(names + text(": no violation is possible, but no run was found that exercises the claim."),
                           "it may be vacuous.");
    if (open > 0)
        out += judge_again(
            text(unbroken == 0 ? "Do not rely on the undecided claims." : "Do not rely on the other undecided claims."),
            "they may fail.");
    return out;
}

template <class Kind>
bool has(const PageInput& in) {
    return std::any_of(in.results.begin(), in.results.end(),
                       [](const FilmedResult& r) { return std::holds_alternative<Kind>(r.verdict); });
}

std::string about_verdicts(const PageInput& in) {
    std::string out;
    if (has<Refuted>(in))
        out += item(
            "Read why each refuted claim does not hold, change the logic, the wiring or the claim, and check again. "
            "Until then do not rely on it. " +
            link("broken", "Reasons"));
    if (has<Vacuous>(in))
        out += item("Correct each vacuous claim, or its condition: as they are written, they promise nothing. " +
                    link("broken", "Reasons"));
    return out + about_undecided(in);
}

std::string about_wiring(const Model& m) {
    const auto all = findings_of(m);
    std::string out;
    std::size_t shown = 0;
    for (const auto& f : all) {
        if (shown++ == most_findings) break;
        out += item(tag("b", "Wiring, line " + std::to_string(f.place.line) + ": ") +
                    cut(f.what + (f.hint.empty() ? "" : ". What helps: " + f.hint), longest_item));
    }
    if (all.size() > most_findings)
        out += item(link("wiring", std::to_string(all.size() - most_findings) + " more found in the wiring"));
    return out;
}

std::string about_faults(const PageInput& in) {
    if (in.faults == nullptr) return "";
    const FaultCounts n = fault_counts(in.faults->model, in.faults->tables);
    if (n.alone == 0) return "";
    return item(text("Look at the single faults that break a claim: " + std::to_string(n.alone) + ", of which " +
                     std::to_string(n.hidden) + (n.hidden == 1 ? " was" : " were") + " not seen in use.") +
                " " + link("faults", "Faults"));
}

}  // namespace

std::string summary_of_verdicts(const PageInput& in) {
    MarkupTable t{"What does not hold, and what is not decided", "brief judged", {"Verdict", "Claim", "In short"}, {}};
    std::size_t open = 0;
    for (const auto& r : in.results) {
        if (std::holds_alternative<Proved>(r.verdict) || open++ >= most_open) continue;
        const std::string under = "under " + report::condition_label(in.model, in.model.claims[r.claim].condition);
        t.rows.push_back({badge(r.verdict),
                          reference(in, r.claim) + tag("span class=\"says\"", cut(under, longest_cell)),
                          cut(summary(r), longest_cell)});
    }
    return table(t) + rest(open, most_open, "verdicts") + proved_names(in);
}

std::string to_do(const PageInput& in) {
    std::string items = about_verdicts(in) + about_wiring(in.model) + about_faults(in);
    if (in.card != nullptr && !in.card->steps.empty())
        items += item("Go through the bench card at the car (" + tag("a href=\"card.html\"", "card.html") +
                      "): " + text(card_summary(*in.card)) + ".");
    return items.empty() ? "" : tag("ul class=\"do\"", "\n" + items) + "\n";
}

std::string to_measure(const Model& m) {
    auto all = report::assumed_numbers(m);
    // First what nobody has looked at yet.
    std::stable_partition(all.begin(), all.end(), [](const report::Assumed& a) { return a.is_practice(); });
    MarkupTable t{"Numbers that the verdicts rest on", "brief", {"What", "Assumed", "Source", "Measured"}, {}};
    for (const auto& a : all)
        if (t.rows.size() < most_numbers)
            t.rows.push_back({cut(a.what, longest_cell), cut(a.value, longest_cell), text(a.where),
                              "<span class=\"blank\"></span>"});
    return table(t) + rest(all.size(), most_numbers, "assumed");
}

std::string to_inspect(const Model& m) {
    MarkupTable t{"By hand, at the car", "brief", {"Done", "What"}, {}};
    std::size_t count = 0;
    for (const auto& p : m.packs)
        for (const auto& i : p->inspect)
            if (count++ < most_inspected)
                t.rows.push_back({"<span class=\"tick\"></span>", cut(i.name + ": " + i.what, longest_item)});
    return table(t) + rest(count, most_inspected, "rules");
}

}  // namespace lanyard::page
