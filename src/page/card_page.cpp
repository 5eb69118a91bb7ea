#include "page/card_page.hpp"

#include "base/characters.hpp"
#include "page/document.hpp"
#include "page/markup.hpp"
#include "report/card.hpp"
#include "report/words.hpp"

namespace lanyard::page {

namespace {

std::string with_pin(const std::string& terminal, const std::string& what) {
    return (terminal.empty() ? "" : tag("b", text(terminal)) + " ") + name(what);
}

std::string list_of(const std::vector<std::string>& markup, const std::string& open) {
    std::string items;
    for (const auto& m : markup) items += tag("li", m);
    return markup.empty() ? "" : tag(open, items);
}

std::string settings_markup(const std::vector<CardSetting>& settings) {
    std::vector<std::string> items;
    for (const auto& s : settings) items.push_back(with_pin(s.terminal, s.what) + ": " + tag("strong", text(s.to)));
    return list_of(items, "ul class=\"settings\"");
}

std::string set_cell(const CardStep& step) {
    std::string out;
    for (const auto& c : step.cautions) out += tag("p class=\"caution\"", tag("b", "Caution: ") + text(c));
    out += settings_markup(step.set);
    if (!step.held.empty()) {
        std::string still;
        for (const auto& s : step.held)
            still += (still.empty() ? "still " : ", ") + with_pin(s.terminal, s.what) + ": " + text(s.to);
        out += tag("span class=\"says\"", still);
    }
    if (!step.wait.empty()) out += tag("span class=\"says\"", tag("strong", "wait " + text(step.wait)));
    for (const auto& s : step.shows) out += tag("span class=\"says\"", text(s));
    return out;
}

const std::string tick = tag("span class=\"tick\"", ""), blank = tag("span class=\"blank\"", "");

std::vector<std::vector<std::string>> step_rows(const CardStep& step) {
    std::vector<std::vector<std::string>> rows;
    const std::string number = std::to_string(step.number);
    if (step.readings.empty()) rows.push_back({number, set_cell(step), "", "nothing to read", "", ""});
    for (const auto& r : step.readings) {
        const bool first = rows.empty();
        std::string expected = tag("strong", text(r.expected));
        if (!r.remark.empty()) expected += tag("span class=\"says\"", text(r.remark));
        rows.push_back({first ? number : "", first ? set_cell(step) : "", with_pin(r.terminal, r.where), expected, tick,
                        std::to_string(r.number) + " " + blank});
    }
    return rows;
}

std::string steps_markup(const Card& card) {
    MarkupTable t;
    t.caption = "Set what the step says, wait for rest, look, tick or write down what was seen";
    t.shape = "card";
    t.head = {"Step", "Set", "Look at", "Expect", "As expected", "Reading"};
    for (const auto& s : card.steps)
        for (auto& row : step_rows(s)) t.rows.push_back(std::move(row));
    return table(t);
}

std::string decisions_markup(const Card& card) {
    MarkupTable t;
    t.caption = "Each condition of each decision acting on its own (MC/DC, masking form)";
    t.head = {"Decision", "Tests", "Least", "Steps"};
    for (const auto& d : card.decisions) {
        std::string steps;
        for (const auto& test : d.tests) steps += (steps.empty() ? "" : ", ") + card_test_words(test);
        std::string what = name(d.name) + tag("span class=\"says\"", text(d.text));
        for (const auto& c : d.not_shown) what += tag("span class=\"says\"", "not shown to act on its own: " + text(c));
        t.rows.push_back({what, std::to_string(d.tests.size()),
                          d.least ? std::to_string(d.least) + (d.known_least ? "" : " or fewer") : "", steps});
    }
    return table(t);
}

std::string gaps_markup(const Card& card) {
    MarkupTable t;
    t.caption = "What this card does not show, and why";
    t.head = {"Where", "What", "Kind", "Why"};
    for (const auto& g : card.gaps) t.rows.push_back({name(g.of), text(g.what), gap_word(g.kind), text(g.why)});
    return table(t);
}

std::string preparations_markup(const Card& card) {
    std::string out;
    for (const auto& p : card_preparations(card)) out += tag("p", text(p));
    return out + tag("p", "Car " + blank + " Date " + blank + " Done by " + blank + " and " + blank);
}

}  // namespace

std::string card_page(const Model& model, const Card& card, const Versions& versions) {
    const std::string title = sanitize_for_terminal(model.name) + ": bench card";
    std::string body = tag("header", tag("p class=\"kind\"", "Bench card") + tag("h1", name(model.name)) +
                                         tag("p class=\"hash\"", text(heading(model, versions))) +
                                         tag("p", text(card_summary(card)))) +
                       "\n";
    std::string main = card.steps.empty() ? tag("p", text(why_no_card(card))) + "\n"
                                          : section("before", "Before you begin", preparations_markup(card)) +
                                                section("steps", "Steps", steps_markup(card)) +
                                                section("decisions", "What the steps show", decisions_markup(card));
    if (!card.gaps.empty()) main += section("gaps", "What they do not show", gaps_markup(card));
    return document(title, body + tag("main", "\n" + main) + "\n");
}

}  // namespace lanyard::page
