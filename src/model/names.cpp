#include "model/names.hpp"

#include <algorithm>
#include <array>
#include <string_view>
#include <vector>

#include "base/characters.hpp"
#include "lang/compile.hpp"
#include "lang/lookalike.hpp"
#include "lang/units.hpp"
#include "model/reader.hpp"

namespace lanyard::model {

namespace {

struct Found {
    Character character;
    std::size_t offset = 0;
};

// The file was checked to be UTF-8 before.
std::vector<Found> characters(const std::string& text) {
    std::vector<Found> all;
    for (std::size_t i = 0; i < text.size(); i += all.back().character.length)
        all.push_back({character_at(text, i), i});
    return all;
}

bool is_word_character(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_';
}

// The nearest thing to the text that could be a name; empty if there is none.
std::string repaired(const std::string& name) {
    std::string word;
    for (const char c : name) word += is_word_character(c) ? c : '_';
    if (!word.empty() && word.front() >= '0' && word.front() <= '9') word = "n" + word;
    while (!word.empty() && word.front() == '_') word.erase(0, 1);
    return is_name(word) && !is_taken(word) ? word : "";
}

void report_foreign(Reading& reading, const std::string& name, const Found& found, Place place,
                    const std::string& pointer) {
    if (place.length == name.size() + 2) {  // written without escapes, between quotes
        place.column += 1 + found.offset;
        place.length = found.character.length;
    }
    const std::string code = code_point_text(found.character.code);
    const std::string twin = ascii_twin(found.character.code);
    if (!twin.empty()) {
        reading.error("look-alike-name", pointer, place,
                      "the name " + quoted(name) + " contains " + code + ", which only looks like \"" + twin + '"',
                      "two different names that look alike cannot be told apart on paper",
                      "type the name again with plain letters");
        return;
    }
    reading.error("non-ascii-name", pointer, place, "the name " + quoted(name) + " contains the character " + code,
                  "names consist of the letters A to Z and a to z, digits and underscores",
                  "use another spelling; a \"note\" may hold any text");
}

// What the trade calls that which is measured in it.
std::string instead_of_unit(const std::string& unit) {
    constexpr std::array<std::array<std::string_view, 2>, 6> names = {
        {{"rpm", "revs"}, {"V", "volts"}, {"A", "amps"}, {"s", "seconds"}, {"K", "K1"}, {"bar", "pressure"}}};
    for (const auto& [symbol, name] : names)
        if (unit == symbol) return std::string(name);
    return unit + "_1";
}

}  // namespace

bool is_taken(const std::string& word) {
    constexpr std::array<std::string_view, 5> ours = {"engine", "powered", "any", "healthy", "note"};
    return is_reserved(word) || std::find(ours.begin(), ours.end(), word) != ours.end();
}

bool check_name(Reading& reading, const std::string& name, Place place, const std::string& pointer) {
    // A name of a thousand characters is wrong enough.
    const auto all = characters(name.substr(0, 1000));
    const auto foreign = std::find_if(all.begin(), all.end(), [](const Found& f) { return f.character.code >= 0x80; });
    if (foreign != all.end()) {
        report_foreign(reading, name, *foreign, place, pointer);
        return false;
    }
    if (is_taken(name)) {
        const auto unit = find_unit(name);
        reading.error(
            "reserved-name", pointer, place, quoted(name) + " cannot be a name",
            unit ? "it is a unit: " + unit->meaning : "the word already has a meaning in expressions or conditions",
            "take another name, such as " + (unit ? instead_of_unit(name) : name + "_1"));
        return false;
    }
    if (is_name(name)) return true;
    const std::string better = repaired(name);
    reading.error(
        "bad-name", pointer, place, quoted(name) + " cannot be a name",
        "names begin with a letter, continue with letters, digits and underscores, and have at most 64 characters",
        better.empty() ? "" : "write `" + better + "`");
    return false;
}

bool check_claim_name(Reading& reading, const std::string& name, Place place, const std::string& pointer) {
    const auto all = characters(name.substr(0, 1000));
    const bool control = std::any_of(
        all.begin(), all.end(), [](const Found& f) { return f.character.code < 0x20 || f.character.code == 0x7F; });
    if (!all.empty() && all.size() <= 120 && !control) return true;
    const char* what = all.empty() ? "a claim needs a name"
                       : control   ? "the name of a claim must not contain control characters"
                                   : "the name of a claim is longer than 120 characters";
    reading.error("bad-claim-name", pointer, place, what, "verdicts and files are named after it", "");
    return false;
}

}  // namespace lanyard::model
