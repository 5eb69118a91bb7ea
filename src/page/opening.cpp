#include "page/opening.hpp"

#include <algorithm>

#include "page/markup.hpp"
#include "report/claim_words.hpp"
#include "report/story.hpp"
#include "report/terminal.hpp"
#include "report/words.hpp"

namespace lanyard::page {

namespace {

constexpr std::size_t shown_digits = 12;
constexpr const char* ellipsis = "\xE2\x80\xA6";

struct Count {
    const char* word;
    const char* shape;
    long number;
};

std::vector<Count> counts(const FilmedResults& results) {
    std::vector<Count> all{
        {"refuted", "refuted", 0}, {"vacuous", "vacuous", 0}, {"undecided", "undecided", 0}, {"proved", "proved", 0}};
    for (const auto& r : results)
        for (auto& c : all)
            if (verdict_name(r.verdict) == c.word) ++c.number;
    return all;
}

std::string defined(const std::string& label, const std::string& markup) {
    return tag("div", tag("dt", text(label)) + tag("dd", markup));
}

std::string mark_of(const PageInput& in, ClaimId claim, bool in_full) {
    for (const auto& e : in.evidence) {
        if (e.claim != claim) continue;
        if (in_full) return "; evidence " + name(e.folder) + ", SHA-256 " + tag("span class=\"hash\"", text(e.sha256));
        return "; " + tag("span class=\"hash\"", text(e.sha256.substr(0, shown_digits)) + ellipsis);
    }
    return "";
}

constexpr const char* certified = "certificate, checked by a fresh solver";

std::string played(const Run& run) { return "run of " + report::counted(run.scans(), "scan") + ", played again"; }

struct Stands {
    std::string operator()(const Proved& p) const {
        if (p.certificate && p.playbook) return "playbook and certificate, checked by a fresh solver";
        return p.certificate ? certified : played(p.example);
    }
    std::string operator()(const Refuted& r) const {
        if (r.run && r.certificate) return played(*r.run) + "; " + certified;
        return r.run ? played(*r.run) : r.certificate ? certified : "the claim alone";
    }
    std::string operator()(const Vacuous& v) const {
        return v.run ? played(*v.run) : v.certificate ? certified : "the claim alone";
    }
    std::string operator()(const Undecided&) const { return "none"; }
};

}  // namespace

std::string badge(const Verdict& v) {
    static constexpr const char* signs[] = {"\xE2\x9C\x93", "\xE2\x9C\x97", "\xE2\x88\x85", "?"};
    const std::string word = verdict_name(v);
    return tag("span class=\"badge " + word + "\"",
               tag("span aria-hidden=\"true\" class=\"sign\"", signs[v.index()]) + text(word));
}

std::string claim_anchor(ClaimId claim) { return "claim-" + std::to_string(claim.index() + 1); }

std::string evidence_words(const PageInput& in, const FilmedResult& r, bool in_full) {
    return text(std::visit(Stands{}, r.verdict)) + mark_of(in, r.claim, in_full);
}

std::string opening(const PageInput& in) {
    const Model& m = in.model;
    std::string tally;
    for (const auto& c : counts(in.results))
        if (c.number > 0)
            tally +=
                tag("li class=\"" + std::string(c.shape) + "\"", tag("b", std::to_string(c.number)) + " " + c.word);
    return tag("header",
               "\n" + tag("p class=\"kind\"", "Report of a check by model") + "\n" + tag("h1", name(m.name)) + "\n" +
                   tag("ul class=\"tally\" aria-label=\"Verdicts\"", tally) + "\n" +
                   tag("dl class=\"facts\"",
                       defined("Model file", name(report::file_name(m))) +
                           defined("SHA-256", tag("span class=\"hash\"", text(m.sha256))) +
                           defined("Checked by", text("lanyard " + in.versions.lanyard + ", " + in.versions.solver)) +
                           defined("Scan period", text(report::duration_text(m.scan)))) +
                   "\n" +
                   tag("p class=\"caution\"",
                       "A proof is about the model, not about the car. This report is not an approval and does not "
                       "replace an inspection: read the " +
                           tag("a href=\"#cautions\"", "cautions") + " before you act on it.")) +
           "\n";
}

std::string verdict_table(const PageInput& in) {
    MarkupTable t{
        "Claims in the order of the file", "verdicts", {"Claim", "Verdict", "Under", "In short", "Evidence"}, {}};
    for (const auto& r : in.results) {
        const Claim& c = in.model.claims[r.claim];
        std::string says;
        for (const auto& s : report::claim_sentences(in.model, c)) says += tag("span class=\"says\"", text(s));
        t.rows.push_back({tag("a href=\"#" + claim_anchor(r.claim) + "\"", name(c.id)) + says, badge(r.verdict),
                          text(report::condition_label(in.model, c.condition)), text(summary(r)),
                          evidence_words(in, r, false)});
    }
    std::string conditions;
    for (const auto& c : report::long_conditions(in.model)) conditions += tag("p class=\"under\"", text(c)) + "\n";
    return table(t) + conditions;
}

std::string closing(const PageInput& in) {
    return tag("footer", tag("p", text("lanyard " + in.versions.lanyard + ", " + in.versions.solver +
                                       "; model SHA-256 " + in.model.sha256)) +
                             tag("p", text(safety_line()))) +
           "\n";
}

}  // namespace lanyard::page
