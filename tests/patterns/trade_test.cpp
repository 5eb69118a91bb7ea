// The words of the trade that remember something, against plain programs of what they say.
#include <catch2/catch.hpp>

#include "traces.hpp"

using namespace lanyard::sim;
using namespace lanyard::test;

namespace {

using Program = std::function<bool(const Trace&)>;

void compare_word(const std::string& claim, const Program& holds) {
    const Model m = model_with(claim);
    const Judge judge(m);
    int broken = 0;
    int kept = 0;
    for_each_trace(5, false, [&](const Trace& t) {
        const bool right = holds(t);
        if (judge.holds(t) != right) FAIL(claim << " differs on " << shown(t));
        ++(right ? kept : broken);
    });
    CHECK(broken > 0);
    CHECK(kept > 0);
}

}  // namespace

TEST_CASE("never both") {
    compare_word("{ 'never_both': ['p', 'q', 'r'] }", [](const Trace& t) {
        for (const auto& l : t)
            if (l.p + l.q + l.r > 1) return false;
        return true;
    });
}

TEST_CASE("runs only while, at every scan and in time") {
    compare_word("{ 'load': 'a', 'runs_only_while': 'q' }", [](const Trace& t) {
        for (const auto& l : t)
            if (l.p && !l.q) return false;
        return true;
    });
    compare_word("{ 'load': ['a', 'b'], 'runs_only_while': 'r', 'within': '40 ms' }", [](const Trace& t) {
        int without = 0;
        for (const auto& l : t) {
            without = l.r ? 0 : without + 1;
            if (without >= bound && (l.p || l.q)) return false;
        }
        return true;
    });
}

TEST_CASE("stays off until, once and anew each time") {
    compare_word("{ 'load': 'a', 'stays_off_until': 'q' }", [](const Trace& t) {
        bool happened = false;
        for (const auto& l : t) {
            happened = happened || l.q;
            if (l.p && !happened) return false;
        }
        return true;
    });
    compare_word("{ 'load': 'a', 'stays_off_until': 'q', 'since': 'r' }", [](const Trace& t) {
        bool waiting = false;
        for (const auto& l : t) {
            waiting = !l.q && (waiting || l.r);
            if (l.p && waiting) return false;
        }
        return true;
    });
    compare_word("{ 'load': 'a', 'stays_off_until': 'q', 'since': 'r', 'within': '40 ms' }", [](const Trace& t) {
        int waiting = 0;
        for (const auto& l : t) {
            waiting = !l.q && (waiting > 0 || l.r) ? waiting + 1 : 0;
            if (l.p && waiting >= bound) return false;
        }
        return true;
    });
}

TEST_CASE("releasing restarts nothing") {
    // Off at the last scan of the stop, and on again before the word was given.
    compare_word("{ 'releasing_restarts_nothing': 'r', 'load': 'a', 'until': 'q' }", [](const Trace& t) {
        bool stopped = false;
        for (const auto& l : t) {
            if (stopped && !l.q && l.p) return false;
            stopped = !l.q && (stopped || (l.r && !l.p));
        }
        return true;
    });
}

TEST_CASE("primes for at most") {
    compare_word("{ 'load': 'a', 'primes_for_at_most': '20 ms', 'while': 'q' }", [](const Trace& t) {
        int scans = 0;  // of 10 ms each
        for (const auto& l : t) {
            scans = l.p && l.q ? scans + 1 : 0;
            if (scans > 2) return false;
        }
        return true;
    });
}

TEST_CASE("never cuts by itself, kills, override") {
    compare_word("{ 'never_cuts_by_itself': ['a', 'b'], 'while': 'r', 'under': 'any' }", [](const Trace& t) {
        for (const auto& l : t)
            if (l.r && !(l.p && l.q)) return false;
        return true;
    });
    compare_word("{ 'switch': 'r', 'kills': ['a', 'b'], 'within': '40 ms' }", [](const Trace& t) {
        int pressed = 0;
        for (const auto& l : t) {
            pressed = l.r ? pressed + 1 : 0;
            if (pressed >= bound && (l.p || l.q)) return false;
        }
        return true;
    });
    compare_word("{ 'override_cannot_defeat': 'r', 'cuts': 'a', 'whenever': 'q', 'within': '40 ms' }",
                 [](const Trace& t) {
                     int owed = 0;
                     for (const auto& l : t) {
                         owed = l.q && l.r ? owed + 1 : 0;
                         if (owed >= bound && l.p) return false;
                     }
                     return true;
                 });
}
