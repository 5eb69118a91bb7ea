// One call shared: the shares and the call with all of their parts.
#include <catch2/catch.hpp>

#include <lanyard/lanyard.hpp>

#include "../scratch.hpp"
#include "small_model.hpp"

namespace api = lanyard::api;
namespace test = lanyard::test;

namespace {

api::Model loaded(const std::filesystem::path& file) { return std::get<api::Model>(api::load(file)); }

api::CheckOptions share(unsigned number, unsigned of, const std::filesystem::path& part) {
    api::CheckOptions options;
    options.share = {number, of, part, {"all of it"}};
    return options;
}

}  // namespace

TEST_CASE("shares judge their claims, and their parts make one result") {
    const test::Scratch scratch("parts");
    scratch.write("small.json", test::small_text);
    const api::Model model = loaded(scratch.path / "small.json");
    const auto part = [&](unsigned n) { return scratch.path / ("part-" + std::to_string(n)); };
    std::vector<std::string> judged;
    for (const unsigned n : {2U, 1U}) {
        const api::Results r = test::checked(model, share(n, 2, part(n)));
        CHECK(r.keep_error.empty());
        for (const auto& c : r.claims) judged.push_back(c.id);
    }
    CHECK(judged == std::vector<std::string>{"dark", "low in time", "follows", "waits in vain"});

    const auto read = api::read_parts({part(2), part(1)});
    REQUIRE(std::holds_alternative<api::Parts>(read));
    const auto& parts = std::get<api::Parts>(read);
    CHECK(parts.asked == std::vector<std::string>{"all of it"});
    CHECK(parts.model == scratch.path / "small.json");
    CHECK(parts.warnings.empty());
    api::CheckOptions all;
    all.parts = parts;
    const std::string whole = api::write(test::checked(model), api::Format::json);
    CHECK(api::write(test::checked(model, all), api::Format::json) == whole);

    // Not of the model that it is given to.
    scratch.write("other.json", std::string(test::small_text) + "\n");
    const auto other = api::check(loaded(scratch.path / "other.json"), all);
    REQUIRE(std::holds_alternative<api::Rejected>(other));
    CHECK(std::get<api::Rejected>(other).because == api::Rejected::Because::content);
}

TEST_CASE("what is no share and what are no parts is refused as a value") {
    const test::Scratch scratch("no-parts");
    const api::Model model = test::small_model();
    for (const auto& [number, of] :
         {std::pair(0U, 2U), std::pair(3U, 2U), std::pair(0U, 0U), std::pair(1U, 100'001U)}) {
        const auto refused = api::check(model, share(number, of, scratch.path / "part"));
        REQUIRE(std::holds_alternative<api::Rejected>(refused));
        CHECK(std::get<api::Rejected>(refused).because == api::Rejected::Because::request);
    }
    api::CheckOptions both = share(1, 1, scratch.path / "part");
    both.keep = scratch.path / "kept";
    CHECK(std::holds_alternative<api::Rejected>(api::check(model, both)));
    CHECK_FALSE(std::filesystem::exists(scratch.path / "part"));
    const auto none = api::read_parts({});
    REQUIRE(std::holds_alternative<api::Rejected>(none));
    CHECK(std::get<api::Rejected>(none).text == "lanyard: no part is given\n");
    const auto gone = api::read_parts({scratch.path / "gone"});
    REQUIRE(std::holds_alternative<api::Rejected>(gone));
    CHECK(std::get<api::Rejected>(gone).because == api::Rejected::Because::unreadable);
}
