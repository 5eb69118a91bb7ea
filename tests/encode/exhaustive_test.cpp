// Tiny models, all of their states: those that the leaps of the encoding reach, found by the solver alone, are those
// that the interpreter reaches with every choice that it allows. On the way every choice in every state is put to
// both: it is legal for both or for neither.
#include <catch2/catch.hpp>

#include <deque>
#include <set>

#include "all_choices.hpp"
#include "support.hpp"

namespace encode = lanyard::encode;
using namespace lanyard::sim;
using namespace lanyard::encode;
using namespace lanyard::test;

namespace {

struct Tiny {
    std::string text;
    std::string condition = "any";
    std::vector<long> volts{}, readings{};
};

class Comparison {
 public:
    explicit Comparison(const Tiny& tiny)
        : model_(model_of(tiny.text)),
          condition_(condition_named(model_, tiny.condition)),
          system_(encode::encode(ctx_, model_, condition_, ClaimId(0), {true, false})),
          choices_(model_, makes_choices(model_.claims.front()), model_.conditions[condition_].faults, tiny.volts,
                   tiny.readings) {
        for (const auto& s : model_.sensors) delays_ = delays_ || s.delay > 0;
    }

    // The encoding's states that belong to what the interpreter reaches.
    std::set<std::string> by_interpreter() {
        struct Node {
            std::unique_ptr<Interpreter> sim;
            std::vector<z3::expr> state;
        };
        // A procedure is judged at one scan here and for good there: its verdicts are compared run by run.
        const bool procedure = std::holds_alternative<Procedure>(model_.claims.front().body);
        Stepper stepper(system_, model_, procedure ? ClaimId() : ClaimId(0));
        std::deque<Node> open;
        std::set<std::string> known, out;
        const auto arrive = [&](std::unique_ptr<Interpreter> sim, const std::vector<z3::expr>& state) {
            out.insert(state_text(state));
            if (known.insert(sim->state_text() + " / " + state_text(state)).second)
                open.push_back({std::move(sim), state});
        };
        arrive(std::make_unique<Interpreter>(model_, condition_, ClaimId(0)), stepper.state());
        while (!open.empty()) {
            const Node node = std::move(open.front());
            open.pop_front();
            for (const auto& c : choices_.list) {
                stepper.set_state(node.state);
                auto next = std::make_unique<Interpreter>(*node.sim);
                const Scan scan = next->step(c);
                if (!scan.broken_rule.empty()) {
                    if (!(delays_ && scan.broken_rule.starts_with("sensor:")) && stepper.legal(c) != false)
                        wrong += "legal in the encoding only: " + scan.broken_rule + "\n";
                    continue;
                }
                ++legal;
                const std::string differs = stepper.step(c, scan);
                if (!differs.empty()) {
                    wrong += differs + "\n";
                    continue;
                }
                arrive(std::move(next), stepper.state());
            }
            if (wrong.size() > 1000) break;
        }
        return out;
    }

    // Next state after next state, each blocked once found; any number of scans a step. Stops when it has more than
    // `most` states: a wrong rule may let a number go anywhere.
    std::set<std::string> by_solver(std::size_t most) {
        Solver solver(ctx_);
        solver.add(system_.all_rules());
        std::vector<z3::expr> start;
        for (const auto& v : system_.state) start.push_back(v.init);
        std::set<std::string> known{state_text(start)};
        std::deque<std::vector<z3::expr>> open{start};
        while (!open.empty() && known.size() <= most) {
            const auto state = std::move(open.front());
            open.pop_front();
            solver.push();
            for (std::size_t i = 0; i < state.size(); ++i) solver.add(system_.state[i].cur == state[i]);
            while (known.size() <= most && solver.check() == Answer::satisfiable) {
                std::vector<z3::expr> next;
                z3::expr_vector other(ctx_);
                for (const auto& v : system_.state) {
                    next.push_back(solver.value(v.next));
                    other.push_back(v.next != next.back());
                }
                if (known.insert(state_text(next)).second) open.push_back(next);
                solver.add(z3::mk_or(other));
            }
            solver.pop();
        }
        return known;
    }

    std::string wrong;
    long legal = 0;

