#include "cli/terminal.hpp"

#include <catch2/catch.hpp>

using namespace lanyard::cli;

TEST_CASE("widths count characters, not bytes") {
    CHECK(width_of("abc") == 3);
    CHECK(width_of("K\xC3\xBChler") == 6);
    CHECK(padded("\xC3\xBC", 3) == "\xC3\xBC  ");
    CHECK(cut_to("a\xC3\xBCz", 2) == "a\xC3\xBC");
    CHECK(cut_to("abc", 9) == "abc");
}

TEST_CASE("texts are wrapped between words") {
    CHECK(wrapped("one two three", 2, 10) == "  one two\n  three\n");
    CHECK(wrapped("", 2, 10).empty());
    CHECK(wrapped("immeasurably long", 0, 5) == "immeasurably\nlong\n");
}

TEST_CASE("two columns") {
    CHECK(two_columns("ab", 4, "one two three", 11) == "ab  one two\n    three\n");
    CHECK(two_columns("abcdef", 4, "one", 11) == "abcdef\n    one\n");
}

TEST_CASE("control characters are taken out") { CHECK(harmless("a\x1b[0m\x7F") == "a?[0m?"); }

TEST_CASE("so are marks of writing direction and C1 controls, and no other character") {
    CHECK(harmless("a\u202Eb\u2066c\u2069\u200F\u061C\u009Bd") == "a?b?c????d");
    CHECK(harmless("\u00D6l \u2013 \u2026 \U0001F527") == "\u00D6l \u2013 \u2026 \U0001F527");
}

TEST_CASE("colour where it was asked for") {
    CHECK(wants_colour("always"));
    CHECK_FALSE(wants_colour("never"));
    CHECK(Painter(false).paint(Tint::bad, "x") == "x");
    CHECK(Painter(true).paint(Tint::plain, "x") == "x");
    CHECK(Painter(true).paint(Tint::bad, "x") != "x");
}
