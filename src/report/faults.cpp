#include "report/faults.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/characters.hpp"
#include "base/csv.hpp"
#include "circuit/part_words.hpp"
#include "model/fault_kinds.hpp"
#include "report/json_values.hpp"

namespace lanyard::report {

namespace {

const Fault& fault_of(const Model& m, FaultId f) { return m.faults[f]; }
const std::string& claim_name(const Model& m, const ClaimFaults& c) { return m.claims[c.claim].id; }

std::string names_of(const Model& m, const std::vector<SignalId>& signals) {
    std::vector<std::string> names;
    for (const SignalId id : signals) names.push_back(m.name_of(id));
    return joined(names, ", ");
}

std::string set_text(const Model& m, const CutSet& set) {
    std::vector<std::string> names;
    for (const FaultId f : set.faults) names.push_back(fault_of(m, f).name);
    return joined(names, " + ");
}

bool holds(const CutSet& set, FaultId fault) { return std::binary_search(set.faults.begin(), set.faults.end(), fault); }

// The claims that the fault breaks alone; those that it breaks with others.
std::vector<std::string> broken_by(const Model& m, const std::vector<ClaimFaults>& claims, FaultId fault, bool alone) {
    std::vector<std::string> out;
    for (const auto& c : claims)
        if (std::any_of(c.sets.begin(), c.sets.end(),
                        [&](const CutSet& s) { return (s.faults.size() == 1) == alone && holds(s, fault); }))
            out.push_back(claim_name(m, c));
    return out;
}

std::string number(double x) { return fmt::format("{:.6g}", x); }

Json set_json(const Model& m, const CutSet& set) {
    Json out = {{"faults", Json::array()}};
    for (const FaultId f : set.faults) out["faults"].push_back(fault_of(m, f).name);
    for (const auto& [key, faults] : {std::pair("undone_by", &set.undone_by), {"undone_open", &set.undone_open}})
        for (const FaultId f : *faults) out[key].push_back(fault_of(m, f).name);
    if (set.run) out["run"] = run_to_json(m, *set.run);
    if (set.certificate) out["certificate"] = certificate_to_json(*set.certificate);
    return out;
}

Json likelihood_json(const Model& m, const Likelihood& l) {
    if (!l.why_not.empty()) return {{"why_not", l.why_not}};
    Json out = {{"exact", number(l.exact)}, {"rare_event_sum", number(l.rare_event_sum)}};
    if (l.average) out["average_on_demand"] = number(*l.average);
    if (l.average) out["hours"] = number(l.hours);
    out["importance"] = Json::array();
    for (const auto& w : l.weights)
        out["importance"].push_back({{"fault", fault_of(m, w.fault).name},
                                     {"birnbaum", number(w.birnbaum)},
                                     {"criticality", number(w.criticality)},
                                     {"fussell_vesely", number(w.fussell_vesely)}});
    return out;
}

Json faults_of_claim_json(const Model& m, const ClaimFaults& c) {
    Json out = {{"claim", claim_name(m, c)}};
    if (!c.not_judged.empty()) {
        out["not_judged"] = c.not_judged;
        return out;
    }
    out["sets"] = Json::array();
    for (const auto& s : c.sets) out["sets"].push_back(set_json(m, s));
    out["orders"] = Json::array();
    for (const auto& o : c.orders) {
        Json order = {{"order", o.order}, {"complete", o.complete}};
        if (o.certificate) order["certificate"] = certificate_to_json(*o.certificate);
        if (!o.why_not.empty()) order["why_not"] = o.why_not;
        out["orders"].push_back(order);
    }
    out["alike"] = Json::array();
    for (const auto& group : c.alike) {
        Json names = Json::array();
        for (const FaultId f : group) names.push_back(fault_of(m, f).name);
        out["alike"].push_back(names);
    }
    return out;
}

// What breaks of a wire: one of its pieces, which is what stands before the last word.
std::string piece_of(const Model& m, FaultId id) {
    const std::string& name = fault_of(m, id).name;
    return name.substr(0, name.rfind('.'));
}

// A part with two ends is named without the end.
std::string end_name(const Model& m, NodeId node) {
    std::string name = m.circuit.nodes[node].name;
    for (const char* end : {".in", ".out", ".pin"})
        if (name.ends_with(end)) return name.substr(0, name.rfind('.'));
    return name;
}

// "from F3 to fuel_pump", of a piece of wire.
std::string wire_ends(const Model& m, FaultId id) {
    const FaultKind kind = fault_of(m, id).kind;
    if (kind != FaultKind::wire_open && kind != FaultKind::wire_to_ground && kind != FaultKind::wire_to_battery)
        return "";
    for (const auto& b : m.circuit.branches)
        if (b.kind == BranchKind::wire && b.name == piece_of(m, id))
            return "from " + end_name(m, b.from) + " to " + end_name(m, b.to);
    return "";
}

const Effect* effect_of(const FaultTables& t, FaultId fault) {
    for (const auto& e : t.effects)
        if (e.fault == fault) return &e;
    return nullptr;
}

bool is_hidden(const FaultTables& t, FaultId fault) {
    const Effect* e = effect_of(t, fault);
    return e != nullptr && e->shows != Shows::in_use;
}

}  // namespace

std::string effect_text(const Model& m, const Effect& e) {
    std::vector<std::string> parts;
    if (!e.lost.empty()) parts.push_back("without power: " + names_of(m, e.lost));
    if (!e.gained.empty()) parts.push_back("powered without command: " + names_of(m, e.gained));
    return parts.empty() ? no_effect : joined(parts, "; ");
}

std::string shows_text(Shows s, bool use_was_played) {
    if (s == Shows::in_use) return "in use";
    const std::string not_played = use_was_played ? "" : ", use was not played";
    return s == Shows::not_seen ? "not seen" + not_played
           : use_was_played     ? "on a bench only"
                                : "on a bench" + not_played;
}

bool use_was_played(const Model& m, const FaultTables& t) {
    return std::any_of(t.claims.begin(), t.claims.end(), [&](const auto& c) { return shows_use(m, c); });
}

std::string in_use_text(const Model& m, const FaultTables& t) {
    std::vector<std::string> names;
    for (const auto& c : t.claims)
        if (shows_use(m, c)) names.push_back("`" + claim_name(m, c) + "`");
    if (!names.empty())
        return "Played as the car in use: the example" + std::string(names.size() == 1 ? "" : "s") + " of " +
               listed(names);
    return "Which faults show in use is not known: no run of the car in use was played, as none of these claims is a "
           "procedure or says that something is possible, and holds";
}

std::string fault_words(const Model& m, FaultId id) {
    std::string out = fault_story(fault_of(m, id));
    const std::string ends = wire_ends(m, id);
    if (ends.empty()) return out;
    const std::string piece = piece_of(m, id);
    return out.insert(out.find(piece) + piece.size(), ' ' + ends);
}

std::string fault_name_with_ends(const Model& m, FaultId id) {
    const std::string ends = wire_ends(m, id);
    return fault_of(m, id).name + (ends.empty() ? "" : ", " + ends);
}

std::vector<FailureMode> failure_modes(const Model& m, const FaultTables& t) {
    std::vector<FailureMode> out;
    const bool use = use_was_played(m, t);
    for (const auto& e : t.effects) {
        FailureMode mode;
        mode.fault = e.fault;
        mode.effect = effect_text(m, e);
        mode.breaks_alone = joined(broken_by(m, t.claims, e.fault, true), "; ");
        mode.breaks_with_others = joined(broken_by(m, t.claims, e.fault, false), "; ");
        mode.shows = shows_text(e.shows, use);
        mode.matters = !mode.breaks_alone.empty() || !mode.breaks_with_others.empty() || !e.gained.empty();
        out.push_back(std::move(mode));
    }
    return out;
}

FaultCounts fault_counts(const Model& m, const FaultTables& t) {
    FaultCounts out;
    for (const FaultId f : m.faults.ids()) {
        if (broken_by(m, t.claims, f, true).empty()) continue;
        ++out.alone;
        if (is_hidden(t, f)) ++out.hidden;
    }
    return out;
}

std::string faults_csv(const Model& m, const FaultTables& t) {
    std::string out = csv_line({"item", "failure mode", "fault", "in words", "effect on loads", "breaks alone",
                                "breaks with others", "shows", "what helps", "reference"});
    for (const auto& mode : failure_modes(m, t)) {
        const Fault& f = fault_of(m, mode.fault);
        const FaultKindHelp& kind = fault_kind_help(f.kind);
        out +=
            csv_line({f.part, kind.word.empty() ? "event" : kind.word, f.name, fault_words(m, mode.fault), mode.effect,
                      mode.breaks_alone, mode.breaks_with_others, mode.shows, kind.cure, kind.reference});
    }
    return out;
}

std::string hidden_faults_text(const Model& m, const FaultTables& t) {
    std::string out;
    if (!use_was_played(m, t)) return out;
    for (const auto& c : t.claims) {
        std::vector<std::string> alone, together;
        for (const auto& s : c.sets) {
            std::vector<std::string> hidden;
            for (const FaultId f : s.faults)
                if (is_hidden(t, f)) hidden.push_back(fault_of(m, f).name);
            if (hidden.empty() || s.faults.size() > 2) continue;
            if (s.faults.size() == 1)
                alone.push_back(hidden.front());
            else
                together.push_back(set_text(m, s) + ", of which " + joined(hidden, " and ") +
                                   (hidden.size() == 1 ? " does" : " do") + " not show in use");
        }
        if (!alone.empty()) out += claim_name(m, c) + ": " + joined(alone, ", ") + '\n';
        for (const auto& pair : together) out += claim_name(m, c) + ": " + pair + '\n';
    }
    return out;
}

std::string likelihood_text(const Model& m, const Likelihood& l) {
    if (!l.why_not.empty()) return "no number: " + l.why_not;
    std::string out = "exact probability " + number(l.exact);
    if (l.average) out += " at the end of " + number(l.hours) + " h, " + number(*l.average) + " on average on demand";
    out += "; sum over the sets (an upper bound) " + number(l.rare_event_sum);
    if (!l.weights.empty()) out += "; most critical: " + fault_of(m, l.weights.front().fault).name;
    return out;
}

std::string faults_json(const Model& m, const FaultTables& t, const Versions& versions) {
    Json out = head_json(m, versions);
    out["units"] = units_json(m);
    out["claims"] = Json::array();
    for (std::size_t i = 0; i < t.claims.size(); ++i) {
        Json c = faults_of_claim_json(m, t.claims[i]);
        if (i < t.likelihoods.size()) c["likelihood"] = likelihood_json(m, t.likelihoods[i]);
        out["claims"].push_back(c);
    }
    out["faults"] = Json::array();
    for (const auto& e : t.effects)
        out["faults"].push_back({{"fault", fault_of(m, e.fault).name},
                                 {"kind", fault_kind_help(fault_of(m, e.fault).kind).word},
                                 {"part", fault_of(m, e.fault).part},
                                 {"effect", effect_text(m, e)},
                                 {"shows", shows_text(e.shows, use_was_played(m, t))}});
    return out.dump(2) + "\n";
}

}  // namespace lanyard::report
