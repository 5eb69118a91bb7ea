#include "card/gaps.hpp"

#include "card/wording.hpp"

namespace lanyard::card {

namespace {

CardGap gap(const Points& points, GapKind kind, const Goal& goal, const std::string& why) {
    return {kind, goal_name(points, goal), goal_words(points, goal, false), why};
}

CardGap gap_of(const Points& points, const Combined& q) {
    const Decision& d = points.decisions[q.decision];
    CardGap out;
    out.of = decision_name(points, d);
    out.what = conditions_words(points, d, q.combination, q.matters);
    out.kind = q.is == Possibility::impossible   ? GapKind::impossible
               : q.is == Possibility::in_passing ? GapKind::in_passing
                                                 : GapKind::undecided;
    if (q.is == Possibility::impossible)
        out.why = "proved: never together in any run on the bench; the certificate was checked";
    else if (q.is == Possibility::in_passing)
        out.why = "happens only in passing: no setting was found that holds it, or that shows it by stopwatch";
    else
        out.why = "neither found nor proved impossible" + (q.why.empty() ? "" : ": " + q.why);
    return out;
}

CardGap gap_of(const Points& points, const Lost& lost) {
    const GapKind kind = lost.reached.goal.passing ? GapKind::in_passing : GapKind::not_found;
    return gap(points, kind, lost.reached.goal, lost.why);
}

CardGap too_large(const Points& points, const Decision& d) {
    return {GapKind::too_large, decision_name(points, d), d.text,
            std::to_string(d.conditions.size()) + " conditions, " + std::to_string(most_conditions) + " is the limit"};
}

std::string or_else(const std::string& why, const char* otherwise) { return why.empty() ? otherwise : why; }

}  // namespace

std::vector<CardGap> gaps_of(const Model& user, const Points& points, const Plan& plan, const Played& played) {
    std::vector<CardGap> out;
    for (const auto& q : plan.excluded) out.push_back(gap_of(points, q));
    for (const Lost& l : played.lost) out.push_back(gap_of(points, l));
    for (const NotFound& n : plan.hidden)
        out.push_back(gap(points, GapKind::hidden, n.goal,
                          or_else(n.why, "no setting was found at which it shows at a terminal")));
    for (const Goal& g : levels_outside(points))
        out.push_back(gap(points, GapKind::not_found, g, "the sensor cannot show that"));
    for (const Comparison& c : points.comparisons)
        if (!c.input)
            out.push_back({GapKind::not_found, user.name_of(c.owner), c.text,
                           "not a threshold of one sensor alone: tested only as a condition"});
    for (const NotFound& n : plan.not_found)
        out.push_back(gap(points, GapKind::not_found, n.goal, or_else(n.why, "no setting was found")));
    for (const auto& r : played.confirmed)
        if (!r.shows)
            out.push_back(
                gap(points, GapKind::hidden, r.goal,
                    "step " + std::to_string(r.step + 1) + " sets it; look inside the controller, if you can"));
    for (const DecisionId d : plan.decisions.ids())
        if (plan.decisions[d].too_large) out.push_back(too_large(points, points.decisions[d]));
    return out;
}

}  // namespace lanyard::card
