#include "report/json.hpp"

#include "report/cause_words.hpp"
#include "report/claim_words.hpp"
#include "report/findings.hpp"
#include "report/json_values.hpp"
#include "report/never_words.hpp"
#include "report/rules.hpp"
#include "report/terminal.hpp"
#include "report/trapped.hpp"
#include "report/why.hpp"

namespace lanyard::report {

namespace {

void add_run(Json& out, const char* key, const Model& m, const Run& run) { out[key] = run_to_json(m, run); }

void add_certificate(Json& out, const std::optional<Certificate>& c) {
    if (c) out["certificate"] = certificate_to_json(*c);
}

void add_verdict(Json& out, const Model& m, const Proved& p) {
    add_certificate(out, p.certificate);
    if (p.playbook) {
        out["playbook"] = Json::array();
        for (const auto& step : std::get<Procedure>(p.playbook->claims.back().body).phases)
            out["playbook"].push_back(step.text);
    }
    if (!p.shown().segments.empty()) add_run(out, "example", m, p.shown());
}

void add_verdict(Json& out, const Model& m, const Refuted& r) {
    if (!r.remark.empty()) out["remark"] = r.remark;
    if (r.run) add_run(out, "run", m, *r.run);
    add_certificate(out, r.certificate);
}

void add_verdict(Json& out, const Model& m, const Vacuous& v) {
    out["reason"] = v.reason;
    if (v.run) add_run(out, "run", m, *v.run);
    add_certificate(out, v.certificate);
}

void add_verdict(Json& out, const Model&, const Undecided& u) {
    out["reason"] = u.reason;
    out["depth"] = u.depth;
}

void add_never(Json& out, const FilmedResult& r) {
    if (!r.never.empty()) out["never"] = reasons_json(r.model, never_reasons(r.model, r.never));
    if (!r.meant) return;
    out["perhaps_meant"] = {{"claim", claim_sentences(r.model, r.meant->claim)},
                            {"verdict", r.meant->proved ? "proved" : "refuted"}};
}

Json claim_json(const Model& m, const FilmedResult& r) {
    const Claim& c = m.claims[r.claim];
    Json out = {{"id", c.id}, {"kind", kind_of(c)}, {"condition", condition_text(m, c)}};
    if (!c.pattern.empty()) out["word"] = c.pattern;
    if (!c.rule.empty()) out["rule"] = c.rule;
    out["line"] = c.place.line;
    out["column"] = c.place.column;
    out["verdict"] = verdict_name(r.verdict);
    out["summary"] = summary(r);
    out["leaps"] = r.leaps;
    std::visit([&](const auto& v) { add_verdict(out, m, v); }, r.verdict);
    const Run* against = run_against(r.verdict);
    if (r.causes && against != nullptr) out["causes"] = causes_json(m, *against, *r.causes);
    const Certificate* closed = certificate_of(r.verdict);
    if (r.causes && r.causes->of_trap && closed != nullptr && r.film().is_complete())
        out["trap"] = trap_json(r.film(), *closed, r.causes->trap);
    add_never(out, r);
    if (!r.others.empty()) out["others"] = Json::array();
    for (const auto& other : r.others)
        out["others"].push_back(
            {{"run", run_to_json(m, other.run)}, {"causes", causes_json(m, other.run, other.causes)}});
    if (r.no_more != NoMore::enough) out["others_complete"] = r.no_more == NoMore::none;
    return out;
}

}  // namespace

std::string results_json(const Model& m, const FilmedResults& results, const Versions& versions) {
    Json out = {{"lanyard_result", 1}};
    out.update(head_json(m, versions));
    out["units"] = units_json(m);
    if (!m.packs.empty()) out["rules"] = rules_json(m);
    if (m.circuit.exists()) out["findings"] = findings_json(findings_of(m));
    out["claims"] = Json::array();
    for (const auto& r : results) out["claims"].push_back(claim_json(m, r));
    return out.dump(2) + '\n';
}

}  // namespace lanyard::report