 private:
    z3::context ctx_;
    Model model_;
    ConditionId condition_;
    System system_;
    AllChoices choices_;
    bool delays_ = false;
};

void compare(const Tiny& tiny) {
    INFO(tiny.text << " under " << tiny.condition);
    Comparison c(tiny);
    const auto sim = c.by_interpreter();
    REQUIRE(c.wrong == "");
    const auto enc = c.by_solver(sim.size() + 5);
    std::string only_sim, only_enc;
    for (const auto& s : sim)
        if (enc.count(s) == 0) only_sim += s + "\n";
    for (const auto& s : enc)
        if (sim.count(s) == 0) only_enc += s + "\n";
    CHECK(only_sim == "");
    CHECK(only_enc == "");
    CHECK(sim.size() > 2);
    CHECK(c.legal > 10);
}

}  // namespace

TEST_CASE("all states: timers", "[short]") {
    compare(
        {"'inputs': {'a': 'maintained'}, 'outputs': {'q': 'TON(a, 30 ms)', 'r': 'TOF(a, 20 ms)'}, "
         "'claims': {'c': {'always': 'q -> r'}}"});
    compare(
        {"'inputs': {'a': 'maintained'}, 'outputs': {'q': 'TP(a, 25 ms)', 'r': 'TON(q, 10 ms)'}, "
         "'claims': {'c': {'always': 'NOT r -> q'}}"});
}

TEST_CASE("all states: every element whose inputs are on or off", "[short]") {
    for (const OperatorRow& row : operator_table) {
        if (!has_memory(row.op) || !takes(row.op, Operand::truth)) continue;
        std::string inputs;
        for (const Operand input : row.inputs) {
            if (input == Operand::none) break;
            const bool other = !inputs.empty();
            inputs += other ? ", " : "";
            inputs += input == Operand::truth ? (other ? "b" : "a") : input == Operand::count ? "2" : "15 ms";
        }
        const std::string is = std::string(row.word) + "(" + inputs + ")";
        INFO(is);
        compare(
            {"'inputs': {'a': 'maintained', 'b': 'maintained', 'p': 'maintained'}, 'supply': 'p', "
             "'logic': {'k': {'is': '" +
             is + "', 'retained': true}}, 'outputs': {'q': '" + is +
             "'}, "
             "'claims': {'c': {'always': 'q OR k'}}"});
    }
}

TEST_CASE("all states: latches, edges, counters", "[short]") {
    compare(
        {"'inputs': {'a': 'maintained', 'b': 'maintained'}, "
         "'outputs': {'q': 'CTU(a, b, 2)', 'r': 'SR(R_TRIG(b), q)', 'w': 'RS(F_TRIG(a), previous(r))'}, "
         "'claims': {'c': {'always': 'q OR r OR w'}}"});
    compare(
        {"'inputs': {'a': 'maintained', 'back': {'reads_back': 'q'}}, "
         "'outputs': {'q': 'a XOR back', 'r': 'previous(NOT previous(q))'}, "
         "'claims': {'c': {'whenever': 'q', 'for': '20 ms', 'then': 'r', 'within': '20 ms'}}"});
}

TEST_CASE("all states: supply, boot, retained memory", "[short]") {
    compare(
        {"'inputs': {'a': 'maintained', 'p': 'maintained'}, 'supply': {'when': 'p', 'boots_in': '10 .. 30 ms'}, "
         "'logic': {'k': {'is': 'TON(a, 20 ms)', 'retained': true}, 'o': 'TOF(a, 10 ms)'}, "
         "'outputs': {'q': 'k AND o', 'r': 'TP(a, 20 ms)'}, 'claims': {'c': {'always': 'q OR r'}}"});
    compare(
        {"'inputs': {'a': 'maintained', 'p': 'maintained'}, 'supply': 'p OR r', "
         "'logic': {'k': {'is': 'TP(a, 20 ms)', 'retained': true}, 'n': {'is': 'CTU(a, FALSE, 2)', 'retained': true}}, "
         "'outputs': {'q': 'k OR n', 'r': 'a AND SR(previous(a), FALSE)'}, 'claims': {'c': {'always': 'q OR r'}}"});
}

