#include "base/csv.hpp"

#include <algorithm>

#include "base/rational.hpp"

namespace lanyard {

namespace {

constexpr const char* formula_signs = "=+-@\t\r";

bool begins_a_formula(const std::string& text) {
    return !text.empty() && std::string(formula_signs).find(text.front()) != std::string::npos && !parse_decimal(text);
}

std::string field(const std::string& text) {
    const std::string safe = begins_a_formula(text) ? "'" + text : text;
    if (safe.find_first_of(",\"\r\n") == std::string::npos) return safe;
    std::string out = "\"";
    for (const char c : safe) out += c == '"' ? std::string("\"\"") : std::string(1, c);
    return out + "\"";
}

class CsvReader {
 public:
    CsvReader(const SourceText& source, Diagnostics& out) : source_(source), text_(source.text()), out_(out) {
        if (text_.starts_with("\xEF\xBB\xBF")) at_ = 3;  // some programs write a byte order mark
    }

    std::vector<CsvRecord> read() {
        std::vector<CsvRecord> records;
        while (at_ < text_.size()) {
            CsvRecord record = read_record();
            const bool empty = record.size() == 1 && record.front().text.empty();
            if (!empty) records.push_back(std::move(record));
        }
        return records;
    }

 private:
    bool at_line_end() const { return at_ >= text_.size() || text_[at_] == '\n' || text_[at_] == '\r'; }

    CsvRecord read_record() {
        CsvRecord record{read_field()};
        while (at_ < text_.size() && text_[at_] == ',') {
            ++at_;
            record.push_back(read_field());
        }
        if (at_ < text_.size() && text_[at_] == '\r') ++at_;
        if (at_ < text_.size() && text_[at_] == '\n') ++at_;
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
        while (!at_line_end() && text_[at_] != ',') ++at_;
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
    std::size_t at_ = 0;
};

}  // namespace

std::string csv_line(const std::vector<std::string>& fields) {
    std::string out;
    for (std::size_t i = 0; i < fields.size(); ++i) out += (i ? "," : "") + field(fields[i]);
    return out + "\r\n";
}

std::vector<CsvRecord> read_csv(const SourceText& source, Diagnostics& out) { return CsvReader(source, out).read(); }

}  // namespace lanyard
