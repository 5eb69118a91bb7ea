// What all calls share: refusals as values, stopping one call and no other, versions.
#include <catch2/catch.hpp>
#include <thread>

#include <lanyard/lanyard.hpp>
#include <lanyard/tables.hpp>

#include "../scratch.hpp"
#include "small_model.hpp"

namespace api = lanyard::api;
namespace test = lanyard::test;

TEST_CASE("the version of the headers is that of the library") {
    CHECK(api::version() == LANYARD_VERSION);
    CHECK(api::version() == std::to_string(LANYARD_VERSION_MAJOR) + "." + std::to_string(LANYARD_VERSION_MINOR) + "." +
                                std::to_string(LANYARD_VERSION_PATCH));
}

TEST_CASE("a text is read as a file is") {
    const test::Scratch scratch("api");
    scratch.write("small.json", test::small_text);
    const auto loaded = api::load(scratch.path / "small.json");
    const auto& from_file = std::get<api::Model>(loaded);
    const api::Model from_text = test::small_model();
    CHECK(from_file.sha256() == from_text.sha256());
    CHECK(from_file.heading() == from_text.heading());
    CHECK(from_file.claims().size() == from_text.claims().size());
}

TEST_CASE("what is wrong with a file are values") {
    const auto loaded = api::load_text(
        "{\"lanyard\": 1, \"name\": \"x\",\n \"inputs\": {\"key\": \"maintained\"},\n"
        " \"outputs\": {\"pump\": \"kye\", \"lamp\": \"key + 1 s\"}}",
        "x.json");
    const auto& wrong = std::get<api::Rejected>(loaded);
    CHECK(wrong.because == api::Rejected::Because::content);
    REQUIRE(wrong.diagnostics.size() == 2);
    const api::Diagnostic& first = wrong.diagnostics[0];
    CHECK(first.level == api::Diagnostic::Level::error);
    CHECK(first.code == "unknown-name");
    CHECK(first.line == 3);
    CHECK(first.column == 23);
    CHECK(first.pointer == "/outputs/pump");
    CHECK(first.hint.find("key") != std::string::npos);
    CHECK(wrong.text.starts_with("x.json:3:23: error: " + first.what));
}

TEST_CASE("an unreadable file is a refusal of its own") {
    const auto loaded = api::load("no/such.json");
    CHECK(std::get<api::Rejected>(loaded).because == api::Rejected::Because::unreadable);
    CHECK(std::get<api::Rejected>(loaded).diagnostics.size() == 1);
}

namespace {

template <class Answer>
void check_refused(const Answer& answer, const std::string& what, const std::string& hint) {
    REQUIRE(std::holds_alternative<api::Rejected>(answer));
    const auto& wrong = std::get<api::Rejected>(answer);
    CHECK(wrong.because == api::Rejected::Because::request);
    REQUIRE(wrong.diagnostics.size() == 1);
    CHECK(wrong.diagnostics[0].what == what);
    CHECK(wrong.diagnostics[0].hint == hint);
    CHECK(wrong.text == "lanyard: " + what + "\n  " + hint + "\n");
}

}  // namespace

TEST_CASE("every call refuses an unknown claim with a hint") {
    const api::Model m = test::small_model();
    const std::string id = "folows", what = "the model has no claim \"folows\"", hint = "did you mean \"follows\"?";
    api::CheckOptions check;
    check.claims = {"dark", id};
    check_refused(api::check(m, check), what, hint);
    api::FaultOptions fault;
    fault.claims = {id};
    check_refused(api::faults(m, fault), what, hint);
    api::StudyOptions study;
    study.claims = {id};
    api::MutantOptions mutants;
    mutants.claims = {id};
    check_refused(api::mutants(m, mutants), what, hint);
    check_refused(api::needs(m, study), what, hint);
    api::WhyOptions why;
    why.signal = "pump";
    why.claim = id;
    check_refused(api::why(m, why), what, hint);
    check_refused(api::export_horn(m, id), what, hint);
    check_refused(api::signal_graph(m, id), what, hint);
    check.claims = {"something else"};
    check_refused(api::check(m, check), "the model has no claim \"something else\"",
                  "it has: \"follows\", \"dark\", \"waits in vain\", \"low in time\"");
}

TEST_CASE("an unknown prover is refused with a hint") {
    const std::string first = api::prover_table().at(0).name;
    api::CheckOptions options;
    options.prover = first + "x";
    check_refused(api::check(test::small_model(), options), "there is no prover \"" + first + "x\"",
                  "did you mean " + first + "?");
    CHECK_FALSE(api::unknown_prover(first));
    CHECK_FALSE(api::unknown_prover(""));
}

TEST_CASE("a stop ends the calls that were given its token, and no other") {
    const api::Model m = test::small_model();
    const api::StopSource source;
    source.request_stop();
    api::CheckOptions stopped;
    stopped.limits.stop = source.token();
    api::Results free;
    std::thread other([&] { free = test::checked(m); });
    const api::Results ended = test::checked(m, stopped);
    other.join();
    CHECK(ended.interrupted);
    CHECK_FALSE(free.interrupted);
    REQUIRE(free.claims.size() == 4);
    CHECK(std::holds_alternative<api::Proved>(free.claims[0].verdict));
    CHECK_FALSE(test::checked(m).interrupted);
}

TEST_CASE("what a callback throws leaves the call as it is") {
    api::CheckOptions options;
    options.limits.jobs = 2;
    options.on_claim = [](const api::ClaimReport& c) { throw std::runtime_error(c.id); };
    CHECK_THROWS_WITH(api::check(test::small_model(), options), "follows");
}
