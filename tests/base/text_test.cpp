#include <catch2/catch.hpp>
#include <string>

#include "base/csv.hpp"
#include "base/xml_text.hpp"

using namespace lanyard::base;

// Source: XML 1.0 (fifth edition), 2.2 (characters), 2.4 (escapes); The Unicode Standard, table 3-7.
TEST_CASE("text in XML: escapes, and nothing that XML or UTF-8 does not have") {
    CHECK(xml_text("a < b && \"c\" > d") == "a &lt; b &amp;&amp; &quot;c&quot; &gt; d");
    CHECK(xml_text(std::string("a\n\t\x01\0z", 6)) == "a    z");
    CHECK(xml_text("\xC3\xA4 \xE2\x82\xAC \xF0\x9F\x94\xA7") == "\xC3\xA4 \xE2\x82\xAC \xF0\x9F\x94\xA7");
    const std::string bad = "\xEF\xBF\xBD";
    CHECK(xml_text("\xFF") == bad);
    CHECK(xml_text("\xC3") == bad);
    CHECK(xml_text("\xC0\xAF") == bad + bad);                      // overlong
    CHECK(xml_text("\xED\xA0\x80") == bad + bad + bad);            // surrogate
    CHECK(xml_text("\xEF\xBF\xBE") == bad + bad + bad);            // U+FFFE
    CHECK(xml_text("\xF4\x90\x80\x80") == bad + bad + bad + bad);  // above U+10FFFF
}

TEST_CASE("text in XML that is shown as it stands keeps its lines") {
    CHECK(xml_lines("a < b\n\tc\r\x01") == "a &lt; b\n\tc  ");
    CHECK(xml_lines("]]>") == "]]&gt;");
}

// Source: RFC 4180, section 2, rules 1, 5, 6 and 7.
TEST_CASE("a record of comma-separated values") {
    CHECK(csv_line({"a", "", "b c"}) == "a,,b c\r\n");
    CHECK(csv_line({"a,b", "say \"no\"", "two\nlines"}) == "\"a,b\",\"say \"\"no\"\"\",\"two\nlines\"\r\n");
}

// Source: OWASP, "CSV Injection" (signs and apostrophe; from memory).
TEST_CASE("nothing of a model becomes a formula in a spreadsheet; numbers stay numbers") {
    CHECK(csv_line({"=1+1", "+a", "-a", "@a", "\ta"}) == "'=1+1,'+a,'-a,'@a,'\ta\r\n");
    CHECK(csv_line({"-5", "-0.5", "- 5", "a=b"}) == "-5,-0.5,'- 5,a=b\r\n");
    CHECK(csv_line({"=\"a\",b"}) == "\"'=\"\"a\"\",b\"\r\n");
}

// Source: RFC 4180, section 2.
TEST_CASE("records are read as they were written") {
    const std::vector<std::string> fields{"a", "", "b,c", "d \"e\"", "f\ng", "=h", "'", "'i"};
    Diagnostics out;
    const SourceText source("t.csv", csv_line({"x"}) + "\r\n" + csv_line(fields) + "last,line");
    const auto records = read_csv(source, out).records;
    CHECK(out.list().empty());
    REQUIRE(records.size() == 3);
    std::vector<std::string> back;
    for (const auto& f : records[1]) back.push_back(f.text);
    CHECK(back == fields);
    CHECK(records[1][2].place.line == 3);
    CHECK(records[1][2].place.column == 4);
    CHECK(records[2][1].text == "line");
}

// What spreadsheets write where the comma is the decimal sign.
TEST_CASE("semicolons, tabs, a byte order mark, a line that names the separator, comments") {
    const auto read = [](const std::string& text, CsvComments comments = CsvComments::none) {
        Diagnostics out;
        const SourceText source("t.csv", text);
        const CsvTable table = read_csv(source, out, comments);
        CHECK(out.list().empty());
        std::string all(1, table.separator);
        for (const auto& record : table.records) {
            all += "|";
            for (const auto& field : record) all += "<" + field.text + ">";
        }
        return all;
    };
    CHECK(read("\xEF\xBB\xBFtime;key\r\n0,5;on\r\n") == ";|<time><key>|<0,5><on>");
    CHECK(read("time\tkey\n0.5\ton\n") == "\t|<time><key>|<0.5><on>");
    CHECK(read("sep=;\r\na,b;c\r\n;\r\n1;2\r\n") == ";|<a,b><c>|<1><2>");
    CHECK(read("\"a;b\",c,d\n") == ",|<a;b><c><d>");
    CHECK(read("# a \"note\", with; signs\ntime;key\n# more\n1;2\n", CsvComments::lines) == ";|<time><key>|<1><2>");
    CHECK(read("one\ntwo\n") == ",|<one>|<two>");
}

TEST_CASE("a decimal comma is one only where the comma does not separate") {
    CHECK(with_decimal_point("0,5", ';') == "0.5");
    CHECK(with_decimal_point("-0,5 s", ';') == "-0.5 s");
    CHECK(with_decimal_point("0,5", ',') == "0,5");
    CHECK(with_decimal_point("1.000,5", ';') == "1.000,5");
    CHECK(with_decimal_point("on, off", ';') == "on, off");
}

TEST_CASE("a table for spreadsheets with a decimal comma, and back") {
    const std::string written = semicolon_csv(csv_line({"time [s]", "a;b", "c,d"}) +
                                              csv_line({"-0.5", "=x", "1.5 bar"}) + csv_line({"2", "", ""}));
    CHECK(written == "\xEF\xBB\xBFtime [s];\"a;b\";c,d\r\n-0,5;'=x;1.5 bar\r\n2;;\r\n");
    Diagnostics out;
    const SourceText source("t.csv", written);
    const CsvTable table = read_csv(source, out);
    CHECK(out.list().empty());
    CHECK(with_decimal_point(table.records[1][0].text, table.separator) == "-0.5");
    CHECK(table.records[1][1].text == "=x");
}
