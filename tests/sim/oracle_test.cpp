// Monitors of claims against oracles that are written here from the sentence of the claim, not from the monitor: on all
// short traces, and over all scans at which a watched window or a second part may begin.
#include <algorithm>
#include <deque>
#include <functional>

#include "bench.hpp"
#include "traces.hpp"

using namespace lanyard::sim;
using namespace lanyard::test;

namespace {

// What the claim says scan by scan when its inputs, two switches p and q, are these.
struct Said {
    long violated = none, demanded = none;  // the first such scan
};

class Switches {
 public:
    explicit Switches(const std::string& claim)
        : model_(shared_model("'inputs': {'p': 'maintained', 'q': 'maintained'}, 'outputs': {'out': 'p AND q'}, "
                              "'claims': {'c': " +
                              claim + "}")) {}

    // `moves_on`: the scan at which the claim's choice says so, none for never.
    Said play(const Trace& p, const Trace& q, long moves_on) const {
        Interpreter interpreter(*model_, any_condition, ClaimId(0));
        Choices c;
        c.missed = {false, false};
        c.free_loads.resize(model_->loads.size());
        Said said;
        for (std::size_t n = 0; n < p.size(); ++n) {
            const auto now = static_cast<long>(n);
            c.positions = {p[n], q[n]};
            c.claim_moves_on = now == moves_on;
            const Scan s = interpreter.step(c);
            if (!s.broken_rule.empty()) FAIL(s.broken_rule);
            if (s.violated && said.violated == none) said.violated = now;
            if (s.demanded && said.demanded == none) said.demanded = now;
        }
        return said;
    }
    // The earliest over all choices of where the window begins.
    Said earliest(const Trace& p, const Trace& q) const {
        Said all;
        for (long begin = 0; begin < static_cast<long>(p.size()); ++begin) {
            const Said one = play(p, q, begin);
            all.violated = earlier(all.violated, one.violated);
            all.demanded = earlier(all.demanded, one.demanded);
        }
        return all;
    }

 private:
    static long earlier(long a, long b) { return a == none ? b : b == none ? a : std::min(a, b); }

    std::shared_ptr<const Model> model_;
};

// Calls f with all pairs of traces of this length.
void all_pairs(int length, const std::function<void(const Trace&, const Trace&)>& f) {
    for (unsigned long p = 0; p < 1UL << length; ++p)
        for (unsigned long q = 0; q < 1UL << length; ++q) f(bits(p, length), bits(q, length));
}

std::string ms(long n) { return std::to_string(n) + " ms"; }

bool all(const Trace& t, long from, long to) {
    for (long n = from; n <= to; ++n)
        if (!t[static_cast<std::size_t>(n)]) return false;
    return true;
}

// Counts the traces on which the claim is broken and not, so that no comparison is one of nothing with nothing.
struct Spread {
    long broken = 0, kept = 0;
    void add(long violated) { ++(violated == none ? kept : broken); }
};

}  // namespace

TEST_CASE("change limit: every window is watched in some run") {
    // P = 10 ms, times that are multiples of it and some that are not.
    struct Limit {
        long at_most, in_any;
    };
    for (const Limit limit : {Limit{1, 10}, Limit{1, 30}, Limit{2, 30}, Limit{2, 45}, Limit{3, 69}, Limit{0, 20}}) {
        const Switches claim("{'changes': 'p', 'at_most': " + std::to_string(limit.at_most) + ", 'in_any': '" +
                             ms(limit.in_any) + "'}");
        const long window = limit.in_any / 10 + 1;
        Spread spread;
        constexpr int length = 10;
        for (unsigned long word = 0; word < 1UL << length; ++word) {
            const Trace p = bits(word, length);
            std::deque<long> changes;  // scans of the last window at which it changed
            long expected = none;
            for (long n = 1; n < length && expected == none; ++n) {
                const auto i = static_cast<std::size_t>(n);
                if (p[i] != p[i - 1]) changes.push_back(n);
                while (!changes.empty() && changes.front() <= n - window) changes.pop_front();
                if (static_cast<long>(changes.size()) > limit.at_most) expected = n;
            }
            spread.add(expected);
            const long said = claim.earliest(p, Trace(length, false)).violated;
            if (said != expected) {
                CAPTURE(limit.at_most, limit.in_any, text(p));
                CHECK(said == expected);
            }
        }
        CHECK(spread.broken > 0);
        CHECK(spread.kept > 0);
    }
}

