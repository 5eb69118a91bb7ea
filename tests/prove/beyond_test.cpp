// Quantities that no claim names and that have to move, in random models: a claim that is refuted has a run that
// replays, whatever those quantities need, and the verdict is that of the same claim with a mention of them that says
// nothing - which has them in the question from the beginning.
#include <algorithm>
#include <catch2/catch.hpp>

#include "../models.hpp"
#include "prove/judge.hpp"
#include "sim/dice.hpp"
#include "sim/interpreter.hpp"

using namespace lanyard::prove;
using namespace lanyard::test;

namespace {

// ' stands for ".
class Maker {
 public:
    explicit Maker(unsigned seed) : dice_(seed) {}

    std::string text() {
        const auto count = 1 + dice_.below(3);
        std::string quantities, inputs = "'a': 'maintained', 'b': 'momentary'", mention;
        for (std::size_t k = 0; k < count; ++k) {
            const std::string n = std::to_string(k), x = "x" + n;
            quantities += (k > 0 ? ", '" : "'") + x + "': {'range': '0 .. 4 V', 'follows': [" + lines(x) + "]}";
            mention += " OR " + x + " > 4 V";
            if (k > 0 && dice_.one_in(2)) continue;
            inputs += ", 'r" + n + "': {'senses': '" + x + "', 'accuracy': '0.1 V'" +
                      (dice_.one_in(2) ? ", 'delay': '20 ms'" : "") + "}";
        }
        const std::string body = pick({"NOT (a AND previous(a))", "NOT TON(a, 20 ms)", "NOT (TON(a, 20 ms) AND q)",
                                       "NOT (q AND previous(NOT q))", "a OR b OR NOT TON(NOT q, 10 ms)", "NOT q OR a"});
        std::string out = "{'lanyard': 1, 'name': 'm', 'quantities': {" + quantities + "}, 'inputs': {" + inputs +
                          "}, 'outputs': {'q': 'TON(a, 10 ms)', 'st': 'b', 'tr': 'r0 > 2 V'}, ";
        if (dice_.one_in(2)) out += "'engine': {'fires_with': ['q'], 'cranks_with': 'st', 'firing_time': '10 ms'}, ";
        out += "'claims': {'narrow': {'always': '" + body + "'}, 'with all': {'always': '" + body + mention + "'}}}";
        return requoted(out);
    }

 private:
    std::string pick(const std::vector<std::string>& of) { return dice_.pick(of); }
    std::string lines(const std::string& own) {
        std::string out;
        const auto n = 1 + dice_.below(3);
        for (std::size_t i = 0; i < n; ++i) {
            const std::string when = pick({"", "a", "b", "NOT a", "q", "st", "NOT q", "tr", "NOT tr", own + " > 1 V"});
            const std::string change = pick({"-200 .. -100", "50 .. 150", "-100 .. 100", "0 .. 200", "-50 .. -50"});
            const std::string band = pick({"0 .. 3", "1 .. 4", "2 .. 3", "0.5 .. 1"});
            const bool moves = i == 0 || dice_.one_in(2);
            out += i > 0 ? ", {" : "{";
            out += moves ? "'changes': '" + change + " V/s'" : "'within': '" + band + " V'";
            out += when.empty() ? "}" : ", 'when': '" + when + "'}";
        }
        return out;
    }

    Dice dice_;
};

std::string word(const Verdict& v) {
    static const char* const words[] = {"proved", "refuted", "vacuous", "undecided"};
    return words[v.index()];
}

}  // namespace

TEST_CASE("runs are filled in with quantities that have to move") {
    int refuted = 0, undecided = 0;
    JudgeOptions few;
    few.work_limit = 10'000'000;
    for (unsigned seed = 1; seed <= 80; ++seed) {
        const std::string text = Maker(seed).text();
        INFO("seed " << seed << ": " << text);
        const Model m = model_from(text);
        const ClaimResult narrow = judge(m, ClaimId(0), few), all = judge(m, ClaimId(1), few);
        if (const auto* r = std::get_if<Refuted>(&narrow.verdict)) {
            const Replay again = replay(m, *r->run, any_condition, ClaimId(0));
            CHECK(again.broken == "");
            CHECK(again.violated_at_end);
            ++refuted;
        }
        const bool is_open = narrow.verdict.index() == 3 || all.verdict.index() == 3;
        if (!is_open) CHECK(word(narrow.verdict) == word(all.verdict));
        undecided += is_open ? 1 : 0;
    }
    CHECK(refuted > 25);
    CHECK(undecided < 10);
}
