#include "report/never_words.hpp"

#include <algorithm>

#include "base/characters.hpp"
#include "report/claim_words.hpp"
#include "report/plain.hpp"
#include "report/words.hpp"
#include "sim/rule_words.hpp"

namespace lanyard::report {

namespace {

std::string and_list(const std::vector<std::string>& parts) {
    std::string out;
    for (std::size_t k = 0; k < parts.size(); ++k)
        out += (k == 0 ? "" : k + 1 == parts.size() ? " and " : ", ") + parts[k];
    return out;
}

std::string alone_words(const Model& m, const Expr& e) {
    const auto state = plain_state(m, e, true);
    if (!state) return text_of(m, e) + " is never true";
    return plain_subject({*state}) + (is_plural({*state}) ? " are never " : " is never ") + state->state;
}

std::string never_text(const Model& m, const Never& n) {
    switch (n.how) {
        case Never::How::alone:
            return alone_words(m, *n.what);
        case Never::How::together: {
            std::vector<std::string> parts;
            for (const auto& a : n.what->args) {
                const bool compound = a->op == Op::and_ || a->op == Op::or_;
                parts.push_back(compound ? "(" + text_of(m, *a) + ")" : text_of(m, *a));
            }
            return and_list(parts) + (parts.size() == 2 ? " are never both true" : " are never all true");
        }
        case Never::How::lasts:
            return text_of(m, *n.what) + " never lasts " + duration_text(n.time);
        case Never::How::read_back:
            return m.name_of(n.what->signal) + " reads back " +
                   m.name_of(m.loops[m.signal(n.what->signal).index].output) + ", which comes on only after it";
    }
    return "";
}

}  // namespace

std::vector<Reason> never_reasons(const Model& m, const std::vector<Never>& list) {
    std::vector<Reason> out;
    for (const Never& n : list) {
        std::string text = never_text(m, n);
        if (n.during) text += std::string(" while the engine is ") + mode_name(*n.during);
        if (!n.ranges.empty()) text += ": " + joined(n.ranges, "; ");
        Reason reason{sanitize_for_terminal(text), never_reasons(m, n.because)};
        // A load and the output that feeds it may have one name.
        const bool again = reason.because.size() == 1 && reason.because.front().text == reason.text;
        out.push_back(again ? std::move(reason.because.front()) : std::move(reason));
    }
    return out;
}

namespace {

bool tells(const std::vector<Never>& list, const std::string& range) {
    return std::any_of(list.begin(), list.end(), [&](const Never& n) {
        return std::find(n.ranges.begin(), n.ranges.end(), range) != n.ranges.end() || tells(n.because, range);
    });
}

}  // namespace

std::vector<std::string> excluded_by(const Model& m, const Claim& c, const Certificate& certificate,
                                     const std::vector<Never>& told) {
    std::vector<std::string> names = certificate.elements;
    for (auto& part : grouped(certificate.parts)) names.push_back(std::move(part));
    std::vector<std::string> out;
    if (!names.empty()) out.push_back(joined(names, ", "));
    std::vector<const Condition*> obeyed{&m.conditions[c.condition]};
    if (c.reached_under) obeyed.push_back(&m.conditions[c.reached_under]);
    for (const auto& label : certificate.assumptions) {
        const auto rule = sim::rule_words(m, obeyed, label);
        if (rule && tells(told, rule->text)) continue;
        out.push_back(sanitize_for_terminal(rule ? rule->text : label.substr(label.find(": ") + 2)));
    }
    return out;
}

std::string meant_words(const Model& m, const Meant& meant) {
    return joined(claim_sentences(m, meant.claim), "; ") + R"( (written with "once" in place of "whenever"): )" +
           (meant.proved ? "this is proved" : "this is refuted");
}

}  // namespace lanyard::report
