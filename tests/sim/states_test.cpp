// The canonical text of a state: equal texts behave alike, and what behaves alike has equal texts where it can be
// told, so that small models can be searched exhaustively.
#include <deque>
#include <functional>
#include <map>

#include "bench.hpp"

using namespace lanyard::sim;
using namespace lanyard::test;

namespace {

// All reachable states of a model of switches only, and what is seen at every scan on the way.
struct Search {
    explicit Search(const std::shared_ptr<const Model>& m, ClaimId claim = {}) : model(m) {
        queue.emplace_back(std::make_unique<Interpreter>(*m, any_condition, claim), 0);
        known[queue.front().first->state_text()] = 0;
    }

    // `free`: which switches may be in either position; `look` gets the depth and the scan.
    void run(const std::vector<std::string>& free, const std::function<void(long, const Scan&)>& look) {
        while (!queue.empty()) {
            const auto [at, depth] = std::move(queue.front());
            queue.pop_front();
            for (unsigned bits = 0; bits < 1U << free.size(); ++bits) {
                Choices c;
                c.positions.resize(model->switches.size());
                c.missed.resize(model->switches.size());
                c.free_loads.resize(model->loads.size());
                for (std::size_t k = 0; k < free.size(); ++k) {
                    const SwitchId hand = model->signal(signal(*model, free[k])).index;
                    c.positions[hand] = (bits >> k) % 2 == 1;
                }
                auto next = std::make_unique<Interpreter>(*at);
                const Scan s = next->step(c);
                REQUIRE(s.broken_rule == "");
                look(depth + 1, s);
                if (known.emplace(next->state_text(), depth + 1).second) queue.emplace_back(std::move(next), depth + 1);
            }
        }
    }
    // Without the state before scan 0.
    std::size_t count() const { return known.size() - 1; }

    std::shared_ptr<const Model> model;
    std::deque<std::pair<std::unique_ptr<Interpreter>, long>> queue;
    std::map<std::string, long> known;
};

std::size_t states_of(const std::string& definition) {
    Search s(shared_model("'inputs': {'a': 'maintained', 'b': 'maintained'}, 'outputs': {'q': '" + definition + "'}"));
    s.run({"a", "b"}, [](long, const Scan&) {});
    return s.count();
}

}  // namespace

TEST_CASE("elements have as many states as behave differently") {
    CHECK(states_of("a AND b") == 1);
    CHECK(states_of("TON(a, 30 ms)") == 5);     // 0 to 4 scans
    CHECK(states_of("TOF(a, 30 ms)") == 5);     // 0 to 4 scans
    CHECK(states_of("TP(a, 30 ms)") == 2 + 3);  // at rest with either input, three scans of the pulse
    CHECK(states_of("SR(a, b)") == 2);
    CHECK(states_of("R_TRIG(a)") == 2);
    CHECK(states_of("CTU(a, b, 3)") == 4 * 2);  // count and last input
    CHECK(states_of("previous(previous(a))") == 4);
}

TEST_CASE("a claim's clocks are part of the state, saturated") {
    const auto m = shared_model(
        "'inputs': {'a': 'maintained'}, 'outputs': {'q': 'NOT a'}, "
        "'claims': {'c': {'whenever': 'a', 'then': 'NOT q', 'within': '60 ms'}}");
    Search s(m, ClaimId(0));
    s.run({"a"}, [](long, const Scan& scan) { CHECK(!scan.violated); });
    CHECK(s.count() == 6);  // 0 to 5 scans, the bound
}

