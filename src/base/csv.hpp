// Tables as comma-separated values (RFC 4180), and as spreadsheets write them where the comma is the decimal sign.
#pragma once

#include <string>
#include <vector>

#include "base/diagnostic.hpp"

namespace lanyard::base {

// One record with its line end. A field with a comma, a quote or a line end stands between quotes. A field that a
// spreadsheet would take for a formula - it begins with = + - @, a tab or a carriage return, and is no plain number -
// gets an apostrophe in front, which spreadsheets take for "this is text" (OWASP, "CSV Injection").
std::string csv_line(const std::vector<std::string>& fields);

struct CsvField {
    std::string text;  // without quotes, and without that apostrophe
    Place place;
};
using CsvRecord = std::vector<CsvField>;

struct CsvTable {
    std::vector<CsvRecord> records;  // that are not empty
    char separator = ',';
};

enum class CsvComments { none, lines };  // lines that begin with #

// The separator is a comma, a semicolon or a tab: whichever is most often in the first line, or what a line `sep=;` in
// front of it says. A byte order mark is skipped. What is no CSV is reported with its place, and the rest is read all
// the same.
CsvTable read_csv(const SourceText& source, Diagnostics& out, CsvComments comments = CsvComments::none);

// "0.5 s" for "0,5 s", where the comma does not separate: the cell is a number, with or without a unit. Anything else
// stays as it is.
std::string with_decimal_point(const std::string& cell, char separator);

// The same table for spreadsheets of countries with a decimal comma: semicolons, a comma in numbers that stand alone, a
// byte order mark.
std::string semicolon_csv(const std::string& csv);

}  // namespace lanyard::base
