#include "base/diagnostic.hpp"

#include <catch2/catch.hpp>

using namespace lanyard::base;

namespace {

Diagnostic error_at(Place place) { return {"some-code", Severity::error, "/a", place, "this is wrong", "", ""}; }

}  // namespace

TEST_CASE("offsets become lines and columns") {
    const SourceText source("car.json", "one\ntwo\r\nthree");
    CHECK(source.place_of(0) == Place{1, 1, 1});
    CHECK(source.place_of(3) == Place{1, 4, 1});
    CHECK(source.place_of(4, 3) == Place{2, 1, 3});
    CHECK(source.place_of(9) == Place{3, 1, 1});
    CHECK(source.place_of(13) == Place{3, 5, 1});
    CHECK(source.place_of(1000) == Place{3, 6, 1});
    CHECK(source.line(1) == "one");
    CHECK(source.line(2) == "two");
    CHECK(source.line(3) == "three");
    CHECK(source.line(0).empty());
    CHECK(source.line(4).empty());
}

TEST_CASE("a source without text has a first line") {
    CHECK(SourceText("a", "").place_of(0) == Place{1, 1, 1});
    CHECK(SourceText().place_of(7) == Place{1, 1, 1});
    CHECK(SourceText().line(1).empty());
}

TEST_CASE("a diagnostic with everything") {
    const SourceText source("car.json", "{\n    \"hot\": \"oli > 15 psi\"\n}\n");
    const Diagnostic d{"unknown-name",      Severity::error, "/logic/hot",         {2, 13, 3},
                       "there is no `oli`", "it is needed",  "did you mean `oil`?"};
    CHECK(render(d, source) ==
          "car.json:2:13: error: there is no `oli` [unknown-name]\n"
          "  \"hot\": \"oli > 15 psi\"\n"
          "          ^~~\n"
          "  it is needed\n"
          "  hint: did you mean `oil`?\n");
}

TEST_CASE("a warning without a place") {
    const SourceText source("car.json", "{}");
    Diagnostic d = error_at({0, 0, 1});
    d.severity = Severity::warning;
    CHECK(render(d, source) == "car.json: warning: this is wrong [some-code]\n");
}

TEST_CASE("several are separated by an empty line, in the order of their places") {
    const SourceText source("a", "x\ny");
    Diagnostics all;
    CHECK_FALSE(all.has_errors());
    all.add(error_at({2, 1, 1}));
    all.add(error_at({1, 1, 1}));
    CHECK(all.has_errors());
    all.sort_by_place();
    CHECK(render(all, source) ==
          "a:1:1: error: this is wrong [some-code]\n  x\n  ^\n\n"
          "a:2:1: error: this is wrong [some-code]\n  y\n  ^\n");
}

TEST_CASE("sorting keeps the order of what stands in one place") {
    Diagnostics all;
    for (const char* code : {"first", "second", "third"}) {
        Diagnostic d = error_at({3, 3, 1});
        d.code = code;
        all.add(d);
    }
    all.sort_by_place();
    CHECK(all.list()[0].code == "first");
    CHECK(all.list()[2].code == "third");
}

TEST_CASE("only warnings are no errors") {
    Diagnostics all;
    Diagnostic d = error_at({1, 1, 1});
    d.severity = Severity::warning;
    all.add(d);
    CHECK_FALSE(all.has_errors());
}

TEST_CASE("the caret stands under characters, not under bytes") {
    const SourceText source("a", "\"\xC3\xB6l\xC3\xB6l\": x");
    CHECK(render(error_at({1, 10, 1}), source) ==
          "a:1:10: error: this is wrong [some-code]\n  \"\xC3\xB6l\xC3\xB6l\": x\n         ^\n");
    CHECK(render(error_at({1, 2, 6}), source) ==
          "a:1:2: error: this is wrong [some-code]\n  \"\xC3\xB6l\xC3\xB6l\": x\n   ^~~~\n");
}

TEST_CASE("the end of a line can be pointed at, and marks end with the line") {
    const SourceText source("a", "ab\ncd");
    CHECK(render(error_at({1, 3, 1}), source) == "a:1:3: error: this is wrong [some-code]\n  ab\n    ^\n");
    CHECK(render(error_at({1, 1, 50}), source) == "a:1:1: error: this is wrong [some-code]\n  ab\n  ^~\n");
    CHECK(render(error_at({9, 1, 1}), source) == "a:9:1: error: this is wrong [some-code]\n");
    CHECK(render(error_at({1, 9, 1}), source) == "a:1:9: error: this is wrong [some-code]\n");
}

TEST_CASE("of a very long line the neighbourhood is shown") {
    const std::string line = std::string(5000, 'a') + "HERE" + std::string(5000, 'b');
    const std::string text = render(error_at({1, 5001, 4}), SourceText("a", line));
    CHECK(text == "a:1:5001: error: this is wrong [some-code]\n  ... " + std::string(80, 'a') + "HERE" +
                      std::string(36, 'b') + " ...\n  " + std::string(84, ' ') + "^~~~\n");
}

TEST_CASE("control characters do not reach the terminal") {
    const SourceText source("a", "x\x1B[31m\ty");
    Diagnostic d = error_at({1, 8, 1});
    d.what = "bad \x1B name";
    CHECK(render(d, source) == "a:1:8: error: bad ? name [some-code]\n  x?[31m y\n         ^\n");
}

TEST_CASE("characters that turn the direction of writing do not reach the terminal either") {
    const SourceText source("a", "a\xE2\x80\xAE\xC2\x9B\xE2\x81\xA6z");
    CHECK(render(error_at({1, 10, 1}), source) == "a:1:10: error: this is wrong [some-code]\n  a???z\n      ^\n");
}

TEST_CASE("every place in any text can be rendered") {
    const SourceText source("a", "\t \xC3\xB6\n\n  \xFF\xFE\r\n" + std::string(300, '\xC3'));
    for (std::size_t line = 0; line < 6; ++line)
        for (std::size_t column = 0; column < 310; ++column)
            for (std::size_t length : {0, 1, 400})
                CHECK_FALSE(render(error_at({line, column, length}), source).empty());
}
