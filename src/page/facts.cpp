#include "page/facts.hpp"

#include "circuit/finding.hpp"
#include "model/packs.hpp"
#include "page/markup.hpp"
#include "page/opening.hpp"
#include "report/assumed.hpp"
#include "report/card.hpp"
#include "report/claim_words.hpp"
#include "report/rules.hpp"
#include "report/words.hpp"

namespace lanyard::page {

namespace {

std::string paragraph(const std::string& words) { return tag("p", text(words)) + "\n"; }

const char* tick_box() { return "<span class=\"tick\" aria-label=\"tick box\" role=\"img\"></span>"; }
const char* blank() { return "<span class=\"blank\" aria-label=\"space for a reading\" role=\"img\"></span>"; }

std::string rule_table(const Model& m) {
    MarkupTable t{"Rules of the chosen packs", "rules", {"Rule", "Requires", "Here", "Written in"}, {}};
    for (const auto& use : m.rules) {
        const PackRule& rule = *find_rule(m.packs, use.rule);
        std::string here =
            use.state == RuleState::judged ? "judged" : text("does not apply: " + report::state_reason(use));
        for (const auto& changed : use.changed) here += "; " + text("other value: " + changed);
        t.rows.push_back({name(rule.id), text(rule.requirement), here,
                          text(rule.citation + "; " + text_read_words(rule.text_read))});
    }
    return table(t);
}

std::string hand_table(const Model& m) {
    MarkupTable t{"To be inspected by hand", "hand", {"Done", "What", "Written in"}, {}};
    for (const auto& p : m.packs)
        for (const auto& i : p->inspect)
            t.rows.push_back({tick_box(), text(i.name + ": " + i.what), text(p->id + ", " + i.citation)});
    return table(t);
}

std::string pack_table(const Model& m) {
    MarkupTable t{"Rule packs", "packs", {"Pack", "What it is", "How well its text is known", "SHA-256"}, {}};
    for (const auto& p : m.packs)
        t.rows.push_back({name(p->id), text(p->title + "; " + p->publisher + ", " + p->edition),
                          text(text_read_words(p->text_read)), tag("span class=\"hash\"", text(p->sha256))});
    return table(t);
}

std::string fault_claims(const PageFaults& f) {
    MarkupTable t{"Claims and single faults",
                  "fault-claims",
                  {"Claim", "Sets of faults that make it fail", "Is the list complete?"},
                  {}};
    for (const auto& c : f.tables.claims) {
        std::string sets, complete;
        for (const auto& set : c.sets) {
            std::string names;
            for (const FaultId k : set.faults) names += (names.empty() ? "" : " + ") + f.model.faults[k].name;
            sets += tag("li", text(names));
        }
        for (const auto& o : c.orders)
            complete = o.complete ? "up to " + report::counted(o.order, "fault") + ": proved" : "no: " + o.why_not;
        if (!c.not_judged.empty()) complete = "not judged: " + c.not_judged;
        t.rows.push_back({name(f.model.claims[c.claim].id),
                          !c.not_judged.empty() ? "-"
                          : sets.empty()        ? "none known"
                                                : tag("ul class=\"names\"", sets),
                          text(complete)});
    }
    return table(t);
}

}  // namespace

std::string faults(const PageInput& in) {
    if (in.faults == nullptr) return "";
    const FailureModes modes = failure_modes(in.faults->model, in.faults->tables);
    MarkupTable t{"Failure modes", "faults", modes.head, {}};
    for (const auto& row : modes.rows) {
        std::vector<std::string> cells;
        for (const auto& c : row) cells.push_back(text(c));
        t.rows.push_back(std::move(cells));
    }
    return fault_claims(*in.faults) + table(t) +
           paragraph("\"Not seen\" means: in none of the runs that were played. That is not a proof.");
}

std::string findings(const Model& m) {
    MarkupTable t{"Mistakes found in the wiring", "findings", {"Line", "What", "Why it matters", "What helps"}, {}};
    for (const auto& f : findings_of(m)) {
        const FindingHelp& help = finding_help(f.kind);
        t.rows.push_back({std::to_string(f.place.line),
                          tag("b", text(finding_level_word(help.level))) + ": " + text(f.what), text(f.why),
                          text(f.hint)});
    }
    return table(t);
}

std::string assumptions(const Model& m) {
    MarkupTable t{"Assumed numbers", "assumed", {"What", "Assumed", "Source", "Measured on the car"}, {}};
    for (const auto& a : report::assumed_numbers(m))
        t.rows.push_back({name(a.what), text(a.value), text(a.where), blank()});
    if (t.rows.empty()) return "";
    return paragraph(
               "Verdicts are valid for these numbers. \"Common practice\" was not measured on any car, and a number in "
               "the file is only as good as whoever wrote it: measure them, and check again with what you find.") +
           table(t);
}

// The card is a file of its own, to be printed and to be taken to the car; the page is whole without it.
std::string bench(const PageInput& in) {
    if (in.card == nullptr) return "";
    const std::string why = paragraph(
        "Verdicts are about the model. Whether the car is wired and programmed as the model says can only be seen "
        "on the car.");
    if (in.card->steps.empty()) return why + paragraph(why_no_card(*in.card));
    const auto link = [](const std::string& file) { return tag("a href=\"" + file + "\"", file); };
    return why +
           tag("p", "What to set and what to look at is in files beside this one: " + link("card.html") +
                        " to be printed, " + link("card.csv") + " to be filled in, " + link("card.txt") + ".") +
           "\n" + paragraph(card_summary(*in.card) + ".") + paragraph("A filled-in card is checked with") +
           tag("pre", tag("code", text("lanyard card " + report::file_name(in.model) + " --check card.csv"))) + "\n";
}

std::string rules(const Model& m) {
    if (m.packs.empty()) return "";
    std::string conflicts;
    for (const auto& c : report::conflicts_of(m))
        conflicts += paragraph("Conflict: " + c.rule + " and " + c.other + ": " + c.why);
    return paragraph("A proved rule is not a certificate: the scrutineer or the authority decides, at the vehicle.") +
           rule_table(m) + conflicts + hand_table(m) + pack_table(m);
}

std::string recheck(const PageInput& in) {
    const std::string file = report::file_name(in.model);
    const auto command = [](const std::string& words) { return tag("pre", tag("code", text(words))) + "\n"; };
    return paragraph("The verdicts are about the file with this hash and no other:") + command("sha256sum " + file) +
           command(in.model.sha256 + "  " + file) +
           paragraph(
               "To judge it again, with the evidence for each verdict as files that other solvers can read (lanyard "
               "help evidence):") +
           command("lanyard check " + file + " --evidence evidence") + command("sh evidence/recheck.sh") +
           paragraph(
               "The same version gives the same report, byte by byte. A change to the logic, to a number or to the "
               "controller's software makes every verdict void.");
}

}  // namespace lanyard::page
