#include "report/record.hpp"

#include "base/characters.hpp"
#include "model/packs.hpp"
#include "report/claim_words.hpp"
#include "report/layout.hpp"
#include "report/rules.hpp"
#include "report/story.hpp"
#include "report/terminal.hpp"
#include "report/unmeasured.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

constexpr std::size_t label_width = 14;
constexpr std::size_t box_width = 4;
constexpr const char* blank = "________________________";

std::string titled(const std::string& title, const std::string& body) {
    return body.empty() ? "" : '\n' + title + "\n\n" + body;
}

std::string record_line(const std::string& label, const std::string& text) {
    return labelled("  " + label, label_width, sanitize_for_terminal(text));
}

std::string paragraph(const std::string& text) {
    std::string out;
    for (const auto& l : lines_of(text, line_width)) out += l + '\n';
    return out;
}

// Something to be done and ticked off.
std::string box(const std::string& text) { return labelled("[ ]", box_width, sanitize_for_terminal(text)); }

bool is_proved(const FilmedResult& r) { return std::holds_alternative<Proved>(r.verdict); }
bool fails(const FilmedResult& r) {
    return std::holds_alternative<Refuted>(r.verdict) || std::holds_alternative<Vacuous>(r.verdict);
}

class Record {
 public:
    Record(const Model& m, const FilmedResults& results, const std::vector<EvidenceMark>& evidence)
        : m_(m), results_(results), evidence_(evidence) {}

    std::string claims(bool (*wanted)(const FilmedResult&)) const {
        std::string out;
        for (const auto& r : results_)
            if (wanted(r)) out += claim(r);
        return out;
    }

    std::string not_checked() const {
        std::string out = claims([](const FilmedResult& r) { return !is_proved(r) && !fails(r); });
        for (const ClaimId k : m_.claims.ids())
            if (!judged(k)) out += record_line("not judged", m_.claims[k].id);
        for (const auto& use : m_.rules)
            if (use.state != RuleState::judged) out += record_line("no rule here", use.rule + ": " + state_reason(use));
        return out + record_line("never",
                                 "the vehicle itself; what SAFETY.md lists under \"A proof is about the model, not "
                                 "about the car\"; broken parts, unless a condition above names faults");
    }

    std::string by_hand() const {
        std::string out =
            box("the controller runs the logic of this model, with its scan period and its terminals") +
            box("the vehicle is wired as the model says; its switches and sensors are those of the model") +
            box("master switch and fuel cut-off act directly, as the rules demand");
        for (const auto& p : m_.packs)
            for (const auto& i : p->inspect)
                out += box(p->id + ", " + i.name + ": " + i.what + " (" + i.citation + ")");
        return out;
    }

    std::string to_measure() const {
        std::string out;
        for (const auto& number : unmeasured_numbers(m_)) out += box(number + "; measured: " + blank);
        return out;
    }

    std::string packs() const {
        std::string out;
        for (const auto& p : m_.packs)
            out += record_line(out.empty() ? "rules" : "", p->id + ": " + p->title + "; " + p->publisher + ", " +
                                                               p->edition + "; " + text_read_words(p->text_read) +
                                                               "; SHA-256 " + p->sha256);
        return out;
    }

    std::string evidence() const {
        std::string out;
        for (const auto& e : evidence_) out += "  " + e.sha256 + "  " + e.folder + '\n';
        return out;
    }

 private:
    const Model& m_;
    const FilmedResults& results_;
    const std::vector<EvidenceMark>& evidence_;

    bool judged(ClaimId index) const {
        for (const auto& r : results_)
            if (r.claim == index) return true;
        return false;
    }
    std::string claim(const FilmedResult& r) const {
        const Claim& c = m_.claims[r.claim];
        return record_line(verdict_word(r.verdict), c.id + ": " + joined(claim_sentences(m_, c), "; ") + "; under " +
                                                        condition_in_full(m_, c.condition)) +
               (is_proved(r) ? "" : record_line("", summary(r)));
    }
};

std::string signatures() {
    std::string out;
    for (const char* who : {"checked by", "inspected by"})
        out += '\n' + padded(who, label_width) + "name " + blank + "  date ____________\n" + padded("", label_width) +
               "signature " + blank + '\n';
    return out;
}

}  // namespace

std::string check_record(const Model& m, const FilmedResults& results, const std::vector<EvidenceMark>& evidence,
                         const Versions& versions) {
    const Record record(m, results, evidence);
    std::string out = "RECORD OF A CHECK BY MODEL\n\n";
    out += paragraph(
        "This is not an approval and does not replace an inspection. A proof is about the model, not about the "
        "vehicle. Local law, "
        "the "
        "rules of the event, its scrutineer and competent people decide, by the text in force, at the vehicle. Any "
        "change to the logic, to a number or to the controller's software makes every verdict void.");
    out += titled("WHAT WAS CHECKED, AND BY WHAT",
                  record_line("model", m.name) + record_line("file", file_name(m) + ", SHA-256 " + m.sha256) +
                      record_line("scan period", duration_text(m.scan)) +
                      record_line("by", "lanyard " + versions.lanyard + ", " + versions.solver) + record.packs());
    out += titled("WHAT DOES NOT HOLD", record.claims(fails));
    out += titled("WHAT HOLDS IN THE MODEL", record.claims(is_proved));
    out += titled("WHAT WAS NOT CHECKED", record.not_checked());
    out += titled("NUMBERS THAT NOBODY HAS MEASURED", record.to_measure());
    out += titled("TO BE INSPECTED BY HAND", record.by_hand());
    out += titled("EVIDENCE", record.evidence());
    out += titled("SIGNATURES", record_line("vehicle", blank) + record_line("event", blank) + signatures());
    return out + '\n' + safety_line() + '\n';
}

}  // namespace lanyard::report