namespace {

// SF_EmergencyStop of PLCopen Safety, written from its state table (published): one state after the other, the first
// transition listed that applies.
const char* emergency_stop = R"(
'inputs': {'activate': 'maintained', 'stop_in': 'maintained', 'start_reset': 'maintained', 'auto_reset': 'maintained',
  'reset': 'momentary'},
'logic': {
  'edge': 'R_TRIG(reset)', 'stuck': 'reset AND NOT edge',
  'idle': 'NOT activate',
  'was_idle': 'NOT (previous(init) OR previous(wait1) OR previous(wait2) OR previous(error1) OR previous(stop) OR previous(waitr) OR previous(error2) OR previous(enabled))',
  'init': 'activate AND was_idle',
  'wait1': 'activate AND (previous(init) AND NOT start_reset OR previous(wait1) AND NOT stop_in OR previous(wait2) AND NOT stuck AND NOT stop_in)',
  'wait2': 'activate AND (previous(wait1) AND stop_in OR previous(wait2) AND NOT stuck AND stop_in AND NOT edge OR previous(error1) AND NOT reset)',
  'error1': 'activate AND (previous(wait2) AND stuck OR previous(error1) AND reset)',
  'stop': 'activate AND (previous(init) AND start_reset AND NOT stop_in OR previous(stop) AND NOT stop_in OR previous(waitr) AND NOT stuck AND NOT stop_in OR previous(enabled) AND NOT stop_in)',
  'waitr': 'activate AND (previous(stop) AND stop_in AND NOT auto_reset OR previous(waitr) AND NOT stuck AND stop_in AND NOT (edge OR auto_reset) OR previous(error2) AND NOT reset)',
  'error2': 'activate AND (previous(waitr) AND stuck OR previous(error2) AND reset)',
  'enabled': 'activate AND (previous(init) AND start_reset AND stop_in OR previous(wait2) AND NOT stuck AND stop_in AND edge OR previous(stop) AND stop_in AND auto_reset OR previous(waitr) AND NOT stuck AND stop_in AND (edge OR auto_reset) OR previous(enabled) AND stop_in)'},
'outputs': {'out': 'enabled', 'error': 'error1 OR error2'}
)";

}  // namespace

TEST_CASE("emergency stop block: states and shortest times") {
    // Computed independently: 16 reachable (code, memory) states; output after 4 cycles, with StartReset after 2.
    const auto m = shared_model(emergency_stop);
    const auto on = [&](const Scan& s, const char* name) { return std::get<bool>(s.signals[signal(*m, name)]); };
    const auto search = [&](const std::vector<std::string>& free, const std::function<void(long, const Scan&)>& look) {
        Search s(m);
        s.run(free, [&](long depth, const Scan& scan) {
            int codes = 0;
            for (const char* c : {"idle", "init", "wait1", "wait2", "error1", "stop", "waitr", "error2", "enabled"})
                codes += on(scan, c) ? 1 : 0;
            CHECK(codes == 1);
            CHECK(!(on(scan, "out") && on(scan, "error")));
            CHECK((!on(scan, "out") || on(scan, "stop_in")));
            look(depth, scan);
        });
        return s.count();
    };
    const auto shortest = [&](const std::vector<std::string>& free) {
        long least = -1;
        search(free, [&](long depth, const Scan& s) {
            if (on(s, "out") && (least < 0 || depth < least)) least = depth;
        });
        return least;
    };
    CHECK(search({"activate", "stop_in", "start_reset", "auto_reset", "reset"}, [](long, const Scan&) {}) == 16);
    CHECK(shortest({"activate", "stop_in", "reset"}) == 4);
    CHECK(shortest({"activate", "stop_in", "start_reset", "auto_reset", "reset"}) == 2);
    // Reset never pressed, parameters off: it never comes.
    CHECK(shortest({"activate", "stop_in"}) == -1);
}

TEST_CASE("the state text tells states apart that behave differently") {
    // Two interpreters with equal texts must answer equally for ever: random partner search on the element states.
    const auto m = shared_model(
        "'inputs': {'a': 'maintained', 'b': 'maintained'}, 'outputs': {"
        "'q': 'TP(TON(a, 20 ms) OR b, 20 ms) AND TOF(b, 30 ms) OR CTU(a, b, 2)'}");
    std::map<std::string, std::string> answers;
    for (unsigned path = 0; path < 1U << 12; ++path) {
        Interpreter i(*m, any_condition, {});
        Choices c;
        c.missed = {false, false};
        c.free_loads.resize(m->loads.size());
        for (unsigned n = 0; n < 6; ++n) {
            c.positions = {(path >> n) % 2 == 1, (path >> (n + 6)) % 2 == 1};
            i.step(c);
        }
        const std::string text = i.state_text();
        std::string answer;
        for (unsigned n = 0; n < 8; ++n) {
            c.positions = {n != 3, n % 4 == 1};
            const Scan s = i.step(c);
            answer += std::get<bool>(s.signals[signal(*m, "q")]) ? '1' : '0';
        }
        const auto [known, is_new] = answers.emplace(text, answer);
        if (!is_new) CHECK(known->second == answer);
    }
}
