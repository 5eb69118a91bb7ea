// Every command that judges, stopped at each of its checkpoints: by Ctrl-C it ends with 130, by the end of --time with
// one of the documented codes; never otherwise, whatever was begun by then. What it has decided until then is what it
// decides when nobody stops it, and of what it writes nothing is half there.
#include <algorithm>
#include <catch2/catch.hpp>
#include <csignal>
#include <iostream>
#include <set>
#include <sstream>

#include "../scratch.hpp"
#include "api/checkpoints.hpp"
#include "cli/commands.hpp"

namespace api = lanyard::api;
namespace cli = lanyard::cli;
namespace test = lanyard::test;

namespace {

constexpr const char* model = R"json({"lanyard": 1, "name": "m",
  "inputs": {"key": "maintained", "start": "momentary", "oil": {"senses": "oil_pressure"}},
  "logic": {"held": "RS(start, NOT key)", "late": "TON(held, 40 ms)"},
  "outputs": {"pump": "key AND late", "lamp": "held AND NOT (oil > 15 psi)"},
  "claims": {
    "lit": {"always": "pump -> held"},
    "dark": {"always": "NOT pump"},
    "comes back": {"recoverable": "pump", "may_move": ["key", "start"], "under": "any"}}})json";

// Wires, relays and faults; the runs of a fault tree.
constexpr const char* wired = R"json({"lanyard": 1, "name": "w",
  "inputs": {"key": "maintained"}, "outputs": {"feed": "key"},
  "claims": {"follows": {"always": "feed -> key"}, "off": {"always": "NOT key -> NOT feed"}}})json";

struct Ended {
    int code = 0;
    std::string out, err;
    long asked = 0;
};

class Captured {
 public:
    Captured() : out_(std::cout.rdbuf(out.rdbuf())), err_(std::cerr.rdbuf(err.rdbuf())) {}
    ~Captured() {
        std::cout.rdbuf(out_);
        std::cerr.rdbuf(err_);
    }
    Captured(const Captured&) = delete;
    Captured& operator=(const Captured&) = delete;
    std::ostringstream out, err;

 private:
    std::streambuf *out_, *err_;
};

Ended ran(const std::vector<std::string>& words) {
    const auto line = cli::parse(words);
    REQUIRE(std::holds_alternative<cli::CommandLine>(line));
    Captured captured;
    const cli::Exit exit = cli::run_command_line(std::get<cli::CommandLine>(line));
    return {cli::code_of(exit), captured.out.str(), captured.err.str(), api::checkpoints_asked()};
}

// Lines that tell of a verdict.
std::set<std::string> decided(const std::string& text) {
    std::set<std::string> out;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);)
        for (const char* word : {"  proved", "  REFUTED", "  VACUOUS"})
            if (line.starts_with(word)) out.insert(line.substr(0, 40));
    return out;
}

struct Command {
    std::vector<std::string> words;
    std::string writes;  // not there when it was interrupted
};

}  // namespace

