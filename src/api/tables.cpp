// The tables behind help, completion and tests, each from where the program itself has it.
#include "lanyard/tables.hpp"

#include "circuit/finding.hpp"
#include "lang/compile.hpp"
#include "lang/print.hpp"
#include "lang/words.hpp"
#include "model/codes.hpp"
#include "model/defaults.hpp"
#include "model/fault_kinds.hpp"
#include "model/format.hpp"
#include "model/patterns.hpp"
#include "prove/prover.hpp"
#include "sim/script.hpp"

namespace lanyard::api {

namespace {

std::vector<KeyRow> key_rows(const ObjectHelp& object) {
    std::vector<KeyRow> rows;
    for (const auto& k : object.keys)
        rows.push_back({k.key, shape_name(k.shape), k.required, k.default_text, k.meaning, k.example});
    return rows;
}

WordRow::Expansion shown(const Expansion& e) {
    WordRow::Expansion out;
    for (const auto& k : e.with) out.with += (out.with.empty() ? "\"" : ", \"") + k + '"';
    for (const auto& [field, text] : e.fields) out.fields.push_back('"' + field + "\": " + text);
    return out;
}

std::vector<ObjectRow> rows_of(const std::vector<ObjectHelp>& objects) {
    std::vector<ObjectRow> out;
    for (const auto& object : objects) out.push_back({object.title, object.meaning, key_rows(object)});
    return out;
}

}  // namespace

std::vector<WordRow> word_table() {
    std::vector<WordRow> out;
    for (const auto& p : pattern_table()) {
        WordRow row{p.object.keys.front().key, p.object.meaning, p.source, example_claim(p, p.expansions.back()), {},
                    key_rows(p.object)};
        for (const auto& e : p.expansions) row.expansions.push_back(shown(e));
        out.push_back(std::move(row));
    }
    return out;
}

namespace {

std::string group_of(WordKind k) {
    switch (k) {
        case WordKind::block:
            return "blocks";
        case WordKind::logic:
            return "logic";
        case WordKind::comparison:
            return "comparison";
        case WordKind::arithmetic:
            return "arithmetic";
        case WordKind::constant:
            return "constants";
        case WordKind::mode:
            return "engine modes";
        case WordKind::part:
            return "parts of others";
        case WordKind::signal:
            return "names given by lanyard";
    }
    return "";
}

}  // namespace

std::vector<ObjectRow> format_table() { return rows_of(lanyard::model::format_table()); }
std::vector<ObjectRow> pack_format_table() { return rows_of(lanyard::model::pack_format_table()); }

std::vector<FaultRow> fault_table() {
    std::vector<FaultRow> out;
    for (const auto& k : fault_kind_table()) out.push_back({k.part, k.word, k.meaning, k.value, k.reference, k.cure});
    return out;
}

std::vector<ElementRow> element_table() {
    std::vector<ElementRow> out;
    for (const auto& w : lanyard::lang::element_table()) out.push_back({w.word, w.form, group_of(w.kind), w.meaning});
    return out;
}

std::vector<UnitRow> unit_table() {
    std::vector<UnitRow> out;
    for (const auto& u : lanyard::lang::unit_table()) {
        std::string exactly = exact_text(u.factor);
        if (u.offset != 0) exactly += " K, and " + exact_text(u.offset) + " K at 0";
        out.push_back({u.symbol, dimension_name(u.dimension), u.meaning, exactly});
    }
    return out;
}

std::vector<DiagnosticRow> diagnostic_table() {
    std::vector<DiagnosticRow> out;
    for (const auto& c : code_table())
        out.push_back({c.code, c.severity == Severity::warning ? "warning" : "error", c.meaning});
    return out;
}

std::vector<FindingRow> finding_table() {
    std::vector<FindingRow> out;
    for (const auto& f : lanyard::circuit::finding_table())
        out.push_back({f.code, finding_level_word(f.level), f.meaning, f.source});
    return out;
}

std::vector<ProverRow> prover_table() {
    std::vector<ProverRow> out;
    for (const auto& p : lanyard::prove::prover_table()) out.push_back({p.name, p.meaning});
    return out;
}

std::vector<LimitRow> limit_table() {
    std::vector<LimitRow> out;
    for (const auto& l : lanyard::model::limit_table()) out.push_back({l.of, l.limit});
    out.push_back({"scans of a script", std::to_string(longest_script)});
    return out;
}

namespace {

std::string band_text(const StandardBand& b, const std::string& unit) {
    std::string out = b.lo + " .. " + b.hi + " " + unit;
    if (!b.after.empty())
        out += " from " + b.after + " s (before: " + b.before_lo + " .. " + b.before_hi + " " + unit + ")";
    return out;
}

}  // namespace

std::vector<QuantityRow> quantity_table() {
    std::vector<QuantityRow> out;
    for (const auto& q : standard_quantities()) {
        for (const auto& v : q.in) {
            std::string healthy;
            for (const lanyard::lang::Mode m : all_modes)
                if (const auto& band = v.healthy[ordinal(m)])
                    healthy += std::string(healthy.empty() ? "" : "; ") + mode_name(m) + " " + band_text(*band, v.unit);
            out.push_back({q.name, v.lo + " .. " + v.hi + " " + v.unit, healthy.empty() ? "-" : healthy});
        }
    }
    return out;
}

std::vector<std::string> reserved_words() {
    std::vector<std::string> out;
    for (const auto& w : lanyard::lang::element_table())
        if (is_reserved(w.word)) out.push_back(w.word);
    for (const auto& u : lanyard::lang::unit_table())
        if (is_reserved(u.symbol)) out.push_back(u.symbol);
    return out;
}

}  // namespace lanyard::api
