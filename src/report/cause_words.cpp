#include "report/cause_words.hpp"

#include "report/cause_marks.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

// A quantity that moved on a line is played scan by scan: that would make a file of megabytes.
constexpr std::size_t most_segments = 60;

// "No choice" is said only where each was tried with all that it could have been.
std::string nothing_found(const Causes& causes) {
    if (causes.of_trap)
        return std::string("no choice was found that, if changed, leaves the goal within reach") +
               (causes.complete ? "" : "; some could not be settled within the limit of work");
    if (!causes.complete)
        return "no single choice or pair was found that explains it, but not all choices of the run were tried";
    if (causes.sampled)
        return "no single choice or pair was found that explains it; of quantities only the values were tried at "
               "which something turns";
    return "no single choice or pair explains it: changing any one or two of them still violates the claim";
}

}  // namespace

std::vector<std::string> cause_sentences(const Model& m, const Run& run, const Causes& causes) {
    std::vector<std::string> out, presupposed;
    for (const auto& c : causes.list) {
        if (c.presupposed)
            presupposed.push_back(text_of_part(m, run, c.parts.front()));
        else
            out.push_back(sentence_of(m, run, causes, c));
    }
    const bool is_found = !out.empty();
    if (!is_found)
        out.push_back(presupposed.empty() ? nothing_found(causes)
                                          : "beside what the claim itself presupposes, " + nothing_found(causes));
    if (!presupposed.empty()) out.push_back("the claim itself presupposes: " + joined(presupposed, "; "));
    if (!is_found) return out;
    if (!causes.complete)
        out.emplace_back(causes.of_trap ? "some choices could not be settled within the limit of work"
                                        : "not all choices of the run were tried");
    return out;
}

Json causes_json(const Model& m, const Run& run, const Causes& causes) {
    Json list = Json::array();
    for (const auto& c : causes.list) {
        Json parts = Json::array();
        for (const auto& p : c.parts) {
            const EventWords words = event_words(m, run, p);
            Json part = {{"scan", shown_at(p.event)},
                         {"time_s", exact_text(Rational(m.scan * shown_at(p.event)))},
                         {"what", words.what},
                         {"instead", words.instead}};
            if (const SignalId id = signal_of(m, p.event)) part["signal"] = m.name_of(id);
            parts.push_back(part);
        }
        Json one = {{"parts", parts}};
        if (c.presupposed) one["presupposed"] = true;
        if (c.otherwise.segments.size() <= most_segments) one["otherwise"] = run_to_json(m, c.otherwise);
        list.push_back(one);
    }
    return {{"list", list}, {"complete", causes.complete}};
}

}  // namespace lanyard::report
