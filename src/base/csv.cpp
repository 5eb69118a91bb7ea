#include "base/csv.hpp"

#include <algorithm>

#include "base/rational.hpp"

namespace lanyard::base {

namespace {

constexpr const char* formula_signs = "=+-@\t\r";
constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

bool begins_a_formula(const std::string& text) {
    return !text.empty() && std::string(formula_signs).find(text.front()) != std::string::npos && !parse_decimal(text);
}

std::string quoted_if_needed(const std::string& text, char separator) {
    if (text.find_first_of(std::string("\"\r\n") + separator) == std::string::npos) return text;
    std::string out = "\"";
    for (const char c : text) out += c == '"' ? std::string("\"\"") : std::string(1, c);
    return out + "\"";
}

std::string field(const std::string& text, char separator) {
    return quoted_if_needed(begins_a_formula(text) ? "'" + text : text, separator);
}

std::string semicolon_field(const std::string& text) {
    if (!parse_decimal(text)) return field(text, ';');
    std::string number = text;
    std::replace(number.begin(), number.end(), '.', ',');
    return number;
}

class CsvReader {
 public:
    CsvReader(const SourceText& source, Diagnostics& out, CsvComments comments)
        : source_(source), text_(source.text()), out_(out), comments_(comments) {
        if (text_.starts_with(byte_order_mark)) at_ = byte_order_mark.size();
    }

    CsvTable read() {
        CsvTable table;
        skip_comments();
        find_separator();
        for (skip_comments(); at_ < text_.size(); skip_comments()) {
            CsvRecord record = read_record();
            const bool empty = std::all_of(record.begin(), record.end(), [](const auto& f) { return f.text.empty(); });
            if (!empty) table.records.push_back(std::move(record));
        }
        table.separator = separator_;
        return table;
    }

 private:
    std::size_t line_end() const { return std::min(text_.find_first_of("\r\n", at_), text_.size()); }
    void skip_line() {
        at_ = line_end();
        if (at_ < text_.size() && text_[at_] == '\r') ++at_;
        if (at_ < text_.size() && text_[at_] == '\n') ++at_;
    }
    // And empty lines, which are no records anyway.
    void skip_comments() {
        const bool comments = comments_ == CsvComments::lines;
        while (at_ < text_.size() && (at_line_end() || (comments && text_[at_] == '#'))) skip_line();
    }

    void find_separator() {
        const std::string line = text_.substr(at_, line_end() - at_);
        if (line.size() == 5 && line.starts_with("sep=")) {
            separator_ = line.back();
            return skip_line();
        }
        long most = 0;
        for (const char c : {',', ';', '\t'}) {
            long count = 0;
            bool quoted = false;
            for (const char x : line) {
                quoted ^= x == '"';
                count += x == c && !quoted ? 1 : 0;
            }
            if (count > most) separator_ = c;
            most = std::max(most, count);
        }
    }

    bool at_line_end() const { return at_ >= text_.size() || text_[at_] == '\n' || text_[at_] == '\r'; }

    CsvRecord read_record() {
        CsvRecord record{read_field()};
        while (at_ < text_.size() && text_[at_] == separator_) {
            ++at_;
            record.push_back(read_field());
        }
        skip_line();
        return record;
    }

    CsvField read_field() {
        const std::size_t from = at_;
        CsvField out;
        if (at_ < text_.size() && text_[at_] == '"') {
            ++at_;
            read_quoted(from, out.text);
        }
        const std::size_t behind = at_;
        while (!at_line_end() && text_[at_] != separator_) ++at_;
        const std::string plain = text_.substr(behind, at_ - behind);
        if (behind > from && !plain.empty())
            wrong(behind, "there is something after the closing quote", "write a quote inside quotes twice");
        if (behind == from && plain.find('"') != std::string::npos)
            wrong(from, "there is a quote inside a field that does not begin with one",
                  "put the whole field between quotes and write the quote in it twice");
        if (behind == from) out.text = plain;
        out.place = source_.place_of(from, std::max<std::size_t>(at_ - from, 1));
        if (out.text.size() > 1 && out.text.front() == '\'' && begins_a_formula(out.text.substr(1)))
            out.text.erase(0, 1);
        return out;
    }

    void read_quoted(std::size_t from, std::string& text) {
        for (; at_ < text_.size(); ++at_) {
            if (text_[at_] == '"' && (at_ + 1 >= text_.size() || text_[at_ + 1] != '"')) {
                ++at_;
                return;
            }
            if (text_[at_] == '"') ++at_;
            text += text_[at_];
        }
        wrong(from, "this quote is never closed", "");
    }

    void wrong(std::size_t at, const std::string& what, const std::string& hint) {
        out_.add({"csv-form", Severity::error, "", source_.place_of(at), what, "", hint});
    }

    const SourceText& source_;
    const std::string& text_;
    Diagnostics& out_;
    CsvComments comments_;
    char separator_ = ',';
    std::size_t at_ = 0;
};

}  // namespace

std::string csv_line(const std::vector<std::string>& fields) {
    std::string out;
    for (std::size_t i = 0; i < fields.size(); ++i) out += (i ? "," : "") + field(fields[i], ',');
    return out + "\r\n";
}

CsvTable read_csv(const SourceText& source, Diagnostics& out, CsvComments comments) {
    return CsvReader(source, out, comments).read();
}

std::string with_decimal_point(const std::string& cell, char separator) {
    const std::size_t comma = cell.find(',');
    if (separator == ',' || comma == std::string::npos || cell.find('.') != std::string::npos) return cell;
    std::string out = cell;
    out[comma] = '.';
    const std::size_t end = std::min(out.find_first_not_of("0123456789.+-"), out.size());
    return parse_decimal(out.substr(0, end)) ? out : cell;
}

std::string semicolon_csv(const std::string& csv) {
    Diagnostics ignored;
    std::string out(byte_order_mark);
    for (const CsvRecord& record : read_csv(SourceText("", csv), ignored).records) {
        for (std::size_t i = 0; i < record.size(); ++i) out += (i ? ";" : "") + semicolon_field(record[i].text);
        out += "\r\n";
    }
    return out;
}

}  // namespace lanyard::base
