#include "report/filled_card.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "base/characters.hpp"
#include "base/csv.hpp"
#include "base/suggest.hpp"
#include "claims/cone.hpp"
#include "report/card.hpp"
#include "report/layout.hpp"
#include "report/words.hpp"
#include "sim/words.hpp"

namespace lanyard::report {

namespace {

std::string lower_trimmed(const std::string& text) {
    const auto from = text.find_first_not_of(" \t\r\n");
    if (from == std::string::npos) return "";
    std::string out = text.substr(from, text.find_last_not_of(" \t\r\n") + 1 - from);
    for (char& c : out)
        if ('A' <= c && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return out;
}

std::optional<bool> on_or_off(const std::string& text) {
    for (const char* on : {"on", "1", "yes", "true"})
        if (text == on) return true;
    for (const char* off : {"off", "0", "no", "false"})
        if (text == off) return false;
    return std::nullopt;
}

// "4.1", "4.1 s", "4,1": people write what their country writes.
std::optional<Rational> number_in(std::string text, const std::string& unit) {
    if (!unit.empty() && text.size() > unit.size() && text.ends_with(unit)) text.resize(text.size() - unit.size());
    text = lower_trimmed(text);
    if (std::count(text.begin(), text.end(), ',') == 1 && text.find('.') == std::string::npos)
        text[text.find(',')] = '.';
    return parse_decimal(text);
}

class FilledReader {
 public:
    FilledReader(const Model& m, const Card& card, const SourceText& source)
        : m_(m), source_(source), mark_(card_mark(m, card)) {
        for (const auto& s : card.steps)
            for (const auto& r : s.readings) {
                known_[std::to_string(r.number)] = {&r, &s};
                ++out_.missing;
            }
    }

    FilledCard read() {
        const auto [records, separator] = read_csv(source_, out_.diagnostics);
        separator_ = separator;
        if (records.empty()) {
            error({1, 1, 1}, "this card is empty", "", "lanyard card MODEL --format csv writes one to fill in");
            return std::move(out_);
        }
        if (!read_head(records.front())) return std::move(out_);
        for (std::size_t k = 1; k < records.size(); ++k) read_line(records[k]);
        out_.diagnostics.sort_by_place();
        return std::move(out_);
    }

 private:
    struct Known {
        const CardReading* reading = nullptr;
        const CardStep* step = nullptr;
    };

    void error(const Place& place, const std::string& what, const std::string& why, const std::string& hint) {
        out_.diagnostics.add({"card-form", Severity::error, "", place, what, why, hint});
    }

    bool read_head(const CsvRecord& head) {
        bool all = true;
        for (std::size_t k = 0; k < head.size(); ++k) {
            const std::string name = lower_trimmed(head[k].text);
            if (columns_.contains(name)) {
                error(head[k].place, "there is more than one column `" + sanitize_for_terminal(name) + "`", "", "");
                all = false;
            }
            columns_.emplace(name, k);
        }
        for (const char* needed : {"model", "item", "where", "expected", "reading"}) {
            if (columns_.contains(needed)) continue;
            all = false;
            error(head.front().place, std::string("the card has no column `") + needed + "`",
                  "its first line names the columns", "leave the first line as lanyard card wrote it");
        }
        return all;
    }

    const CsvField* cell(const CsvRecord& line, const std::string& column) const {
        const std::size_t k = columns_.at(column);
        return k < line.size() ? &line[k] : nullptr;
    }

    void read_line(const CsvRecord& line) {
        if (line.size() != columns_.size()) {
            error(line.front().place,
                  "this line has " + counted(std::ssize(line), "field") + ", the first line has " +
                      std::to_string(columns_.size()),
                  "",
                  std::string("a field that contains a ") + (separator_ == ';' ? "semicolon" : "comma") +
                      " needs quotes around it");
            return;
        }
        const CsvField& item = *cell(line, "item");
        const std::string number = lower_trimmed(item.text);
        if (number.empty()) return;  // a step at which nothing is read
        const CsvField& model = *cell(line, "model");
        if (!is_of_this_card(model)) return;
        const auto known = known_.find(number);
        if (known == known_.end()) {
            error(item.place, "the card has no item `" + sanitize_for_terminal(item.text) + "`",
                  "its items are 1 .. " + std::to_string(known_.size()), "");
            return;
        }
        const auto [first, is_new] = seen_.emplace(number, item.place.line);
        if (!is_new) {
            error(item.place, "item " + number + " appears again here",
                  "line " + std::to_string(first->second) + " has it too", "one line for each item");
            return;
        }
        if (!is_unchanged(line, *known->second.reading)) return;
        take(known->second, *cell(line, "reading"));
    }

    bool is_of_this_card(const CsvField& model) {
        const std::string found = lower_trimmed(model.text);
        if (found == mark_.text()) return true;
        if (found.starts_with(mark_.model + "-"))
            error(model.place,
                  "this line belongs to another card of this model: `" + sanitize_for_terminal(model.text) + "`",
                  "the card made now is " + mark_.text() +
                      "; other limits or another version of lanyard make a different card",
                  "use the --work that the card was made with; --time cuts off differently each time");
        else
            error(model.place, "this line belongs to another model: `" + sanitize_for_terminal(model.text) + "`",
                  "the model given has SHA-256 " + mark_.model + "...", "use the card that was made from this file");
        return false;
    }

    bool is_unchanged(const CsvRecord& line, const CardReading& r) {
        const CsvField &where = *cell(line, "where"), &expected = *cell(line, "expected");
        const bool same_place = lower_trimmed(where.text) == lower_trimmed(sanitize_for_terminal(r.where));
        const bool same_value =
            lower_trimmed(with_decimal_point(expected.text, separator_)) == lower_trimmed(r.expected);
        if (same_place && same_value) return true;
        error(same_place ? expected.place : where.place, "item " + std::to_string(r.number) + " is not as on the card",
              "the card says " + sanitize_for_terminal(r.where) + ": " + r.expected,
              "write only into the column `reading`, or make the card again");
        return false;
    }

    void take(const Known& known, const CsvField& field) {
        const std::string text = lower_trimmed(field.text);
        if (text.empty()) return;
        const auto agreed = agrees(*known.reading, text);
        if (!agreed) {
            error(field.place,
                  "`" + sanitize_for_terminal(field.text) + "` is not a reading of item " +
                      std::to_string(known.reading->number),
                  "", hint_for(*known.reading));
            return;
        }
        ++out_.read;
        --out_.missing;
        if (*agreed) return;
        if (known.reading->either) {
            ++out_.on_threshold;
            return;
        }
        out_.wrong.push_back(
            {known.reading, known.step, sanitize_for_terminal(field.text), field.place, claims_of(*known.reading)});
    }

    static std::string hint_for(const CardReading& r) {
        if (r.kind == LookKind::state) return "on or off";
        return r.kind == LookKind::stopwatch ? "a time in seconds: 4.1"
                                             : "a number in the unit of `" + r.expected + "`";
    }

    std::optional<bool> agrees(const CardReading& r, const std::string& text) const {
        if (r.kind == LookKind::state) {
            const auto on = on_or_off(text);
            return on ? std::optional(*on == r.is_on) : std::nullopt;
        }
        if (r.kind == LookKind::stopwatch) {
            const auto x = number_in(text, "s");
            return x ? std::optional(r.low - hand_time <= *x && *x <= r.high + hand_time) : std::nullopt;
        }
        const Unit unit = sim::unit_of(m_, r.signal);
        const auto x = number_in(text, lower_trimmed(unit.symbol));
        if (!x) return std::nullopt;
        const Rational si = to_si(*x, unit, m_.signal(r.signal).type.difference);
        // A hundredth more or less is no wiring (common practice).
        const Rational slack = abs(r.high) / 100;
        return r.low - slack <= si && si <= r.high + slack;
    }

    std::vector<ClaimId> claims_of(const CardReading& r) const {
        std::vector<ClaimId> out;
        for (const ClaimId k : m_.claims.ids()) {
            const Cone cone = cone_of(m_, m_.claims[k].condition, k);
            const bool has = cone.has(r.signal) ||
                             std::any_of(r.tests.begin(), r.tests.end(), [&](SignalId id) { return cone.has(id); });
            if (has) out.push_back(k);
        }
        return out;
    }

    const Model& m_;
    const SourceText& source_;
    const CardMark mark_;
    FilledCard out_;
    char separator_ = ',';
    std::map<std::string, std::size_t> columns_;
    std::map<std::string, Known> known_;
    std::map<std::string, std::size_t> seen_;
};

std::string tested_names(const Model& m, const std::vector<SignalId>& ids) {
    std::string out;
    for (const SignalId id : ids) out += (out.empty() ? "" : ", ") + m.name_of(id);
    return out;
}

std::string wrong_text(const Model& m, const FilledCard::Wrong& w, const SourceText& source) {
    const CardReading& r = *w.reading;
    std::string out = "\nitem " + std::to_string(r.number) + ", step " + std::to_string(w.step->number) +
                      ": DISAGREES, " + source.name() + ":" + std::to_string(w.place.line) + ":" +
                      std::to_string(w.place.column) + "\n";
    constexpr std::size_t left = 14;
    out += labelled("  look at", left, sanitize_for_terminal((r.terminal.empty() ? "" : r.terminal + " ") + r.where));
    out += labelled("  expected", left, r.expected);
    out += labelled("  found", left, w.found);
    if (!r.tests.empty()) out += labelled("  shows", left, sanitize_for_terminal(tested_names(m, r.tests)));
    std::string claims;
    for (const ClaimId c : w.claims) claims += (claims.empty() ? "" : "; ") + m.claims[c].id;
    return out + labelled("  claims", left, claims.empty() ? "none depends on it" : sanitize_for_terminal(claims));
}

}  // namespace

FilledCard read_filled_card(const Model& model, const Card& card, const SourceText& source) {
    return FilledReader(model, card, source).read();
}

std::string filled_card_text(const Model& m, const Card& card, const FilledCard& filled, const SourceText& source) {
    std::string out = std::to_string(filled.read) + " of " + counted(static_cast<long>(card.readings), "reading") +
                      " taken: " + std::to_string(filled.read - filled.wrong.size()) + " agree, " +
                      std::to_string(filled.wrong.size()) + " disagree; " + std::to_string(filled.missing) +
                      " missing\n";
    if (filled.on_threshold > 0)
        out += counted(static_cast<long>(filled.on_threshold), "reading") +
               " exactly at a threshold shows the other side, within the accuracy of the sensor\n";
    for (const auto& w : filled.wrong) out += wrong_text(m, w, source);
    std::set<ClaimId> lost;
    for (const auto& w : filled.wrong) lost.insert(w.claims.begin(), w.claims.end());
    if (!filled.wrong.empty() && lost.empty()) out += "\nNo claim depends on what disagrees.\n";
    if (lost.empty()) return out;
    out +=
        "\nDo not rely on these any more, whatever their verdicts: the car differs from the model in something that "
        "these " +
        counted(std::ssize(lost), "claim") + " can depend on\n";
    for (const ClaimId c : lost) out += "  " + sanitize_for_terminal(m.claims[c].id) + "\n";
    return out;
}

}  // namespace lanyard::report
