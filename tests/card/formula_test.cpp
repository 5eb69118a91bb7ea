// Sizes of test sets, against a search of all sets for what the definition says. Source of the definition: RTCA
// DO-178C, glossary (modified condition/decision coverage); K. Hayhurst et al., NASA/TM-2001-210876; masking by Boolean
// difference: J. Chilenski, DOT/FAA/AR-01/18.
#include <algorithm>
#include <bit>
#include <catch2/catch.hpp>
#include <functional>

#include "card/formula.hpp"

using namespace lanyard::card;

namespace {

using Function = std::function<bool(unsigned)>;
bool bit(unsigned v, unsigned c) { return (v >> c & 1U) != 0; }

// Two tests show that a condition acts alone. Unique cause: all others are the same in both.
bool is_pair(const Function& f, unsigned c, unsigned v, unsigned w, bool unique_cause) {
    if (bit(v, c) == bit(w, c) || f(v) == f(w)) return false;
    if (unique_cause) return (v ^ w) == 1U << c;
    return f(v) != f(v ^ (1U << c)) && f(w) != f(w ^ (1U << c));
}

bool covers(const Function& f, unsigned n, const std::vector<unsigned>& set, bool unique_cause) {
    for (unsigned c = 0; c < n; ++c) {
        bool shown = false;
        for (const unsigned v : set)
            for (const unsigned w : set) shown = shown || is_pair(f, c, v, w, unique_cause);
        if (!shown) return false;
    }
    return true;
}

bool some_set_covers(const Function& f, unsigned n, std::size_t size, unsigned from, std::vector<unsigned>& set,
                     bool unique_cause) {
    if (set.size() == size) return covers(f, n, set, unique_cause);
    for (unsigned v = from; v < 1U << n; ++v) {
        set.push_back(v);
        if (some_set_covers(f, n, size, v + 1, set, unique_cause)) return true;
        set.pop_back();
    }
    return false;
}

// 0: no set does.
std::size_t least_by_search(const Function& f, unsigned n, bool unique_cause = false) {
    for (std::size_t size = 1; size <= std::min(1U << n, 2 * n); ++size) {
        std::vector<unsigned> set;
        if (some_set_covers(f, n, size, 0, set, unique_cause)) return size;
    }
    return 0;
}

TestSet ours(const Function& f, unsigned n) {
    const auto all = [](Combination) { return true; };
    return smallest_tests(TruthTable(n, f), all, all);
}

const Function and2 = [](unsigned v) { return bit(v, 0) && bit(v, 1); };
const Function or_and = [](unsigned v) { return (bit(v, 0) || bit(v, 1)) && (bit(v, 2) || bit(v, 3)); };
const Function and_or = [](unsigned v) { return (bit(v, 0) && bit(v, 1)) || bit(v, 2); };
const Function two_of_three = [](unsigned v) { return std::popcount(v & 7U) >= 2; };
const Function exclusive = [](unsigned v) { return bit(v, 0) != bit(v, 1); };
const Function series5 = [](unsigned v) { return (v & 31U) == 31U; };

}  // namespace

TEST_CASE("least sizes of test sets") {
    CHECK(ours(and2, 2).tests.size() == 3);
    CHECK(ours(or_and, 4).tests.size() == 4);
    CHECK(ours(and_or, 3).tests.size() == 4);
    CHECK(ours(two_of_three, 3).tests.size() == 4);
    CHECK(ours(exclusive, 2).tests.size() == 3);
    CHECK(ours(series5, 5).tests.size() == 6);
}

TEST_CASE("the same sizes by a search of all sets") {
    CHECK(least_by_search(and2, 2) == 3);
    CHECK(least_by_search(or_and, 4) == 4);
    CHECK(least_by_search(or_and, 4, true) == 5);  // unique cause needs one more
    CHECK(least_by_search(and_or, 3) == 4);
    CHECK(least_by_search(two_of_three, 3) == 4);
    CHECK(least_by_search(exclusive, 2) == 3);
    CHECK(least_by_search(series5, 5) == 6);
}

TEST_CASE("all functions of three conditions: size and coverage are those of the search") {
    for (unsigned table = 0; table < 256; ++table) {
        const Function f = [table](unsigned v) { return bit(table, v & 7U); };
        const TestSet set = ours(f, 3);
        const std::size_t least = least_by_search(f, 3);
        INFO("truth table " << table);
        if (least == 0) {
            CHECK_FALSE(set.not_shown.empty());
        } else {
            CHECK(set.not_shown.empty());
            CHECK(set.tests.size() == least);
            CHECK(covers(f, 3, set.tests, false));
        }
    }
}

TEST_CASE("what is not allowed is not used, and what cannot be shown then is named") {
    // A AND B without A on, B off: B cannot be shown.
    const auto no_b = [](Combination v) { return v != 1U; };
    const TestSet set = smallest_tests(TruthTable(2, and2), no_b, no_b);
    CHECK(set.not_shown == std::vector<std::size_t>{1});
    CHECK(set.tests == std::vector<Combination>{2, 3});
}

TEST_CASE("ten conditions in series need eleven tests") {
    const Function f = [](unsigned v) { return (v & 1023U) == 1023U; };
    const TestSet set = ours(f, 10);
    CHECK(set.tests.size() == 11);
    CHECK(set.least);
}
