#include "page/facts.hpp"

#include "circuit/finding.hpp"
#include "model/fault_kinds.hpp"
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

constexpr std::size_t most_sets = 24;  // of one claim

std::string paragraph(const std::string& words) { return tag("p", text(words)) + "\n"; }

const char* tick_box() { return "<span class=\"tick\" aria-label=\"tick box\" role=\"img\"></span>"; }
const char* space_to_write() { return "<span class=\"blank\" aria-label=\"space for a reading\" role=\"img\"></span>"; }

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
        std::size_t shown = 0;
        for (const auto& set : c.sets) {
            if (shown++ == most_sets) break;
            std::string names;
            for (const FaultId k : set.faults) names += (names.empty() ? "" : " + ") + fault_name_with_ends(f.model, k);
            sets += tag("li", text(names));
        }
        if (c.sets.size() > most_sets)
            sets += tag("li", "and " + std::to_string(c.sets.size() - most_sets) + " more: lanyard faults");
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

// What breaks no claim and powers nothing is counted.
std::string faults(const PageInput& in) {
    if (in.faults == nullptr) return "";
    const Model& m = in.faults->model;
    MarkupTable t{"Faults that break a claim, or power something without a command",
                  "faults",
                  {"Fault", "Effect on loads", "Breaks alone", "Breaks with others", "Shows", "What helps"},
                  {}};
    long lose = 0, silent = 0;
    for (const auto& mode : failure_modes(m, in.faults->tables)) {
        const Fault& f = m.faults[mode.fault];
        if (mode.matters)
            t.rows.push_back({name(f.name) + tag("span class=\"says\"", text(fault_words(m, mode.fault))),
                              text(mode.effect), text(mode.breaks_alone), text(mode.breaks_with_others),
                              text(mode.shows), text(fault_kind_help(f.kind).cure)});
        else
            ++(mode.effect == no_effect ? silent : lose);
    }
    const std::string rest =
        lose + silent == 0
            ? ""
            : paragraph(
                  report::counted(lose + silent, "fault") + " more: " + std::to_string(lose) +
                  " only take power from a load, " + std::to_string(silent) +
                  " have no effect that was seen; none of them is in a set above. All of them: lanyard faults --csv.");
    return fault_claims(*in.faults) + table(t) + rest +
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
        t.rows.push_back({name(a.what), text(a.value), text(a.where), space_to_write()});
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
