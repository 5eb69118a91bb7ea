#include <catch2/catch.hpp>
#include <set>

#include "cli/completion.hpp"
#include "cli/exit_codes.hpp"
#include "cli/parse.hpp"

namespace api = lanyard::api;
using namespace lanyard::cli;

namespace {

CommandLine good(const std::vector<std::string>& words) {
    auto line = parse(words);
    if (auto* error = std::get_if<UsageError>(&line)) FAIL(render(*error));
    return std::get<CommandLine>(line);
}

std::string bad(const std::vector<std::string>& words) {
    auto line = parse(words);
    if (auto* error = std::get_if<UsageError>(&line)) return render(*error);
    return "accepted\n";
}

}  // namespace

TEST_CASE("a command line is read") {
    const CommandLine line = good({"check", "car.json", "--claim", "oil cut", "--claim", "it starts", "--jobs", "3",
                                   "--time", "1.5", "--work=2000", "--json", "out.json"});
    CHECK(line.command->name == "check");
    CHECK(line.text("MODEL") == "car.json");
    CHECK(line.texts("--claim") == std::vector<std::string>{"oil cut", "it starts"});
    CHECK(line.count("--jobs") == 3U);
    CHECK(line.seconds("--time") == 1.5);
    CHECK(line.count("--work") == 2000U);
    CHECK(line.text("--json") == "out.json");
    CHECK_FALSE(line.text("--evidence"));
    CHECK_FALSE(line.count("--memory"));
}

TEST_CASE("options may stand before the model, and names may look odd") {
    CHECK(good({"check", "--color", "never", "car.json"}).text("MODEL") == "car.json");
    CHECK(good({"check", "car.json", "--claim", "[a, b]"}).texts("--claim") == std::vector<std::string>{"[a, b]"});
    CHECK(good({"check", "car.json", "--claim=-x"}).texts("--claim") == std::vector<std::string>{"-x"});
    CHECK(bad({"check", "car.json", "--claim", ""}) == "lanyard: --claim is empty\n  it takes ID\n");
}

TEST_CASE("help and version need nothing else") {
    CHECK(good({"--version"}).version);
    CHECK(good({"--help"}).help);
    CHECK(good({"check", "--help"}).help);
    CHECK(good({"check", "-h"}).command->name == "check");
}

TEST_CASE("what is wrong with a command line is said with a hint") {
    CHECK(bad({}) == "lanyard: no command given\n  lanyard help lists the commands\n");
    CHECK(bad({"chek", "car.json"}) == "lanyard: unknown command chek\n  did you mean check?\n");
    CHECK(bad({"check", "car.json", "--jsn", "f"}) == "lanyard: unknown option --jsn\n  did you mean --json?\n");
    CHECK(bad({"check", "car.json", "--engine=pdr"}) == "lanyard: unknown option --engine\n  did you mean --prover?\n");
    CHECK(bad({"check", "car.json", "--json"}) == "lanyard: --json needs a value\n  --json FILE\n");
    CHECK(bad({"check", "car.json", "--json", "a", "--json", "b"}) ==
          "lanyard: --json is given 2 times\n  lanyard check --help shows its options\n");
    CHECK(bad({"check", "car.json", "--color", "alway"}) ==
          "lanyard: --color cannot be \"alway\"\n  did you mean always?\n");
    CHECK(
        bad({"schema", "everything"}) ==
        "lanyard: WHICH cannot be \"everything\"\n  it is one of: model, result, rules, faults, why, mutants, needs\n");
    CHECK(bad({"run", "car.json"}) ==
          "lanyard: --script is missing\n  lanyard run MODEL --script FILE [--format FORMAT] [--csv-separator "
          "SEPARATOR] [--out FILE]\n");
    CHECK(bad({"schema", "model", "result"}) ==
          "lanyard: \"result\" is unexpected here\n  lanyard schema model|result|rules|faults|why|mutants|needs\n");
}

TEST_CASE("numbers are numbers") {
    for (const char* wrong : {"0", "-1", "1.5", "x", "1x", "", "99999999999999999999999", " 1"}) {
        CAPTURE(wrong);
        CHECK(bad({"check", "car.json", std::string("--jobs=") + wrong}) != "accepted\n");
    }
    for (const char* wrong : {"0", "-1", "x", "1e3", "inf", "nan", "2000000000"}) {
        CAPTURE(wrong);
        CHECK(bad({"check", "car.json", std::string("--time=") + wrong}) != "accepted\n");
    }
}

TEST_CASE("the option table holds together") {
    for (const CommandRow& command : command_table()) {
        CAPTURE(command.name);
        CHECK(find_command(command.name) == &command);
        CHECK_FALSE(command.meaning.empty());
        CHECK_FALSE(command.examples.empty());
        std::set<std::string> names;
        for (const OptionRow& option : command.options) {
            CAPTURE(option.name);
            CHECK(names.insert(option.name).second);
            CHECK_FALSE(option.meaning.empty());
            CHECK(option.choices.empty() == (option.takes != Takes::choice));
            CHECK_FALSE((option.takes == Takes::nothing && option.required));
        }
    }
    CHECK(find_command("judge") == nullptr);
}

TEST_CASE("every command and option is completed") {
    const std::string text = bash_completion();
    for (const CommandRow& command : command_table()) {
        CHECK(text.find(command.name) != std::string::npos);
        for (const OptionRow& option : command.options)
            if (!option.positional()) CHECK(text.find(option.name) != std::string::npos);
    }
}

TEST_CASE("exit codes are those that scripts rely on") {
    std::set<int> codes;
    for (const ExitRow& row : exit_table()) CHECK(codes.insert(row.code).second);
    CHECK(codes == std::set<int>{0, 1, 2, 3, 10, 20, 130});
    CHECK(code_of(Exit::rejected) == 2);

    api::Results report;
    CHECK(code_of(exit_of(report)) == 1);  // nothing was judged: never 0
    report.outcome = api::Outcome::all_proved;
    CHECK(code_of(exit_of(report)) == 0);
    report.outcome = api::Outcome::failed;
    CHECK(code_of(exit_of(report)) == 10);
    report.outcome = api::Outcome::undecided;
    CHECK(code_of(exit_of(report)) == 20);
    report.interrupted = true;
    CHECK(code_of(exit_of(report)) == 130);
}