TEST_CASE("all states: relays, missed switches, free loads", "[short]") {
    compare(
        {"'inputs': {'a': {'switch': 'maintained', 'contact': 'normally closed', 'may_be_missed': true}}, "
         "'outputs': {'q': {'on': 'a', 'relay': 'k'}}, "
         "'relays': {'k': {'pulls_in': '10 .. 30 ms', 'drops_out': '20 .. 20 ms', 'feeds': 'lamp'}}, "
         "'claims': {'c': {'always': 'lamp -> q'}}"});
    compare(
        {"'inputs': {'a': 'maintained'}, 'outputs': {'q': {'on': 'a', 'relay': 'k'}, 'r': {'on': 'NOT a', 'relay': "
         "'n'}}, "
         "'relays': {'k': {'pulls_in': '20 ms', 'feeds': 'lamp'}, 'n': {'pulls_in': '5 ms', 'drops_out': '5 .. 15 ms', "
         "'feeds': 'lamp'}}, "
         "'claims': {'c': {'always': 'NOT (k AND n) OR lamp'}}"});
}

TEST_CASE("all states: sensors") {
    const std::string few = "'conditions': {'few': 'x = 1 V OR x = 4 V OR x = 6 V'}, ";
    compare({few + "'quantities': {'x': '0 .. 10 V'}, 'inputs': {'sx': {'senses': 'x', 'accuracy': '1 V'}}, "
                   "'outputs': {'q': 'band(sx, on > 5 V, off < 3 V)', 'r': 'sx > 4 V AND TON(sx < 6 V, 10 ms)'}, "
                   "'claims': {'c': {'always': 'q OR r'}}",
             "few",
             {0, 1, 4, 6},
             {0, 1, 2, 3, 4, 5, 6, 7}});
}

TEST_CASE("all states: delayed sensors") {
    const std::string few = "'conditions': {'few': 'x = 1 V OR x = 4 V OR x = 6 V'}, ";
    compare({few + "'quantities': {'x': '0 .. 10 V'}, 'inputs': {'sx': {'senses': 'x', 'accuracy': '1 V', 'delay': '20 "
                   "ms'}}, "
                   "'outputs': {'q': 'band(sx, on > 5 V, off < 3 V)'}, 'claims': {'c': {'always': 'q'}}",
             "few",
             {1, 4, 6},
             {0, 1, 2, 3, 4, 5, 6, 7}});
}

TEST_CASE("all states: rates and remembered numbers") {
    const std::string few = "'conditions': {'few': 'x = 1 V OR x = 3 V'}, 'quantities': {'x': '0 .. 10 V'}, ";
    compare({few + "'inputs': {'a': 'maintained'}, "
                   "'outputs': {'q': 'rate(x, 20 ms) > 20 V/s', 'r': 'previous(x) < x AND a'}, "
                   "'claims': {'c': {'always': 'q -> r'}}",
             "few",
             {1, 3}});
    compare({few + "'inputs': {'p': 'maintained'}, 'supply': 'p', "
                   "'logic': {'f': {'is': 'rate(x, 20 ms) > 20 V/s', 'retained': true}, 'up': 'previous(x) > 2 V'}, "
                   "'outputs': {'q': 'f OR up'}, 'claims': {'c': {'always': 'q'}}",
             "few",
             {1, 3}});
}

TEST_CASE("all states: quantities that follow lines") {
    compare(
        {"'quantities': {'x': {'range': '0 .. 3 V', 'follows': [{'when': 'a', 'changes': '0 .. 100 V/s'}, "
         "{'when': 'x > 1 V AND NOT q', 'changes': '-100 .. 0 V/s'}, {'when': 'q', 'within': '1 .. 3 V'}]}}, "
         "'inputs': {'a': 'maintained'}, 'outputs': {'q': 'a AND TON(x > 0 V, 10 ms)'}, "
         "'conditions': {'few': 'x = 0 V OR x = 1 V OR x = 2 V OR x = 3 V'}, 'claims': {'c': {'always': 'q'}}",
         "few",
         {0, 1, 2, 3}});
}

