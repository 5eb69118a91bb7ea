// Comma-separated values (RFC 4180: cells may stand in double quotes). The first line is the head.
#include <algorithm>

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
        const std::string& text = r_.source.text();
        std::size_t number = 0;
        for (std::size_t from = 0; from < text.size();) {
            const std::size_t end = std::min(text.find('\n', from), text.size());
            ++number;
            const std::string line = r_.source.line(number);
            if (line.find_first_not_of(" \t") != std::string::npos && line[0] != '#') read_line(line, number);
            if (r_.out.has_errors() && columns_.empty()) return {};
            from = end + 1;
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

    // The cells of a line, quotes taken off.
    std::vector<LocatedText> cells(const std::string& line, std::size_t number) const {
        std::vector<LocatedText> out;
        std::size_t from = 0;
        while (from <= line.size()) {
            bool quoted = false;
            std::size_t end = from;
            while (end < line.size() && (quoted || line[end] != ',')) quoted ^= line[end++] == '"';
            std::size_t begin = from;
            std::string text = trimmed(line.substr(from, end - from), begin);
            if (text.size() >= 2 && text.front() == '"' && text.back() == '"') {
                text = text.substr(1, text.size() - 2);
                ++begin;
            }
            out.push_back({text, {number, begin + 1, std::max<std::size_t>(text.size(), 1)}, false, ""});
            from = end + 1;
        }
        return out;
    }

    void read_line(const std::string& line, std::size_t number) {
        const auto list = cells(line, number);
        if (columns_.empty()) {
            for (const auto& cell : list) columns_.push_back(read_head(cell));
            check_head(list[0]);
        } else {
            read_change(list);
        }
    }

    Head read_head(LocatedText cell) const {
        Head h;
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
            if (!h.signal || list[k].text.empty()) continue;
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
