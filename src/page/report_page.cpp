#include "page/report_page.hpp"

#include "base/characters.hpp"
#include "page/claims.hpp"
#include "page/document.hpp"
#include "page/facts.hpp"
#include "page/markup.hpp"
#include "page/opening.hpp"
#include "page/prose.hpp"
#include "page/safety_case_svg.hpp"
#include "report/words.hpp"

namespace lanyard {

namespace {

using namespace page;

struct Part {
    std::string id, title, content;
};

std::string contents(const std::vector<Part>& parts) {
    std::string items;
    for (const auto& p : parts) items += tag("li", tag("a href=\"#" + p.id + "\"", text(p.title)));
    return tag("nav aria-label=\"Contents\"", tag("ol", items)) + "\n";
}

std::vector<Part> parts_of(const PageInput& in) {
    const SafetyCase argument = safety_case(in.model, in.results, in.evidence, in.versions);
    std::vector<Part> all{
        {"verdicts", "Verdicts", verdict_table(in)},
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
    };
    std::vector<Part> there;
    for (auto& p : all)
        if (!p.content.empty()) there.push_back(std::move(p));
    return there;
}

}  // namespace

std::string report_page(const PageInput& in) {
    const std::vector<Part> parts = parts_of(in);
    std::string main;
    for (const auto& p : parts) main += section(p.id, p.title, p.content);
    return document(sanitize_for_terminal(in.model.name) + ": report",
                    tag("a class=\"skip\" href=\"#verdicts\"", "To the verdicts") + "\n" + opening(in) +
                        contents(parts) + tag("main", "\n" + main) + "\n" + closing(in));
}

}  // namespace lanyard
