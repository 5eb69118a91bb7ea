#include "report/mutants.hpp"

#include <algorithm>

#include "base/characters.hpp"
#include "report/claim_words.hpp"
#include "report/json_values.hpp"
#include "report/layout.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

constexpr std::size_t longest_part = 60;
constexpr std::size_t label_column = 14;

const char* kind_word(MutantKind kind) {
    switch (kind) {
        case MutantKind::stuck_on:
            return "stuck on";
        case MutantKind::stuck_off:
            return "stuck off";
        case MutantKind::negated:
            return "negated";
        case MutantKind::dropped:
            return "dropped";
        case MutantKind::swapped:
            return "swapped";
        case MutantKind::moved:
            return "moved";
        case MutantKind::instant:
            return "instant";
        case MutantKind::doubled:
            return "doubled";
    }
    return "";
}

const char* fate_word(MutantFate fate) {
    switch (fate) {
        case MutantFate::killed:
            return "killed";
        case MutantFate::survived:
            return "survived";
        case MutantFate::undecided:
            return "undecided";
        case MutantFate::equivalent:
            return "equivalent";
    }
    return "";
}

// The threshold that a comparison has now.
std::string moved_to(const Model& m, const Expr& was, const Expr& is) {
    for (std::size_t k = 0; k < is.args.size(); ++k)
        if (is.args[k]->op == Op::number && is.args[k]->value != was.args[k]->value)
            return operand_value(m, *is.args[1 - k], *was.args[k], is.args[k]->value, 3);
    return "";
}

std::string place_of(const Model& m, const Mutant& x) {
    const Place& p = x.part->place.line > 0 ? x.part->place : m.signal(x.signal).place;
    return std::to_string(p.line) + ":" + std::to_string(p.column);
}

std::string claims_text(const Model& m, const std::vector<ClaimId>& claims) {
    std::vector<std::string> ids;
    for (const ClaimId c : claims) ids.push_back(sanitize_for_terminal(m.claims[c].id));
    return joined(ids, ", ");
}

std::string score_text(const MutationScore& s) {
    const long killed = s.count(MutantFate::killed);
    const long all = std::ssize(s.mutants) - s.count(MutantFate::equivalent);
    if (all == 0) return "nothing to change";
    std::string text =
        std::to_string(killed) + " of " + std::to_string(all) + ", " + std::to_string(killed * 100 / all) + " %";
    const long open = s.count(MutantFate::undecided);
    return open == 0 ? text : text + "; " + std::to_string(open) + " more undecided";
}

void add_list(std::string& out, const Model& m, const MutationScore& s, MutantFate fate, const std::string& title) {
    if (s.count(fate) == 0) return;
    out += '\n' + title + '\n';
    for (const auto& x : s.mutants) {
        if (x.fate != fate) continue;
        const std::string place = file_name(m) + ":" + place_of(m, x.mutant);
        std::string what = m.name_of(x.mutant.signal) + ": " + mutant_words(m, x.mutant);
        if (!x.open.empty()) what += " (undecided: " + claims_text(m, x.open) + ")";
        out += labelled("  " + place, width_of(place) + 4, what);
    }
}

}  // namespace

std::string mutant_words(const Model& m, const Mutant& x) {
    const std::string part = "`" + short_text(m, *x.part, longest_part) + "`";
    switch (x.kind) {
        case MutantKind::stuck_on:
        case MutantKind::stuck_off:
            return kind_word(x.kind);
        case MutantKind::negated:
            return part + " negated";
        case MutantKind::dropped:
            return part + " left out";
        case MutantKind::swapped:
            if (x.part->op == Op::vote) return part + " with " + std::to_string(x.instead->count) + " of them";
            return std::string(op_word(x.instead->op)) + " instead of " + op_word(x.part->op) + " in " + part;
        case MutantKind::moved:
            return part + " with " + moved_to(m, *x.part, *x.instead);
        case MutantKind::instant:
            return part + " without its timer";
        case MutantKind::doubled:
            return part + " with " + duration_text(x.instead->value);
    }
    return "";
}

std::string mutation_text(const Model& m, const MutationScore& s) {
    std::string out = labelled("judged by", label_column,
                               s.judges.empty() ? "no claim, because none is proved" : claims_text(m, s.judges));
    if (!s.silent.empty())
        out += labelled("left out", label_column, claims_text(m, s.silent) + " (not proved for the model itself)");
    if (s.judges.empty()) return out;
    out += labelled("score", label_column, score_text(s));
    for (const auto fate : {MutantFate::killed, MutantFate::survived, MutantFate::undecided, MutantFate::equivalent})
        if (s.count(fate) > 0)
            out += labelled(fate_word(fate), label_column,
                            std::to_string(s.count(fate)) +
                                (fate == MutantFate::equivalent ? " (proved semantically equivalent)" : ""));
    std::vector<std::string> unneeded;
    for (const SignalId id : s.unneeded) unneeded.push_back(m.name_of(id));
    if (!unneeded.empty()) out += labelled("not needed", label_column, joined(unneeded, ", "));
    add_list(out, m, s, MutantFate::survived, "No claim notices (or the change is equivalent)");
    add_list(out, m, s, MutantFate::undecided, "Undecided within the limit of work");
    return out;
}

std::string mutation_json(const Model& m, const MutationScore& s, const Versions& versions) {
    Json out = {{"lanyard_mutants", 1}};
    out.update(head_json(m, versions));
    const auto ids = [&m](const std::vector<ClaimId>& claims) {
        Json list = Json::array();
        for (const ClaimId c : claims) list.push_back(m.claims[c].id);
        return list;
    };
    out["judged_by"] = ids(s.judges);
    out["left_out"] = ids(s.silent);
    for (const auto fate : {MutantFate::killed, MutantFate::survived, MutantFate::undecided, MutantFate::equivalent})
        out[fate_word(fate)] = s.count(fate);
    out["no_claim_needs"] = Json::array();
    for (const SignalId id : s.unneeded) out["no_claim_needs"].push_back(m.name_of(id));
    out["mutants"] = Json::array();
    for (const auto& x : s.mutants) {
        const Place& p = x.mutant.part->place.line > 0 ? x.mutant.part->place : m.signal(x.mutant.signal).place;
        Json one = {{"signal", m.name_of(x.mutant.signal)},
                    {"kind", kind_word(x.mutant.kind)},
                    {"what", mutant_words(m, x.mutant)},
                    {"line", p.line},
                    {"column", p.column},
                    {"fate", fate_word(x.fate)}};
        if (x.claim) one["killed_by"] = m.claims[x.claim].id;
        if (x.claim) one["found_by"] = x.by_search ? "search" : "run";
        if (!x.open.empty()) one["undecided"] = ids(x.open);
        out["mutants"].push_back(one);
    }
    return out.dump(2) + '\n';
}

}  // namespace lanyard::report