TEST_CASE("response in total: every window is watched in some run") {
    struct Times {
        long total, out_of, within;
    };
    for (const Times t : {Times{20, 40, 20}, Times{20, 45, 40}, Times{30, 30, 49}, Times{10, 50, 30}, Times{25, 60, 30},
                          Times{20, 40, 19}}) {
        const Switches claim("{'whenever': 'p', 'for': '" + ms(t.total) + "', 'out_of': '" + ms(t.out_of) +
                             "', 'then': 'q', 'within': '" + ms(t.within) + "'}");
        const long calls = std::max(1L, t.total / 10), window = std::max(1L, t.out_of / 10);
        const long bound = t.within < 20 ? 0 : std::max(1L, t.within / 10 - 1);  // 0: no controller is that fast
        Spread spread;
        constexpr int length = 6;
        all_pairs(length, [&](const Trace& p, const Trace& q) {
            Said expected;
            for (long n = 0; n < length; ++n) {
                long counted = 0;
                for (long back = n; back > n - window && back >= 0; --back)
                    counted += p[static_cast<std::size_t>(back)] ? 1 : 0;
                if (!p[static_cast<std::size_t>(n)] || counted < calls) continue;
                if (expected.demanded == none) expected.demanded = n;
                const long last = bound == 0 ? n : n + bound - 1;
                if (last >= length || (bound > 0 && any(q, n, last))) continue;
                if (expected.violated == none) expected.violated = last;
            }
            spread.add(expected.violated);
            const Said said = claim.earliest(p, q);
            if (said.violated != expected.violated || said.demanded != expected.demanded) {
                CAPTURE(t.total, t.out_of, t.within, text(p), text(q));
                CHECK(said.violated == expected.violated);
                CHECK(said.demanded == expected.demanded);
            }
        });
        CHECK(spread.broken > 0);
        CHECK(spread.kept > 0);
    }
}

TEST_CASE("response once begun: directly from its sentence") {
    // Whenever p has held max(1, floor(d / P)) scans, q is true at some scan no later than number
    // max(1, floor((d + t) / P) - 1), counted from the first of them as 1, whatever p does since.
    struct Times {
        long held, within;
    };
    for (const Times t : {Times{0, 20}, Times{0, 49}, Times{20, 20}, Times{25, 25}, Times{30, 40}, Times{20, 19}}) {
        const Switches claim("{'once': 'p', 'for': '" + ms(t.held) + "', 'then': 'q', 'within': '" + ms(t.within) +
                             "'}");
        const long calls = std::max(1L, t.held / 10), bound = std::max(1L, (t.held + t.within) / 10 - 1);
        Spread spread;
        constexpr int length = 7;
        all_pairs(length, [&](const Trace& p, const Trace& q) {
            Said expected;
            for (long first = 0; first + calls <= length; ++first) {
                if (!all(p, first, first + calls - 1)) continue;
                if (expected.demanded == none) expected.demanded = first + calls - 1;
                const bool too_fast = t.within < 20;
                const long last = too_fast ? first + calls - 1 : first + std::max(bound, calls) - 1;
                if (last >= length || (!too_fast && any(q, first, last))) continue;
                if (expected.violated == none) expected.violated = last;
            }
            spread.add(expected.violated);
            const Said said = claim.play(p, q, none);
            if (said.violated != expected.violated || said.demanded != expected.demanded) {
                CAPTURE(t.held, t.within, text(p), text(q));
                CHECK(said.violated == expected.violated);
                CHECK(said.demanded == expected.demanded);
            }
        });
        CHECK(spread.broken > 0);
        CHECK(spread.kept > 0);
    }
}

TEST_CASE("response in its manners: what each of them owes to one trace") {
    // p for three scans, a gap, p for three scans; q never, or at the end.
    const Trace p{true, true, true, false, true, true, true, false, false, false}, never(10, false);
    const auto claim = [&](const std::string& kind) { return Switches("{" + kind + ", 'then': 'q'}"); };
    const auto lasts = claim("'whenever': 'p', 'for': '20 ms', 'within': '40 ms'");  // at its fifth scan, never reached
    CHECK(lasts.play(p, never, none).demanded == none);
    const auto once = claim("'once': 'p', 'for': '20 ms', 'within': '40 ms'");  // by scan number 5 of the first run
    CHECK(once.play(p, never, none).violated == 4);
    const auto total = claim("'whenever': 'p', 'for': '50 ms', 'out_of': '80 ms', 'within': '40 ms'");
    CHECK(total.earliest(p, never).demanded == 5);
    CHECK(total.earliest(p, never).violated == 7);
    Trace late = never;
    late[7] = true;
    CHECK(total.earliest(p, late).violated == none);
    CHECK(once.play(p, late, none).violated == 4);
}
