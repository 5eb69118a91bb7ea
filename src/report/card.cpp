#include "report/card.hpp"

#include "base/characters.hpp"
#include "base/csv.hpp"
#include "base/file.hpp"
#include "report/layout.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

constexpr std::size_t label_width = 10;

std::string with_terminal(const std::string& terminal, const std::string& name) {
    return sanitize_for_terminal(terminal.empty() ? name : terminal + " " + name);
}

std::string settings_text(const std::vector<CardSetting>& settings) {
    std::string out;
    for (const auto& s : settings)
        out += (out.empty() ? "" : "; ") + with_terminal(s.terminal, s.what) + ": " + sanitize_for_terminal(s.to);
    return out;
}

std::string set_cell(const CardStep& step) {
    return settings_text(step.set) + (step.held.empty() ? "" : " (still " + settings_text(step.held) + ")");
}

std::string reading_text(const CardReading& r) {
    const std::string number = std::to_string(r.number);
    const std::string box =
        "    " + std::string(number.size() < 4 ? 4 - number.size() : 0, ' ') + number + "  [ ] ______  ";
    std::string out = box + padded(with_terminal(r.terminal, r.where), 24) + "  " + r.expected + "\n";
    if (width_of(out) > line_width)
        out = box + with_terminal(r.terminal, r.where) + "\n" + labelled("", box.size(), r.expected);
    if (!r.remark.empty()) out += labelled("", box.size(), "(" + sanitize_for_terminal(r.remark) + ")");
    return out;
}

std::string step_text(const CardStep& step) {
    std::string out = "\nStep " + std::to_string(step.number) + "\n";
    for (const auto& c : step.cautions) out += labelled("  caution", label_width, sanitize_for_terminal(c));
    out += labelled("  set", label_width, settings_text(step.set));
    if (!step.held.empty()) out += labelled("  still", label_width, settings_text(step.held));
    if (!step.wait.empty()) out += labelled("  wait", label_width, step.wait);
    for (const auto& r : step.readings) out += reading_text(r);
    for (std::size_t k = 0; k < step.shows.size(); ++k)
        out += labelled(k ? "" : "  shows", label_width, sanitize_for_terminal(step.shows[k]));
    return out;
}

std::string decision_text(const CardDecision& d) {
    std::string out = "  " + sanitize_for_terminal(d.name) + "\n" + labelled("", 6, sanitize_for_terminal(d.text));
    std::string steps;
    for (const auto& t : d.tests) steps += (steps.empty() ? "" : ", ") + card_test_words(t);
    std::string line = counted(std::ssize(d.tests), "test") + " of " +
                       counted(static_cast<long>(d.conditions), "condition") +
                       (d.least ? ", the minimum is " + std::to_string(d.least) : "") +
                       (d.known_least ? "" : " or fewer") + (steps.empty() ? "" : "; steps " + steps);
    out += labelled("", 6, line);
    for (const auto& c : d.not_shown)
        out += labelled("", 6, "not shown to act on its own: " + sanitize_for_terminal(c));
    return out;
}

}  // namespace

std::string gap_word(GapKind kind) {
    switch (kind) {
        case GapKind::impossible:
            return "impossible";
        case GapKind::in_passing:
            return "in passing";
        case GapKind::undecided:
            return "undecided";
        case GapKind::hidden:
            return "hidden";
        case GapKind::not_found:
            return "not found";
        case GapKind::too_large:
            return "too large";
    }
    return "";
}

std::vector<std::string> card_preparations(const Card& card) {
    std::vector<std::string> out{
        "For two people who know the car and its hazards. The engine never runs in these tests: boxes in place of its "
        "sensors supply their signals to the controller.",
        "Before the first step: the car on stands, out of gear, nobody near belts and fans. Disconnect the starter's "
        "main cable, take out the fuel pump's fuse and relieve the fuel pressure, unplug coils and injectors, and "
        "connect test lamps in their places. Coils that stay connected give high voltage.",
        "Connect a box or a potentiometer in place of each sensor. \"plug off\" means: unplug that wire at the "
        "controller; \"fed by hand\": give that terminal of the controller the signal that it waits for. After each "
        "setting wait until "
        "everything has come to rest. Where a box is set exactly to a threshold and the other side shows, write that "
        "down and turn the box a little to the expected side before the next step. If anything looks wrong: stop, "
        "write it down, do not go on."};
    out.push_back("Safe state, before the first and after the last step: " + settings_text(card.rest) + ".");
    out.push_back(card.on_at_rest.empty()
                      ? "Nothing has power in this state; every trip is reset."
                      : "These have power in this state: " + joined(card.on_at_rest, ", ") + ". Every trip is reset.");
    out.push_back(card.stop.empty()
                      ? "No single switch cuts all power at every step: keep the clamp of every battery within reach."
                      : "To be safe at any step: " + card.stop + " cuts the power of everything named here.");
    return out;
}

