// Tables as comma-separated values (RFC 4180).
#pragma once

#include <string>
#include <vector>

#include "base/diagnostic.hpp"

namespace lanyard {

// One record with its line end. A field with a comma, a quote or a line end stands between quotes. A field that a
// spreadsheet would take for a formula - it begins with = + - @, a tab or a carriage return, and is no plain number -
// gets an apostrophe in front, which spreadsheets take for "this is text" (OWASP, "CSV Injection").
std::string csv_line(const std::vector<std::string>& fields);

struct CsvField {
    std::string text;  // without quotes, and without that apostrophe
    Place place;
};
using CsvRecord = std::vector<CsvField>;

// All records that are not empty. What is no CSV is reported with its place, and the rest is read all the same.
std::vector<CsvRecord> read_csv(const SourceText& source, Diagnostics& out);

}  // namespace lanyard
