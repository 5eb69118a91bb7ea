#include "page/report_page.hpp"

#include "base/characters.hpp"
#include "page/claims.hpp"
#include "page/document.hpp"
#include "page/facts.hpp"
#include "page/markup.hpp"
#include "page/opening.hpp"
#include "page/prose.hpp"
#include "page/safety_case_svg.hpp"
#include "page/summary.hpp"
#include "report/words.hpp"

namespace lanyard::page {

namespace {

struct Part {
    std::string id, title, content;
};
using Parts = std::vector<Part>;

Parts with_content(Parts all) {
    std::erase_if(all, [](const Part& p) { return p.content.empty(); });
    return all;
}

std::string contents(const Parts& parts) {
    std::string items;
    for (const auto& p : parts) items += tag("li", tag("a href=\"#" + p.id + "\"", text(p.title)));
    return tag("nav aria-label=\"Contents\"", tag("ol", items)) + "\n";
}

std::string sections(const Parts& parts) {
    std::string out;
    for (const auto& p : parts) out += section(p.id, p.title, p.content);
    return out;
}

Parts front(const PageInput& in) {
    return with_content({{"summary", "Verdicts in short", summary_of_verdicts(in)},
                         {"do", "What to do", to_do(in)},
                         {"measure", "What to measure", to_measure(in.model)},
                         {"inspect", "What to inspect", to_inspect(in.model)}});
}

Parts annexes(const PageInput& in) {
    const SafetyCase argument = safety_case(in.model, in.results, in.evidence, in.versions);
    Parts there = with_content({
        {"verdicts", "Every claim and its verdict", verdict_table(in)},
        {"broken", "What does not hold", claims(in, ClaimGroup::broken)},
        {"undecided", "What is not decided", claims(in, ClaimGroup::undecided)},
        {"proved", "What is proved, and what it rests on", claims(in, ClaimGroup::proved)},
        {"faults", "When parts fail", faults(in)},
        {"wiring", "Found in the wiring", findings(in.model)},
        {"assumed", "What is assumed, to be measured on the car", assumptions(in.model)},
        {"bench", "Does the car match the model: the bench-test card", bench(in)},
        {"rules", "Rules, and what is to be inspected by hand", rules(in.model)},
        {"case", "Safety case", safety_case_drawing(argument)},
        {"recheck", "How to check this again", recheck(in)},
        {"cautions", "Cautions", cautions()},
    });
    char letter = 'A';
    for (auto& p : there) p.title = std::string("Annex ") + letter++ + ": " + p.title;
    return there;
}

}  // namespace

std::string report_page(const PageInput& in) {
    const Parts short_part = front(in), annex = annexes(in);
    Parts all = short_part;
    all.insert(all.end(), annex.begin(), annex.end());
    return document(sanitize_for_terminal(in.model.name) + ": report",
                    tag("a class=\"skip\" href=\"#summary\"", "To the verdicts") + "\n" + opening(in) + contents(all) +
                        tag("main", "\n" + tag("div class=\"front\"", "\n" + sections(short_part)) + "\n" +
                                        tag("div class=\"annexes\"", "\n" + sections(annex)) + "\n") +
                        "\n" + closing(in));
}

}  // namespace lanyard::page