TEST_CASE("all states: engine") {
    const std::string engine =
        "'inputs': {'a': 'maintained', 'b': 'maintained'}, 'outputs': {'coils': 'a', 'starter': 'b'}, "
        "'engine': {'fires_with': ['coils'], 'cranks_with': 'starter', 'firing_time': '20 .. 30 ms', "
        "'coast_down': '20 .. 30 ms', 'run_on': '10 .. 20 ms'}, ";
    for (const char* condition : {"any", "healthy"})
        compare({engine + "'claims': {'c': {'always': 'engine = running -> coils'}}", condition});
    compare({engine +
                 "'quantities': {'x': {'range': '0 .. 9 V', 'healthy': {'stopped': {'within': '0 .. 1 V', 'after': '20 "
                 "ms', "
                 "'before': '0 .. 5 V'}, 'running': {'within': '4 .. 8 V', 'after': '20 ms', 'before': '0 .. 8 V'}}}}, "
                 "'conditions': {'few': {'base': 'healthy', 'holds': 'x = 1 V OR x = 4 V OR x = 6 V'}}, "
                 "'claims': {'c': {'always': 'engine = running -> x > 2 V'}}",
             "few",
             {1, 4, 6}});
    // A starter and a push: with the starter powered it does not stop.
    for (const char* condition : {"any", "healthy"})
        compare(
            {"'inputs': {'a': 'maintained', 'b': 'maintained'}, 'outputs': {'coils': 'a', 'starter': 'b'}, "
             "'engine': {'fires_with': ['coils'], 'cranks_with': 'starter', 'firing_time': '20 .. 30 ms', "
             "'coast_down': '10 .. 20 ms', 'push_start': true}, 'claims': {'c': {'always': 'engine <> running'}}",
             condition});
    compare(
        {"'inputs': {'a': 'maintained'}, 'outputs': {'coils': 'a'}, "
         "'engine': {'fires_with': ['coils', 'spark'], 'firing_time': '10 .. 20 ms', 'coast_down': '0 .. 20 ms', "
         "'push_start': true}, 'claims': {'c': {'always': 'engine <> coasting'}}",
         "healthy"});
}

TEST_CASE("all states: procedures") {
    compare(
        {"'inputs': {'a': 'maintained', 'b': 'momentary'}, 'outputs': {'q': 'TON(a AND b, 20 ms)'}, "
         "'claims': {'c': {'procedure': ['set a', 'hold b until q, at most 60 ms, reacts in 5 .. 20 ms', "
         "'wait 20 ms'], 'ends_with': 'q', 'under': 'any'}}"});
    compare(
        {"'inputs': {'a': 'maintained', 'b': 'momentary'}, 'outputs': {'q': {'on': 'a', 'relay': 'k'}}, "
         "'relays': {'k': {'pulls_in': '30 ms', 'feeds': 'lamp'}}, "
         "'claims': {'c': {'procedure': ['set a', 'wait until lamp, at most 20 ms, reacts in 0 .. 10 ms', 'clear a', "
         "'wait 10 ms'], 'ends_with': 'lamp', 'within': '50 ms', 'under': 'any'}}"});
}

TEST_CASE("all states: responses that are owed", "[short]") {
    const std::string head =
        "'inputs': {'a': 'maintained', 'b': 'maintained'}, 'outputs': {'q': 'TON(a, 10 ms)', 'r': 'b'}, 'claims': "
        "{'c': ";
    for (const char* within : {"10 ms", "20 ms", "50 ms"})
        for (const char* held : {"0 ms", "20 ms", "30 ms"}) {
            const std::string times = std::string("'for': '") + held + "', 'within': '" + within + "'}}";
            compare({head + "{'once': 'q', 'then': 'r', " + times});
            compare({head + "{'whenever': 'q', 'then': 'r', 'out_of': '40 ms', " + times});
        }
}

TEST_CASE("all states: change limits", "[short]") {
    for (const char* limit : {"'at_most': 0, 'in_any': '20 ms'", "'at_most': 1, 'in_any': '30 ms'",
                              "'at_most': 3, 'in_any': '50 ms'", "'at_most': 1, 'in_any': '5 ms'"})
        compare({std::string("'inputs': {'a': 'maintained'}, 'outputs': {'q': 'TON(a, 10 ms)'}, ") +
                 "'claims': {'c': {'changes': 'q', " + limit + "}}"});
}

TEST_CASE("all states: claims of two parts") {
    const std::string head =
        "'inputs': {'a': 'maintained', 'b': 'momentary'}, 'logic': {'t': 'SR(a, b)'}, "
        "'outputs': {'q': 'NOT t AND TON(b, 20 ms)'}, 'conditions': {'pressed': 'b', 'free': 'NOT (a AND b)'}, "
        "'claims': {'c': ";
    compare({head + "{'recoverable': 'q', 'under': 'any'}}"});
    compare({head + "{'recoverable': 'q', 'within': '40 ms', 'under': 'free', 'reached_under': 'pressed'}}", "free"});
    compare({head + "{'recoverable': 'q', 'may_move': 'b', 'under': 'pressed'}}", "pressed"});
    compare({head + "{'procedure': ['set b', 'wait 20 ms', 'hold a until t, at most 30 ms, reacts in 0 .. 10 ms'], "
                    "'ends_with': 'q', 'from': 'a', 'under': 'free'}}",
             "free"});
    compare(
        {"'inputs': {'a': 'momentary'}, 'outputs': {'fuel': 'a'}, "
         "'engine': {'fires_with': 'fuel', 'firing_time': '10 .. 20 ms', 'coast_down': '10 .. 20 ms'}, "
         "'claims': {'c': {'recoverable': 'engine = running'}}",
         "healthy"});
}

