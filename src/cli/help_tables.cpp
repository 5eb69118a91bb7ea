#include "cli/help_tables.hpp"

#include <map>

#include <lanyard/lanyard.hpp>
#include <lanyard/tables.hpp>

#include "cli/exit_codes.hpp"
#include "cli/terminal.hpp"

namespace lanyard::cli {

namespace {

// A row whose head stands on a line of its own and whose text stands below it.
std::string entry(const std::string& head, const std::string& text) {
    return "  " + head + "\n" + wrapped(text, 6, narrow_page);
}

std::string key_text(const api::KeyRow& row) {
    std::string text = "(" + row.takes + ") " + row.meaning + ".";
    if (row.required) text += " Required.";
    if (!row.otherwise.empty()) text += " Without it: " + row.otherwise + ".";
    return text;
}

// Every object may have a note; saying so once is enough.
std::string keys_of(const std::vector<api::ObjectRow>& objects, const std::string& of) {
    std::string text;
    for (const api::ObjectRow& object : objects) {
        if (!object.title.starts_with(of)) continue;
        const bool with_note = text.empty() && of.empty();
        text += (text.empty() ? "" : "\n") + object.title + "\n" + wrapped(object.meaning + ".", 2, narrow_page);
        for (const api::KeyRow& row : object.keys) {
            if (row.key == "note" && !with_note) continue;
            text += two_columns("  \"" + row.key + "\"", 26, key_text(row), narrow_page);
            if (!row.example.empty()) text += wrapped("as in " + row.example, 26, narrow_page);
        }
    }
    return text;
}

// A head, and below it lines that go on behind their own beginning.
std::string written_out(const api::WordRow& word, const api::WordRow::Expansion& e) {
    const std::string with = word.expansions.size() == 1 ? "" : e.with.empty() ? " otherwise" : " with " + e.with;
    std::string text = "    stands for" + with + "\n";
    for (const std::string& field : e.fields) text += wrapped(field, 6, narrow_page);
    return text;
}

// "published" or "trade": the words that have a source, or those that have none.
std::string words(const std::string& which) {
    std::string text;
    for (const api::WordRow& word : api::word_table()) {
        if (word.source.empty() == (which == "published")) continue;
        text += (text.empty() ? "  " : "\n  ") + word.word + "\n" + wrapped(word.meaning + ".", 4, narrow_page);
        text += wrapped("as in " + word.example, 4, narrow_page);
        for (const auto& e : word.expansions) text += written_out(word, e);
    }
    return text;
}

std::string keys(const std::string& of) { return keys_of(api::format_table(), of); }
std::string pack_keys(const std::string&) { return keys_of(api::pack_format_table(), ""); }

std::string packs(const std::string&) {
    std::string text;
    for (const std::string& id : api::shipped_packs()) {
        const auto pack = api::load_pack(id);
        if (const auto* p = std::get_if<api::Pack>(&pack)) text += entry(id, p->title + ". " + p->publisher + ".");
    }
    return text;
}

std::string elements(const std::string&) {
    std::string text, group;
    for (const api::ElementRow& row : api::element_table()) {
        if (row.group != group) text += (text.empty() ? "" : "\n") + row.group + "\n";
        group = row.group;
        text += two_columns("  " + row.form, 30, row.meaning, narrow_page);
    }
    return text;
}

std::string units(const std::string&) {
    std::string text, dimension;
    for (const api::UnitRow& row : api::unit_table()) {
        if (row.dimension != dimension) text += (text.empty() ? "" : "\n") + row.dimension + "\n";
        dimension = row.dimension;
        text += two_columns("  " + row.symbol, 10, row.meaning + (row.exactly.empty() ? "" : "; 1 = " + row.exactly),
                            narrow_page);
    }
    return text;
}

std::string diagnostics(const std::string&) {
    std::string text;
    for (const api::DiagnosticRow& row : api::diagnostic_table())
        text += entry(row.code + "  (" + row.severity + ")", row.meaning);
    return text;
}

// What can break, by the kind of part.
std::string fault_kinds(const std::string&) {
    std::string text, part;
    for (const api::FaultRow& row : api::fault_table()) {
        if (row.part != part) text += (text.empty() ? "" : "\n") + row.part + "\n";
        part = row.part;
        std::string meaning = row.meaning + (row.value.empty() ? "" : " (\"" + row.value + "\")") + ".";
        if (!row.reference.empty()) meaning += " " + row.reference + ".";
        if (!row.cure.empty()) meaning += " What helps: " + row.cure + ".";
        text += two_columns("  " + (row.word.empty() ? "NAME" : row.word), 18, meaning, narrow_page);
    }
    return text;
}

std::string findings(const std::string&) {
    std::string text;
    for (const api::FindingRow& row : api::finding_table())
        text +=
            entry(row.code + "  (" + row.level + ")",
                  row.meaning + (row.source.empty() ? " Common practice, no source." : " Source: " + row.source + "."));
    return text;
}

std::string provers(const std::string&) {
    std::string text;
    for (const api::ProverRow& row : api::prover_table()) text += entry(row.name, row.meaning);
    return text;
}

std::string limits(const std::string&) {
    std::string text;
    for (const api::LimitRow& row : api::limit_table()) text += two_columns("  " + row.of, 44, row.limit, narrow_page);
    return text;
}

std::string quantities(const std::string&) {
    std::string text;
    for (const api::QuantityRow& row : api::quantity_table()) {
        text += "  " + padded(row.name, 22) + row.range + "\n";
        text += wrapped("healthy: " + row.healthy, 6, narrow_page);
    }
    return text;
}

std::string reserved(const std::string&) {
    std::string text;
    for (const std::string& word : api::reserved_words()) text += word + " ";
    return wrapped(text, 2, narrow_page);
}

std::string exits(const std::string&) {
    std::string text;
    for (const ExitRow& row : exit_table())
        text += two_columns("  " + std::to_string(row.code), 8, std::string(row.short_meaning) + ". " + row.meaning,
                            narrow_page);
    return text;
}

using Maker = std::string (*)(const std::string& of);

const std::map<std::string, Maker>& makers() {
    static const std::map<std::string, Maker> table{
        {"keys", keys},
        {"elements", elements},
        {"units", units},
        {"provers", provers},
        {"limits", limits},
        {"diagnostics", diagnostics},
        {"quantities", quantities},
        {"exits", exits},
        {"reserved", reserved},
        {"words", words},
        {"fault_kinds", fault_kinds},
        {"findings", findings},
        {"pack_keys", pack_keys},
        {"packs", packs},
    };
    return table;
}

}  // namespace

std::optional<std::string> table_text(const std::string& mark) {
    const std::size_t blank = mark.find(' ');
    const auto maker = makers().find(mark.substr(0, blank));
    if (maker == makers().end()) return std::nullopt;
    return maker->second(blank == std::string::npos ? "" : mark.substr(blank + 1));
}

std::vector<std::string> table_marks() {
    std::vector<std::string> marks;
    for (const auto& [mark, maker] : makers()) marks.push_back(mark);
    return marks;
}

}  // namespace lanyard::cli
