#include "page/claims.hpp"

#include <algorithm>

#include "page/markup.hpp"
#include "page/opening.hpp"
#include "page/run_view.hpp"
#include "report/account.hpp"
#include "report/broken.hpp"
#include "report/claim_words.hpp"
#include "report/telling.hpp"
#include "report/words.hpp"

namespace lanyard::page {

namespace {

using report::Passage;
using report::Reason;

constexpr const char* because = " <span class=\"because\">because</span> ";

// What has one cause goes on in its line.
std::string reasons(const std::vector<Reason>& list) {
    std::string items;
    for (const auto& r : list) {
        std::string line = text(r.text);
        const Reason* last = &r;
        while (last->because.size() == 1) {
            last = &last->because[0];
            line += because + text(last->text);
        }
        items += tag("li", line + (last->because.empty() ? "" : reasons(last->because)));
    }
    return tag("ul class=\"why\"", items);
}

std::string passage(const Passage& p) {
    std::string content;
    if (!p.why.empty()) content = reasons(p.why);
    for (const auto& s : p.sentences) content += tag("p", text(s));
    return tag("div class=\"passage\"", tag("dt", text(p.label)) + tag("dd", content)) + "\n";
}

std::string list(const std::string& label, const std::vector<std::string>& items) {
    if (items.empty()) return "";
    std::string all;
    for (const auto& i : items) all += tag("li", text(i));
    return tag("div class=\"passage\"", tag("dt", text(label)) + tag("dd", tag("ul class=\"names\"", all))) + "\n";
}

std::string view(const report::Film& film, const std::string& id, const std::string& title,
                 const std::vector<SignalId>& causes = {}) {
    return film.is_complete() ? run_view({film, {causes.begin(), causes.end()}, id, title}) : "";
}

class Card {
 public:
    Card(const PageInput& in, const FilmedResult& r)
        : in_(in),
          m_(in.model),
          r_(r),
          c_(in.model.claims[r.claim]),
          id_("run-" + std::to_string(r.claim.index() + 1)) {}

    std::string markup() const {
        std::string before, after;
        bool has_run = false;
        for (const auto& p : report::telling(r_, {.certificates = false})) {
            if (!p.moments.empty())
                has_run = true;
            else
                (has_run ? after : before) += passage(p);
        }
        const Certificate* certificate = certificate_of(r_.verdict);
        if (certificate != nullptr) after += rests_on(*certificate);
        after +=
            tag("div class=\"passage\"", tag("dt", "evidence") + tag("dd", tag("p", evidence_words(in_, r_, true)))) +
            "\n";
        const std::string place = report::file_name(m_) + ":" + std::to_string(c_.place.line);
        return tag("article class=\"claim\" id=\"" + claim_anchor(r_.claim) + "\"",
                   "\n" + tag("h3", name(c_.id) + " " + badge(r_.verdict)) + tag("p class=\"place\"", text(place)) +
                       "\n" + passages(before) + (has_run ? main_run() : "") + passages(after) + others() + example()) +
               "\n";
    }

 private:
    const PageInput& in_;
    const Model& m_;
    const FilmedResult& r_;
    const Claim& c_;
    std::string id_;

    static std::string passages(const std::string& all) {
        return all.empty() ? "" : tag("dl class=\"passages\"", "\n" + all) + "\n";
    }

    static std::string rests_on(const Certificate& c) {
        return list("uses", c.elements) + list("parts", report::grouped(c.parts)) + list("assumes", c.assumptions) +
               list("not needed", c.unused_elements);
    }

    std::string main_run() const {
        if (std::holds_alternative<Proved>(r_.verdict)) return view(r_.film(), id_, c_.id + ": a run that gets there");
        const bool refuted = std::holds_alternative<Refuted>(r_.verdict);
        const std::string title = c_.id + (refuted ? ": the run that violates it" : ": the run after which time stops");
        return view(r_.film(), id_, title, report::account_of(r_).hangs_on);
    }

    std::string others() const {
        std::string all;
        for (std::size_t k = 0; k < r_.others.size(); ++k) {
            const std::string id = id_ + "-other-" + std::to_string(k + 1);
            const std::string shown = view(r_.film(r_.others[k]), id, c_.id + ": another run that violates it");
            if (!shown.empty())
                all +=
                    tag("details", tag("summary", "Another run that violates it, for other reasons") + "\n" + shown) +
                    "\n";
        }
        return all;
    }

    // What right looks like.
    std::string example() const {
        if (!std::holds_alternative<Proved>(r_.verdict) || std::holds_alternative<Possible>(c_.body)) return "";
        const std::string shown = view(r_.film(), id_, c_.id + ": a run that exercises it");
        return shown.empty() ? "" : tag("details", tag("summary", "A run that exercises it") + "\n" + shown) + "\n";
    }
};

bool belongs(const Verdict& v, ClaimGroup group) {
    if (std::holds_alternative<Proved>(v)) return group == ClaimGroup::proved;
    if (std::holds_alternative<Undecided>(v)) return group == ClaimGroup::undecided;
    return group == ClaimGroup::broken;
}

}  // namespace

std::string claims(const PageInput& in, ClaimGroup group) {
    std::string out;
    const bool times =
        group == ClaimGroup::broken && std::any_of(in.results.begin(), in.results.end(), [&](const auto& r) {
            return report::needs_time_note(in.model.claims[r.claim], r.verdict);
        });
    if (times) out += tag("p", text(report::time_note())) + "\n";
    for (const auto& r : in.results)
        if (belongs(r.verdict, group)) out += Card(in, r).markup();
    return out;
}

}  // namespace lanyard::page
