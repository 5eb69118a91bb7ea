#include "page/run_view.hpp"

#include <algorithm>

#include "base/characters.hpp"
#include "page/diagram.hpp"
#include "page/diagram_svg.hpp"
#include "page/markup.hpp"
#include "page/scheme.hpp"
#include "page/scheme_svg.hpp"
#include "report/words.hpp"

namespace lanyard::page {

namespace {

// Without its script the page shows the last moment, and no slider.
std::string player(const RunToShow& run, const Diagram& d) {
    const std::string last = std::to_string(d.moments.size() - 1);
    const std::string slider = lone("input type=\"range\" min=\"0\" max=\"" + last + "\" step=\"1\" value=\"" + last +
                                    "\" id=\"" + run.id + "-slider\"");
    return tag("div class=\"player\" hidden=\"hidden\"",
               tag("label for=\"" + run.id + "-slider\"", "Moment of the run") +
                   tag("button type=\"button\" class=\"play\"", "Play") + slider +
                   tag("output for=\"" + run.id + "-slider\" aria-live=\"polite\"", text(d.moments.back().row.time)));
}

std::string table_of_moments(const RunToShow& run, const Diagram& d) {
    std::string body;
    for (std::size_t k = 0; k < d.moments.size(); ++k) {
        const report::Row& row = d.moments[k].row;
        const bool last = k + 1 == d.moments.size();
        body += tag(last ? "tr class=\"shown\"" : "tr", tag("th scope=\"row\" class=\"time\"", text(row.time)) +
                                                            tag("td data-head=\"Driver and world\"", text(row.left)) +
                                                            tag("td data-head=\"What follows\"", text(row.right))) +
                "\n";
        if (!last && d.left_out[k])
            body += tag("tr class=\"gap\"", tag("td colspan=\"3\"", "moments are left out here")) + "\n";
    }
    return tag("table class=\"moments\"", tag("caption", text("Moments: " + run.title)) +
                                              tag("thead", tag("tr", tag("th scope=\"col\"", "Time") +
                                                                         tag("th scope=\"col\"", "Driver and world") +
                                                                         tag("th scope=\"col\"", "What follows"))) +
                                              tag("tbody", "\n" + body));
}

std::string scroll(const std::string& title, const std::string& drawing, const std::string& legend) {
    if (drawing.empty()) return "";
    return tag("div class=\"wide drawing\" tabindex=\"0\" role=\"region\"" + attribute("aria-label", title), drawing) +
           tag("p class=\"legend\"", text(legend)) + "\n";
}

std::string diagram_legend(const Diagram& d) {
    const auto any = [&d](const auto& is) { return std::any_of(d.tracks.begin(), d.tracks.end(), is); };
    std::string words = "A bar means on. The axis is to scale except where it is torn.";
    if (any([](const Track& t) { return !t.stars.empty(); }))
        words += " A star marks a cause; below it says what would have saved the run.";
    if (any([](const Track& t) { return t.is_cause; }))
        words +=
            " A wedge before a name: the verdict depends on it; a wedge below a bar: unchanged from there to the end.";
    if (!d.not_drawn.empty()) words += " Not drawn for want of room: " + joined(d.not_drawn, ", ") + ".";
    return words;
}

}  // namespace

std::string run_view(const RunToShow& run) {
    const Diagram d = diagram_of(run.film, run.causes);
    if (d.moments.empty()) return "";
    std::set<SignalId> asked(run.causes);
    if (run.film.claim() != nullptr) asked.merge(named_in_claim(*run.film.claim()));
    const Model& m = run.film.model();
    const Scheme wiring = scheme_of(run.film, d.moments, asked);
    const std::string diagram_title = "Timing diagram: " + run.title;
    const std::string wiring_title = "Wiring: " + run.title;
    return tag("div class=\"run\" id=\"" + run.id + "\"",
               "\n" + (d.moments.size() > 1 ? player(run, d) : "") + "\n" +
                   scroll(diagram_title, diagram_svg(m, d, run.id + "-diagram", diagram_title), diagram_legend(d)) +
                   scroll(
                       wiring_title, scheme_svg(m, wiring, run.id + "-wiring", wiring_title),
                       "A heavy line carries current to something in the drawing, a plain one has plus, a dashed one "
                       "ground, a thin one neither. Shown at the moment chosen above; at first, the last one.") +
                   table_of_moments(run, d)) +
           "\n";
}

}  // namespace lanyard::page