namespace {

// Every checkpoint up to `each`, then ever fewer: up to `most` of them.
std::vector<long> checkpoints(long asked, long each, long most) {
    std::vector<long> out;
    const long all = std::min(asked, 2000L), stride = std::max(1L, (all - each) / std::max(1L, most - each));
    for (long n = 1; n <= all; n += n < each ? 1 : stride) out.push_back(n);
    return out;
}

void stop_everywhere(const Command& command, const std::string& kept, long each, long most) {
    CAPTURE(command.words);
    const auto clean = [&] {
        if (!command.writes.empty()) std::filesystem::remove_all(command.writes);
        std::filesystem::remove_all(kept);
    };
    api::stop_at_checkpoint(0);
    clean();
    const Ended plain = ran(command.words);
    INFO(plain.err);
    REQUIRE((plain.code == 0 || plain.code == 10 || plain.code == 20));
    REQUIRE(plain.asked > 0);
    const auto all = decided(plain.out);
    for (const long n : checkpoints(plain.asked, each, most)) {
        CAPTURE(n);
        clean();
        api::stop_at_checkpoint(n, [] { std::raise(SIGINT); });
        const Ended ended = ran(command.words);
        if (ended.asked < n) continue;  // with two threads there may be fewer
        CHECK(ended.code == 130);
        if (!command.writes.empty()) CHECK_FALSE(std::filesystem::exists(command.writes));
        for (const auto& line : decided(ended.out)) {
            CAPTURE(line, ended.out, plain.out);
            CHECK(all.contains(line));
        }
    }
    for (const long n : checkpoints(plain.asked, 1, std::max(4L, most / 4))) {
        CAPTURE(n);
        clean();
        api::stop_at_checkpoint(n);
        const Ended ended = ran(command.words);
        // Of a claim that was not decided there is no run to tell of, and it judges no mutants.
        const bool nothing = (command.words.front() == "why" && ended.code == 2) ||
                             (command.words.front() == "mutants" && ended.code == 1);
        CHECK((ended.code == plain.code || ended.code == 20 || ended.code == 10 || nothing));
        if (command.words.front() == "check")
            for (const auto& line : decided(ended.out)) {
                CAPTURE(line, ended.out, plain.out);
                CHECK(all.contains(line));
            }
    }
    api::stop_at_checkpoint(0);
}

void stop_every_command(long each, long most) {
    const test::Scratch scratch("interrupt");
    scratch.write("m.json", model);
    scratch.write("w.json", wired);
    const std::string m = (scratch.path / "m.json").string(), w = (scratch.path / "w.json").string();
    const std::string out = (scratch.path / "out").string();
    for (const Command& command : std::vector<Command>{
             {{"check", m, "--jobs", "1", "--json", out}, out},
             {{"check", m, "--jobs", "2", "--counterexamples", "3", "--evidence", out + ".evidence"}, ""},
             {{"check", m, "--jobs", "1", "--keep", out + ".keep"}, ""},
             {{"check", m, "--jobs", "1", "--shard", "2/2", "--part", out + ".keep"}, ""},
             {{"faults", w, "--jobs", "1", "--shard", "1/2", "--part", out + ".keep"}, ""},
             {{"mutants", w, "--jobs", "1", "--shard", "1/2", "--part", out + ".keep"}, ""},
             {{"report", m, "--jobs", "2", "--out", out + ".report"}, out + ".report"},
             {{"report", w, "--jobs", "1", "--faults", "--out", out + ".report"}, out + ".report"},
             {{"case", m, "--jobs", "1", "--dot", out}, out},
             {{"card", m, "--jobs", "1", "--out", out}, out},
             {{"faults", w, "--jobs", "1", "--order", "2", "--json", out}, out},
             {{"why", m, "pump", "--claim", "dark", "--json", out}, out},
             {{"mutants", w, "--jobs", "1", "--json", out}, out},
             {{"needs", w, "--jobs", "1", "--json", out}, out}})
        stop_everywhere(command, out + ".keep", each, most);
}

}  // namespace

TEST_CASE("every command ends in good order wherever it is interrupted") { stop_every_command(6, 14); }

// test_interrupt "[.each]": a quarter of an hour.
TEST_CASE("every command ends in good order at each of its first checkpoints", "[.each]") {
    stop_every_command(200, 250);
}

TEST_CASE("a card of a large model whose time is up at once is an empty card") {
    const test::Scratch scratch("card-late");
    std::string logic, first = "s0";
    for (int i = 0; i < 3000; ++i)
        logic += (i == 0 ? "" : ",") + std::string("\"s") + std::to_string(i) + "\": \"TON(key, " +
                 std::to_string(i + 1) + " ms) AND start\"";
    for (int i = 1; i < 190; ++i) first += " OR s" + std::to_string(i);
    scratch.write("l.json", R"({"lanyard": 1, "name": "l", "inputs": {"key": "maintained", "start": "momentary"},
        "logic": {)" + logic + R"(}, "outputs": {"pump": ")" +
                                first + R"("}})");
    const std::string file = (scratch.path / "l.json").string();
    CHECK(ran({"card", file, "--time", "0.001"}).code == 20);
}
