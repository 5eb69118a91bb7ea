#include <catch2/catch.hpp>
#include <string>

#include "base/csv.hpp"
#include "base/xml_text.hpp"

using namespace lanyard;

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