namespace {

// `parts` and `wires` of a circuit with a battery; the claim names what the rest shall be about.
Tiny wired(const std::string& before, const std::string& parts, const std::string& wires, const std::string& claim,
           const std::string& faults = "") {
    return {before + "'circuit': {'parts': {'battery': 'battery', " + parts + "}, 'wires': {" + wires + "}}, " +
                (faults.empty() ? "" : "'conditions': {'frail': {'faults': " + faults + "}}, ") +
                "'claims': {'c': {'always': '" + claim + "'}}",
            faults.empty() ? "any" : "frail"};
}

const std::string hand = "{'is': 'switch', 'switch': 'maintained'}";

}  // namespace

TEST_CASE("all states: relays that hang on one another's contacts", "[short]") {
    // Held by its own contact.
    compare(wired("",
                  "'go': {'is': 'switch', 'switch': 'momentary'}, 'halt': {'is': 'switch', 'switch': 'momentary', "
                  "'contact': 'break'}, 'K1': {'is': 'relay', 'pulls_in': '10 .. 20 ms', 'drops_out': '10 ms'}",
                  "'w1': 'battery - halt - bus', 'w2': 'bus - go - held', 'w3': 'bus - K1.make - held', 'w4': 'held - "
                  "K1.coil - ground'",
                  "go -> K1"));
    // Each by a break contact of the other.
    compare(wired("",
                  "'go': " + hand +
                      ", 'K1': {'is': 'relay', 'pulls_in': '0 .. 10 ms'}, 'K2': {'is': 'relay', "
                      "'drops_out': '10 ms'}",
                  "'w1': 'battery - go - bus', 'w2': 'bus - K2.break - K1.coil - ground', 'w3': 'bus - K1.break - "
                  "K2.coil - ground'",
                  "NOT (K1 AND K2)"));
}

TEST_CASE("all states: a change-over contact in flight, a lamp in series with a coil") {
    compare(wired("", "'go': " + hand + ", 'K1': {'is': 'relay', 'pulls_in': '20 ms'}, 'lamp': 'load', 'horn': 'load'",
                  "'w1': 'battery - go - K1.coil - ground', 'w2': 'battery - K1.30', 'w3': 'K1.87 - lamp - ground', "
                  "'w4': 'K1.87a - horn - ground'",
                  "lamp XOR horn"));
    compare(wired("", "'go': " + hand + ", 'K1': {'is': 'relay', 'drops_out': '20 ms'}, 'lamp': 'load', 'horn': 'load'",
                  "'w1': 'battery - lamp - tap', 'w2': 'battery - go - tap', 'w3': 'tap - K1.coil - ground', 'w4': "
                  "'battery - K1.make - horn - ground'",
                  "horn -> lamp"));
}

TEST_CASE("all states: a controller fed by the wiring, its pins") {
    compare(
        wired("'inputs': {'kill_in': {'reads': 'ground'}}, 'outputs': {'q': {'on': 'NOT kill_in', 'drives': 'low "
              "side'}}, ",
              "'key': " + hand + ", 'kill': " + hand + ", 'K1': {'is': 'relay', 'drops_out': '10 ms'}",
              "'w1': 'battery - key - controller.plus', 'w2': 'battery - K1.make - controller.plus', 'w3': 'battery - "
              "K1.coil - q', 'w4': 'kill_in - kill - ground'",
              "powered -> K1"));
    compare(
        wired("'inputs': {'up_in': {'reads': 'plus'}}, 'outputs': {'q': {'on': 'up_in', 'drives': 'half bridge'}}, ",
              "'key': " + hand + ", 'up': " + hand + ", 'flap': 'load'",
              "'w1': 'battery - key - bus', 'w2': 'bus - controller.plus', 'w3': 'bus - up - up_in', 'w4': 'q - "
              "flap - battery'",
              "flap XOR q"));
}

