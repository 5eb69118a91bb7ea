#include <catch2/catch.hpp>

#include "page/axis.hpp"
#include "page/document.hpp"
#include "page/markup.hpp"
#include "page/prose.hpp"
#include "page/svg.hpp"

using namespace lanyard::page;

TEST_CASE("base64 of the examples of RFC 4648, section 10") {
    CHECK(base64_of_hex("").empty());
    CHECK(base64_of_hex("66") == "Zg==");
    CHECK(base64_of_hex("666f") == "Zm8=");
    CHECK(base64_of_hex("666f6f") == "Zm9v");
    CHECK(base64_of_hex("666f6f62") == "Zm9vYg==");
    CHECK(base64_of_hex("666f6f6261") == "Zm9vYmE=");
    CHECK(base64_of_hex("666f6f626172") == "Zm9vYmFy");
}

TEST_CASE("text of a model brings no element into the page and turns nothing around") {
    CHECK(text("<b> & \"x\"") == "&lt;b&gt; &amp; &quot;x&quot;");
    CHECK(text("a\xE2\x80\xAE"
               "b\xE2\x81\xA7"
               "c")
              .find("\xE2") == std::string::npos);
    CHECK(tag("td class=\"x\"", "y") == "<td class=\"x\">y</td>");
    CHECK(attribute("title", "\" onload=\"") == " title=\"&quot; onload=&quot;\"");
}

TEST_CASE("a short run is drawn to scale, without a break") {
    const Axis a = axis_of({0, 10, 30, 60}, {false, false, false}, 600);
    CHECK(a.is_break == std::vector<bool>{false, false, false});
    CHECK(a.at == std::vector<int>{0, 100, 300, 600});
    CHECK(a.width == 600);
}

TEST_CASE("a long wait becomes a break, and what is left is to scale") {
    const Axis a = axis_of({0, 1, 100000, 100003}, {false, false, false}, 640);
    CHECK(a.is_break == std::vector<bool>{false, true, false});
    const int one = a.at[1] - a.at[0], three = a.at[3] - a.at[2];
    CHECK(three == 3 * one);
    CHECK(a.at[2] > a.at[1]);
}

TEST_CASE("moments that are left out are a break whatever the scale") {
    CHECK(axis_of({0, 1, 2}, {false, true}, 640).is_break == std::vector<bool>{false, true});
}

TEST_CASE("many near moments stay apart") {
    std::vector<long> scans;
    for (long k = 0; k < 200; ++k) scans.push_back(k);
    const Axis a = axis_of(scans, std::vector<bool>(199, false), 640);
    for (std::size_t k = 1; k < a.at.size(); ++k) REQUIRE(a.at[k] - a.at[k - 1] >= 10);
    CHECK(axis_of({7}, {}, 640).at == std::vector<int>{0});
}

TEST_CASE("prose: headings, paragraphs, lists and marks of CommonMark, the rest as text") {
    CHECK(prose("# A\n\nb **c** `d<`\ne\n\n- f\n  g\n- *h*\n", 1) ==
          "<h2>A</h2>\n<p>b <strong>c</strong> <code>d&lt;</code> e</p>\n<ul>\n<li>f "
          "g</li>\n<li><em>h</em></li>\n</ul>\n");
    CHECK(prose("2 * 3 is 6", 0) == "<p>2 * 3 is 6</p>\n");
}

TEST_CASE("what is drawn too narrow is cut between letters, and whole in its tooltip") {
    const std::string label =
        fitted_label("name", 0, 0, "\xC3\xB6\xC3\xB6\xC3\xB6\xC3\xB6\xC3\xB6\xC3\xB6\xC3\xB6", 28);
    CHECK(label.find("<title>\xC3\xB6\xC3\xB6\xC3\xB6\xC3\xB6\xC3\xB6\xC3\xB6\xC3\xB6</title>") != std::string::npos);
    CHECK(label.find("</title>\xC3\xB6\xC3\xB6\xC3\xB6\xE2\x80\xA6<") != std::string::npos);
}

TEST_CASE("what changes is written as at the last moment") {
    CHECK(changing("part", "012", "x") == "<g class=\"part s2\" data-s=\"012\">x</g>");
    CHECK(changing("part", "11", "x") == "<g class=\"part s1\">x</g>");
}
