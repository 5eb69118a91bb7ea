#include "report/sarif.hpp"

#include <algorithm>
#include <utility>

#include "base/characters.hpp"
#include "base/file.hpp"
#include "circuit/finding.hpp"
#include "report/account.hpp"
#include "report/claim_words.hpp"
#include "report/sarif_parts.hpp"
#include "report/story.hpp"
#include "report/terminal.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

class Writer {
 public:
    Writer(const Model& m, const std::string& path) : m_(m), places_(m.source, path), rules_(m) {}

    void claim(const FilmedResult& r) {
        // What holds is no result that a reader of code has to look at.
        if (std::holds_alternative<Proved>(r.verdict)) return;
        const Claim& c = m_.claims[r.claim];
        const Account account = account_of(r);
        Json out = result(rules_.of_claim(c));
        // 3.27.9 and 3.27.10: "open" is what could not be decided, and only "fail" has a level.
        const bool open = std::holds_alternative<Undecided>(r.verdict);
        out["kind"] = open ? "open" : "fail";
        out["level"] = open ? "none" : "error";
        out["message"] =
            sarif_message(c.id + ": " + verdict_word(r.verdict) + " under " +
                          sanitize_for_terminal(condition_text(m_, c)) + ", " + summary(r) + "\n\n" + story(r));
        out["locations"] = Json::array({claim_location(c)});
        related(out, account.hangs_on);
        if (!account.steps.empty()) out["codeFlows"] = Json::array({code_flow(c, account)});
        // A claim is told from others by its name, whatever happens to the rest of the file.
        out["partialFingerprints"] = {{"lanyardClaim/v1", sha256_hex(c.rule + '\n' + c.id)}};
        out["properties"] = {{"claim", c.id},
                             {"kind", kind_of(c)},
                             {"verdict", verdict_name(r.verdict)},
                             {"condition", condition_text(m_, c)}};
        results_.push_back(std::move(out));
    }

    void finding(const WiringFinding& f) {
        const FindingHelp& help = finding_help(f.kind);
        Json out = result(rules_.of_finding(f.kind));
        out["level"] = help.level == FindingLevel::warning ? "warning" : "note";
        std::string text = f.what;
        for (const std::string& more : {f.why, f.hint.empty() ? "" : "what helps: " + f.hint})
            if (!more.empty()) text += '\n' + more;
        out["message"] = sarif_message(text);
        out["locations"] = Json::array({places_.location(f.place)});
        out["partialFingerprints"] = {{"lanyardFinding/v1", sha256_hex(help.code + '\n' + f.pointer)}};
        results_.push_back(std::move(out));
    }

    Json run(const Versions& versions) const {
        Json driver = {{"name", "lanyard"},
                       {"version", versions.lanyard},
                       {"semanticVersion", versions.lanyard},
                       {"rules", rules_.all()}};
        Json model = {{"location", places_.artifact()},
                      {"roles", {"analysisTarget"}},
                      {"mimeType", "application/json"},
                      {"length", m_.source.text().size()},
                      {"hashes", {{"sha-256", m_.sha256}}}};
        model["location"].erase("index");
        const Json root = {{"description", sarif_message("The folder in which lanyard was started.")}};
        return {{"tool", {{"driver", driver}}},
                {"automationDetails", {{"id", "lanyard/" + std::string(places_.artifact()["uri"]) + '/'}}},
                {"invocations", Json::array({{{"executionSuccessful", true}}})},
                {"originalUriBaseIds", {{"%SRCROOT%", root}}},
                {"artifacts", Json::array({model})},
                {"columnKind", "unicodeCodePoints"},
                {"results", results_},
                {"properties", {{"model", m_.name}, {"solver", versions.solver}, {"scan_s", exact_text(m_.scan)}}}};
    }

 private:
    Json result(std::size_t rule) const { return {{"ruleId", rules_.id(rule)}, {"ruleIndex", rule}}; }

    Json claim_location(const Claim& c) const {
        Json out = places_.location(c.place);
        out["logicalLocations"] = Json::array({{{"name", c.id}, {"fullyQualifiedName", c.pointer}, {"kind", "claim"}}});
        return out;
    }

    // What the file does not speak of is seen by the controller, perhaps, where the file says so.
    Place place_of(SignalId id) const {
        const Signal& s = m_.signal(id);
        if (s.kind != SignalKind::quantity || s.place.line > 0) return s.place;
        for (const auto& sensor : m_.sensors)
            if (sensor.quantity == s.index) return m_.signal(sensor.signal).place;
        return s.place;
    }

    void related(Json& out, const std::vector<SignalId>& signals) const {
        Json all = Json::array();
        std::vector<std::pair<Place, std::string>> told;  // a switch and what is seen of it are one
        for (const SignalId id : signals) {
            const std::pair one{place_of(id), m_.name_of(id)};
            if (one.first.line == 0 || std::find(told.begin(), told.end(), one) != told.end()) continue;
            told.push_back(one);
            all.push_back(places_.location(one.first, one.second));
        }
        if (!all.empty()) out["relatedLocations"] = std::move(all);
    }

    // 3.36: one thread, a location a step; the last is where the claim is broken.
    Json code_flow(const Claim& c, const Account& account) const {
        Json steps = Json::array();
        for (const auto& step : account.steps) {
            Place place;
            Json state = Json::object();
            for (const auto& s : step.states) {
                if (place.line == 0) place = place_of(s.signal);
                state[m_.name_of(s.signal)] = sarif_message(s.words);
            }
            Json one = {{"location", places_.location(place, step.time + ": " + step.text)}};
            if (!state.empty()) one["state"] = std::move(state);
            steps.push_back(std::move(one));
        }
        steps.push_back(
            {{"location", places_.location(c.place, joined(account.broken, "; "))}, {"importance", "essential"}});
        return {{"threadFlows", Json::array({{{"locations", std::move(steps)}}})}};
    }

    const Model& m_;
    SarifPlaces places_;
    SarifRules rules_;
    Json results_ = Json::array();
};

}  // namespace

std::string sarif_json(const Model& m, const FilmedResults& results, const Versions& versions,
                       const std::string& path) {
    Writer writer(m, path);
    for (const auto& r : results) writer.claim(r);
    for (const auto& f : findings_of(m)) writer.finding(f);
    const Json out = {
        {"$schema", "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"},
        {"version", "2.1.0"},
        {"runs", Json::array({writer.run(versions)})}};
    return out.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace lanyard::report
