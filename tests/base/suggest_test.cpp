#include "base/suggest.hpp"

#include <catch2/catch.hpp>

using namespace lanyard::base;

TEST_CASE("one mistake of each kind finds its word") {
    const std::vector<std::string> names{"coolant", "oil", "starter", "fuel_pump"};
    CHECK(nearest("colant", names) == "coolant");
    CHECK(nearest("coolannt", names) == "coolant");
    CHECK(nearest("koolant", names) == "coolant");
    CHECK(nearest("colant", names) == "coolant");
    CHECK(nearest("oli", names) == "oil");
    CHECK(nearest("fule_pmup", names) == "fuel_pump");
    CHECK(nearest("starter", names) == "starter");
}

TEST_CASE("what is too far away is no suggestion") {
    const std::vector<std::string> names{"coolant", "oil", "starter"};
    CHECK_FALSE(nearest("battery", names));
    CHECK_FALSE(nearest("ab", names));
    CHECK_FALSE(nearest("", names));
    CHECK_FALSE(nearest("oil", {}));
    // two mistakes in three letters
    CHECK_FALSE(nearest("oxx", names));
}

TEST_CASE("a short word may have one mistake, a longer one a third") {
    CHECK(nearest("a", {"b"}) == "b");
    CHECK(nearest("abcdef", {"abcdxy"}) == "abcdxy");
    CHECK_FALSE(nearest("abcdef", {"abcxyz"}));
}

TEST_CASE("ties go to the first, nearer ones win") {
    CHECK(nearest("fan3", {"fan1", "fan2"}) == "fan1");
    CHECK(nearest("engine_sped", {"engine_spot", "engine_speed"}) == "engine_speed");
}

TEST_CASE("very long words are not looked up") {
    const std::string word(100000, 'a');
    CHECK_FALSE(nearest(word, {word}));
}