TEST_CASE("all states: magneto, alternator with its field") {
    compare(wired("", "'mag': 'magneto', 'kill': " + hand + ", 'lamp': 'load'",
                  "'w1': 'mag - kill - tap', 'w2': 'tap - lamp - ground'", "mag XOR lamp",
                  "{'of': ['w2.open', 'lamp']}"));
    compare(wired("'engine': {'fires_with': 'coils', 'firing_time': '10 ms', 'coast_down': '10 ms'}, ",
                  "'alt': 'alternator', 'go': " + hand + ", 'coils': 'load'",
                  "'w1': 'battery - go - bus', 'w2': 'alt - bus', 'w3': 'bus - alt.field', 'w4': 'bus - coils - "
                  "ground'",
                  "engine = running -> coils"));
}

TEST_CASE("all states: faults of relays, wires and switches") {
    compare(wired(
        "", "'go': " + hand + ", 'K1': {'is': 'relay', 'pulls_in': '10 ms', 'drops_out': '10 ms'}, 'lamp': 'load'",
        "'w1': 'battery - go - K1.coil - ground', 'w2': 'battery - K1.make - lamp - ground'", "lamp XOR K1",
        "{'of': ['K1.welded', 'w2.open', 'go.bounces'], 'at_most': 2}"));
    compare(wired("", "'go': " + hand + ", 'F1': 'fuse', 'lamp': 'load', 'horn': 'load'",
                  "'w1': 'battery - F1 - bus', 'w2': 'bus - go - lamp - ground', 'w3': 'bus - horn - ground'",
                  "lamp XOR horn", "{'of': ['w2.1.to_ground', 'w2.2.to_battery', 'go'], 'at_most': 1}"));
}

TEST_CASE("all states: faults of inputs, outputs and the controller") {
    const auto frail = [](const std::string& of, const std::string& rest, const std::string& more = "") {
        return Tiny{"'conditions': {'frail': {'faults': {'of': [" + of + "]" + more + "}}}, " + rest, "frail"};
    };
    compare(
        frail("'a.stuck_on', 'a.bounces', 'q.stuck_on'",
              "'inputs': {'a': 'maintained', 'back': {'reads_back': 'q'}}, 'outputs': {'q': {'on': 'TON(a, 10 ms)', "
              "'feeds': 'lamp'}}, 'claims': {'c': {'always': 'lamp XOR back'}}",
              ", 'at_most': 2"));
    compare(
        frail("'back.open', 'q.stuck_off', 'controller.resets'",
              "'inputs': {'a': 'maintained', 'back': {'reads_back': 'q'}}, 'faults': {'controller.resets': "
              "{'comes_and_goes': true}}, 'logic': {'k': {'is': 'SR(a, FALSE)', 'retained': true}}, 'outputs': {'q': "
              "{'on': 'k AND NOT back', 'feeds': 'lamp'}}, 'claims': {'c': {'always': 'lamp -> powered'}}"));
    compare(
        frail("'k.slow', 'k.never_pulls', 'k.welded'",
              "'inputs': {'a': 'maintained'}, 'outputs': {'q': {'on': 'a', 'relay': 'k'}}, 'relays': {'k': "
              "{'pulls_in': '0 .. 10 ms', 'drops_out': '10 ms', 'feeds': 'lamp'}}, 'faults': {'k.slow': {'takes': '30 "
              "ms'}, 'k.welded': {'comes_and_goes': true}}, 'claims': {'c': {'always': 'lamp XOR k'}}",
              ", 'from_the_start': true"));
}

TEST_CASE("all states: faults of sensors") {
    const std::string head =
        "'quantities': {'x': '0 .. 3 V'}, 'inputs': {'sx': {'senses': 'x'}}, 'outputs': {'q': 'sx > 1 "
        "V AND TON(sx < 3 V, 10 ms)'}, ";
    for (const char* fault : {"'sx.stuck'", "'sx.frozen'", "'sx.open', 'sx.stuck'", "'sx.to_ground', 'sx.frozen'"})
        for (const char* more : {"", ", 'sx.frozen': {'comes_and_goes': true}"}) {
            compare(
                {head + "'faults': {'sx.open': {'reads': '3 V'}" + more +
                     "}, 'conditions': {'frail': {'holds': ['x = 0 V OR x = 2 V', 'sx = 0 V OR sx = 2 V OR sx = 3 V'], "
                     "'faults': {'of': [" +
                     fault + "], 'at_most': 2}}}, 'claims': {'c': {'always': 'q'}}",
                 "frail",
                 {0, 2},
                 {0, 2, 3}});
        }
}