std::string card_test_words(const CardTest& t) {
    return std::to_string(t.step) + (t.outcome ? " on" : " off") + (t.shown ? "" : " (hidden)") +
           (t.passing ? " (in passing)" : "");
}

std::string why_no_card(const Card& card) { return "There is no bench card: " + card.why_empty + "."; }

std::string card_summary(const Card& card) {
    std::size_t tests = 0;
    for (const auto& d : card.decisions) tests += d.tests.size();
    return counted(std::ssize(card.steps), "step") + ", " + counted(static_cast<long>(card.readings), "reading") +
           ": " + counted(static_cast<long>(tests), "test") + " in " + counted(std::ssize(card.decisions), "decision") +
           ", " + counted(static_cast<long>(card.thresholds), "threshold value") + ", " +
           counted(static_cast<long>(card.delays), "delay") + ", " +
           counted(static_cast<long>(card.latches), "latch test") + ", " + counted(std::ssize(card.gaps), "gap");
}

std::string card_text(const Model& model, const Card& card, const Versions& versions) {
    std::string out =
        "Bench card: " + heading_on_page(model, versions) + "\n\n" + labelled("", 0, card_summary(card)) + "\n";
    if (card.steps.empty()) out += why_no_card(card) + "\n";
    if (!card.steps.empty())
        for (const auto& p : card_preparations(card)) out += labelled("  - ", 4, sanitize_for_terminal(p));
    for (const auto& s : card.steps) out += step_text(s);
    if (!card.decisions.empty()) out += "\nDecisions (each condition acting on its own, MC/DC in its masking form)\n";
    for (const auto& d : card.decisions) out += decision_text(d);
    if (!card.gaps.empty()) out += "\nNot tested by this card\n";
    for (const auto& g : card.gaps)
        out += labelled(
            "  " + gap_word(g.kind), 14,
            sanitize_for_terminal(g.of) + ": " + sanitize_for_terminal(g.what) + " - " + sanitize_for_terminal(g.why));
    return out;
}

const std::vector<std::string>& card_columns() {
    static const std::vector<std::string> columns{"model", "item",     "step",     "set",     "wait",  "caution",
                                                  "where", "terminal", "expected", "reading", "remark"};
    return columns;
}

std::string card_csv(const Model& model, const Card& card) {
    std::string out = csv_line(card_columns());
    const std::string mark = card_mark(model, card).text();
    for (const auto& s : card.steps) {
        const std::string step = std::to_string(s.number), cautions = sanitize_for_terminal(joined(s.cautions, "; "));
        if (s.readings.empty()) out += csv_line({mark, "", step, set_cell(s), s.wait, cautions, "", "", "", "", ""});
        for (const auto& r : s.readings) {
            const bool first = &r == &s.readings.front();
            out += csv_line({mark, std::to_string(r.number), step, first ? set_cell(s) : "", first ? s.wait : "",
                             first ? cautions : "", sanitize_for_terminal(r.where), sanitize_for_terminal(r.terminal),
                             r.expected, "", sanitize_for_terminal(r.remark)});
        }
    }
    return out;
}

CardMark card_mark(const Model& model, const Card& card) {
    std::string all;
    for (const auto& s : card.steps) {
        all += settings_text(s.set) + "\n";
        for (const auto& r : s.readings) all += r.where + "\t" + r.expected + "\n";
    }
    return {model.sha256.substr(0, 12), sha256_hex(all).substr(0, 6)};
}

}  // namespace lanyard::report
