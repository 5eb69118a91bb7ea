// A script as a table (base/csv.hpp). The first line is the head.
#include <algorithm>

#include "base/csv.hpp"
#include "sim/script_names.hpp"

namespace lanyard::sim {

namespace {

std::string trimmed(const std::string& text, std::size_t& from) {
    const auto begin = text.find_first_not_of(" \t");
    if (begin == std::string::npos) return {};
    from += begin;
    return text.substr(begin, text.find_last_not_of(" \t") + 1 - begin);
}

class CsvScript {
 public:
    explicit CsvScript(const ScriptReading& r) : r_(r) {}

    std::optional<Script> read() {
        const CsvTable table = read_csv(r_.source, r_.out, CsvComments::lines);
        for (const CsvRecord& record : table.records) {
            read_line(cells(record, table.separator));
            if (r_.out.has_errors() && columns_.empty()) return {};
        }
        if (columns_.empty()) missing_head();
        if (r_.out.has_errors()) return {};
        return gather(r_, settings_, last_ + r_.model.scan);
    }

 private:
    struct Head {
        bool is_time = false;
        std::optional<SignalId> signal;
        std::string unit;
    };

    void missing_head() const {
        r_.error("script-form", {"", {1, 1, 1}, false, ""}, "this script is empty", "",
                 "the first line is time,NAME,..., each other line a change");
    }

    // With blanks around them taken off, and a decimal point in numbers.
    static std::vector<LocatedText> cells(const CsvRecord& record, char separator) {
        std::vector<LocatedText> out;
        for (const CsvField& field : record) {
            std::size_t begin = 0;
            const std::string text = with_decimal_point(trimmed(field.text, begin), separator);
            Place place = field.place;
            place.column += begin;
            place.length = std::max<std::size_t>(text.size(), 1);
            out.push_back({text, place, false, ""});
        }
        return out;
    }

    void read_line(const std::vector<LocatedText>& list) {
        if (columns_.empty()) {
            for (const auto& cell : list) columns_.push_back(read_head(cell));
            check_head(list[0]);
        } else {
            read_change(list);
        }
    }

    Head read_head(LocatedText cell) const {
        Head h;
        if (cell.text.empty()) return h;  // a column to the right of the table
        const auto bracket = cell.text.find('[');
        if (bracket != std::string::npos && cell.text.back() == ']') {
            h.unit = cell.text.substr(bracket + 1, cell.text.size() - bracket - 2);
            std::size_t ignored = 0;
            cell.text = trimmed(cell.text.substr(0, bracket), ignored);
        }
        h.is_time = cell.text == "time";
        if (h.is_time && h.unit.empty()) h.unit = "s";
        if (!h.is_time) h.signal = settable(r_, cell);
        return h;
    }

    void check_head(const LocatedText& first) const {
        const auto times = std::count_if(columns_.begin(), columns_.end(), [](const Head& h) { return h.is_time; });
        if (times == 1) return;
        r_.error("script-form", first, times == 0 ? "no column is called time" : "more than one column is called time",
                 "every line needs its time", "the first line is time,NAME,...");
    }

    std::optional<Rational> time_of(const std::vector<LocatedText>& list) const {
        for (std::size_t k = 0; k < columns_.size(); ++k) {
            if (!columns_[k].is_time) continue;
            LocatedText text = list[k];
            if (parse_decimal(text.text)) text.text += ' ' + columns_[k].unit;
            return script_time(r_, text, "this change");
        }
        return {};
    }

    void read_change(const std::vector<LocatedText>& list) {
        if (list.size() != columns_.size()) {
            r_.error("script-form", list[0],
                     "this line has " + std::to_string(list.size()) + (list.size() == 1 ? " cell" : " cells") +
                         ", the head has " + std::to_string(columns_.size()));
            return;
        }
        const auto at = time_of(list);
        if (at && *at > last_) last_ = *at;
        for (std::size_t k = 0; k < list.size(); ++k) {
            const Head& h = columns_[k];
            if (list[k].text.empty()) continue;
            if (!h.signal && !h.is_time)
                r_.error("script-form", list[k], "this cell has no name at the head of its column");
            if (!h.signal) continue;
            const auto value = setting_value(r_, *h.signal, list[k], h.unit);
            if (at && value) settings_.push_back({*at, {*h.signal, *value, list[k].place, ""}});
        }
    }

    const ScriptReading& r_;
    std::vector<Head> columns_;
    std::vector<TimedSetting> settings_;
    Rational last_ = 0;
};

}  // namespace

std::optional<Script> read_csv_script(const ScriptReading& r) { return CsvScript(r).read(); }

}  // namespace lanyard::sim
