// Time that cannot go on (lanyard help meaning): what is found with collected ways on, invariants and leaps is what
// playing every choice of the interpreter finds, scan by scan, in tiny models under random conditions, with drivers of
// every speed and with claims of two parts.
#include <catch2/catch.hpp>
#include <deque>
#include <set>

#include "all_choices.hpp"
#include "prove/time.hpp"
#include "sim/dice.hpp"
#include "support.hpp"

using namespace lanyard::prove;
using namespace lanyard::test;

namespace {

// Plays all of it. A state has a way on if some choice is legal in it; a scan is followed by one state for each mode
// that the engine may go to, and leads nowhere if none of these has a way on.
class BruteForce {
 public:
    BruteForce(const Model& m, ConditionId condition, ClaimId claim, const std::vector<long>& volts)
        : choices_(m, claim && makes_choices(m.claims[claim]), {}, volts, {}),
          modes_(m.engine ? mode_count : 1),
          start_(m, condition, claim) {}

    // Nothing if there are too many states to look at.
    std::optional<bool> stops() {
        std::deque<Interpreter> open{start_};
        std::set<std::string> known{start_.state_text()};
        if (!has_way(start_)) return true;
        while (!open.empty()) {
            const Interpreter here = std::move(open.front());
            open.pop_front();
            for (std::size_t i = 0; i < choices_.list.size(); i += modes_) {
                bool any = false, goes_on = false;
                for (std::size_t k = i; k < i + modes_; ++k) {
                    Interpreter next(here);
                    if (!next.step(choices_.list[k]).broken_rule.empty()) continue;
                    any = true;
                    if (!has_way(next)) continue;
                    goes_on = true;
                    if (known.insert(next.state_text()).second) open.push_back(std::move(next));
                }
                if (any && !goes_on) return true;
            }
            if (known.size() > 3000) return std::nullopt;
        }
        return false;
    }

 private:
    bool has_way(const Interpreter& state) {
        const auto [at, fresh] = ways_.emplace(state.state_text(), false);
        for (std::size_t i = 0; fresh && !at->second && i < choices_.list.size(); ++i)
            at->second = Interpreter(state).step(choices_.list[i]).broken_rule.empty();
        return at->second;
    }

    AllChoices choices_;
    std::size_t modes_;
    Interpreter start_;
    std::map<std::string, bool> ways_;
};

class ModelMaker {
 public:
    explicit ModelMaker(unsigned seed) : dice_(seed) {}

    // The inside of a model with one claim, under conditions "main" and, for a first part, "first".
    std::string model() {
        engine_ = dice_.one_in(2);
        quantity_ = dice_.one_in(3);
        std::string out = "'inputs': {'a': 'maintained', 'b': 'momentary'}, 'outputs': {'q': 'a', 'st': 'b'}, ";
        if (engine_)
            out +=
                "'engine': {'fires_with': ['q'], 'cranks_with': 'st', 'firing_time': '10 .. 20 ms', 'coast_down': '10 "
                ".. 20 ms'" +
                std::string(dice_.one_in(2) ? ", 'run_on': '10 ms'" : "") + "}, ";
        if (quantity_) out += "'quantities': {'x': {'range': '0 .. 2 V', 'follows': [" + lines() + "]}}, ";
        return out + "'conditions': {'main': " + condition() + ", 'first': " + condition() +
               "}, 'claims': {'k': " + claim() + "}";
    }
    std::vector<long> volts() const { return quantity_ ? std::vector<long>{0, 1, 2} : std::vector<long>{}; }

 private:
    std::string pick(const std::vector<std::string>& of) { return dice_.pick(of); }
    std::string lines() {
        std::string out;
        for (int n = 0; n < 1 + static_cast<int>(dice_.below(2)); ++n) {
            const bool change = n == 0 || dice_.one_in(2);
            out += std::string(n > 0 ? ", " : "") + "{" +
                   (change ? "'changes': '" + pick({"-100 .. 0", "100 .. 200", "-200 .. -100", "0 .. 100"}) + " V/s'"
                           : "'within': '" + pick({"0 .. 1", "1 .. 2", "2 .. 2"}) + " V'") +
                   (dice_.one_in(3) ? "" : ", 'when': '" + pick({"a", "q", "NOT st", "x > 1 V"}) + "'") + "}";
        }
        return out;
    }
    std::string condition() {
        std::string holds;
        const int parts = 1 + static_cast<int>(dice_.below(2));
        for (int n = 0; n < parts; ++n) holds += std::string(n > 0 ? ", " : "") + "'" + part() + "'";
        if (quantity_) holds += ", 'x = 0 V OR x = 1 V OR x = 2 V'";
        return std::string("{'base': '") + (dice_.one_in(3) ? "healthy" : "any") + "', 'holds': [" + holds + "]}";
    }
    std::string part() {
        switch (dice_.below(5)) {
            case 0:
                return "NOT TON(" + atom() + ", " + pick({"10", "20"}) + " ms)";
            case 1:
                return "NOT (" + atom() + " AND previous(" + atom() + "))";
            case 2:
                return "NOT SR(" + atom() + ", " + atom() + ")";
            default:
                return atom() + " OR " + atom();
        }
    }
    std::string atom() {
        std::vector<std::string> of{"a", "b", "NOT a", "NOT b", "q", "TRUE"};
        if (engine_)
            for (const char* mode : {"stopped", "cranking", "running", "coasting"})
                for (const char* is : {"=", "<>"}) of.push_back(std::string("engine ") + is + " " + mode);
        if (quantity_) of.insert(of.end(), {"x > 1 V", "x < 1 V", "x = 1 V"});
        return pick(of);
    }
    std::string claim() {
        if (dice_.one_in(3)) return "{'always': 'q -> a', 'under': 'main'}";
        const std::string steps = pick(
            {"'set a', 'wait 20 ms'", "'wait until TRUE, at most 40 ms, reacts in 0 .. 20 ms', 'set a', 'wait 10 ms'",
             "'hold b for 20 ms', 'set a', 'wait 10 ms'", "'hold b until q, at most 30 ms, reacts in 0 .. 10 ms'"});
        return "{'procedure': [" + steps + "], 'ends_with': 'q', 'under': 'main'" +
               (dice_.one_in(2) ? ", 'from': '" + atom() + "', 'reached_under': 'first'" : std::string()) + "}";
    }

    Dice dice_;
    bool engine_ = false, quantity_ = false;
};

}  // namespace

TEST_CASE("time stops where every choice has been played in vain", "[standstill]") {
    int stopped = 0, went_on = 0, unknown = 0;
    for (unsigned seed = 1; seed <= 150; ++seed) {
        ModelMaker maker(seed);
        const std::string text = maker.model();
        INFO("seed " << seed << ": " << text);
        const Model m = model_of(text);
        const ConditionId condition = condition_named(m, "main");
        const ClaimId claim = std::holds_alternative<Always>(m.claims.front().body) ? ClaimId() : ClaimId(0);
        const auto played = BruteForce(m, condition, claim, maker.volts()).stops();
        const TimeVerdict found = time_goes_on(m, condition, claim, {});
        if (!played || std::holds_alternative<TimeUnknown>(found)) {
            ++unknown;
            continue;
        }
        CHECK(std::holds_alternative<TimeStops>(found) == *played);
        if (const auto* stops = std::get_if<TimeStops>(&found)) CHECK(stops->why.size() > 20);
        ++(*played ? stopped : went_on);
    }
    CHECK(stopped > 20);
    CHECK(went_on > 20);
    CHECK(unknown < 15);
}
