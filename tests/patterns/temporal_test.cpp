// The property patterns against their published formulas, on all short traces.
//
// The formulas are those of M. B. Dwyer, G. S. Avrunin, J. C. Corbett, "Patterns in property specifications for
// finite-state verification", ICSE 1999, in linear temporal logic. Absence after Q until R and response are checked
// against the published text; all others are written from memory of it. Operators are read on the finite trace: W and
// [] hope for the best behind its end, U and <> have to be seen. Where a bound is asked for, <> and U become "within
// so many scans", which is not broken before these are over.
#include <catch2/catch.hpp>

#include "traces.hpp"

using namespace lanyard::sim;
using namespace lanyard::test;

namespace {

using Formula = std::function<bool(const Trace&, int)>;

int length(const Trace& t) { return static_cast<int>(t.size()); }
const Letters& at(const Trace& t, int i) { return t[static_cast<std::size_t>(i)]; }

const Formula P = [](const Trace& t, int i) { return at(t, i).p; };
const Formula Q = [](const Trace& t, int i) { return at(t, i).q; };
const Formula R = [](const Trace& t, int i) { return at(t, i).r; };
const Formula S = [](const Trace& t, int i) { return at(t, i).s; };

Formula no(Formula f) {
    return [=](const Trace& t, int i) { return !f(t, i); };
}
Formula both(Formula f, Formula g) {
    return [=](const Trace& t, int i) { return f(t, i) && g(t, i); };
}
Formula either(Formula f, Formula g) {
    return [=](const Trace& t, int i) { return f(t, i) || g(t, i); };
}
Formula implies(Formula f, Formula g) { return either(no(f), g); }
Formula always(Formula f) {
    return [=](const Trace& t, int i) {
        for (int j = i; j < length(t); ++j)
            if (!f(t, j)) return false;
        return true;
    };
}
Formula until(Formula f, Formula g) {
    return [=](const Trace& t, int i) {
        for (int j = i; j < length(t); ++j) {
            if (g(t, j)) return true;
            if (!f(t, j)) return false;
        }
        return false;
    };
}
Formula unless(Formula f, Formula g) { return either(always(f), until(f, g)); }  // W
Formula sometime(Formula f) {
    return until([](const Trace&, int) { return true; }, f);
}
// U with a bound on how many scans it may take, the present one included.
Formula soon_until(Formula f, Formula g) {
    return [=](const Trace& t, int i) {
        for (int j = i; j < i + bound; ++j) {
            if (j >= length(t) || g(t, j)) return true;
            if (!f(t, j)) return false;
        }
        return false;
    };
}
Formula soon(Formula f) {
    return soon_until([](const Trace&, int) { return true; }, f);
}
// From the first Q on.
Formula after_first_q(Formula f) { return unless(no(Q), both(Q, f)); }
Formula open_q(Formula f) { return always(implies(both(Q, no(R)), f)); }                       // after .. until
Formula closed_q(Formula f) { return always(implies(both(both(Q, no(R)), sometime(R)), f)); }  // between
Formula if_r(Formula f) { return implies(sometime(R), f); }                                    // before

struct Row {
    const char* scope;  // the keys of the claim besides the pattern's own
    Formula published;
};

void compare(const std::string& pattern, bool four, const std::vector<Row>& rows) {
    for (const Row& row : rows) {
        const Model m = model_with("{ " + pattern + row.scope + " }");
        const Judge judge(m);
        int broken = 0;
        int kept = 0;
        const auto look = [&](const Trace& t) {
            // A violation may be told late, where a bound has to be over, but never where there is none.
            if (!judge.holds(t) && row.published(t, 0)) FAIL(pattern << row.scope << " refuted by " << shown(t));
            const Trace whole = judge.at_once() ? t : padded(t);
            const bool right = row.published(whole, 0);
            if (judge.holds(whole) != right) FAIL(pattern << row.scope << " differs on " << shown(whole));
            ++(right ? kept : broken);
        };
        for_each_trace(four ? 4 : 5, four, look);
        CHECK(broken > 0);
        CHECK(kept > 0);
    }
    CHECK(rows.size() == 5);
}

const char* const before = ", 'before': 'r'";
const char* const after = ", 'after': 'q'";
const char* const between = ", 'between': 'q', 'and': 'r'";
const char* const after_until = ", 'after': 'q', 'until': 'r'";

std::string in_time(const char* scope) { return std::string(scope) + ", 'within': '40 ms'"; }

}  // namespace

TEST_CASE("absence") {
    compare("'absence': 'p'", false,
            {{"", always(no(P))},                         // [](!P)
             {before, if_r(until(no(P), R))},             // <>R -> (!P U R)
             {after, always(implies(Q, always(no(P))))},  // [](Q -> [](!P))
             {between, closed_q(until(no(P), R))},        // []((Q & !R & <>R) -> (!P U R))
             {after_until, open_q(unless(no(P), R))}});   // [](Q & !R -> (!P W R))
}

TEST_CASE("universality") {
    compare("'universality': 'p'", false,
            {{"", always(P)},                         // [](P)
             {before, if_r(until(P, R))},             // <>R -> (P U R)
             {after, always(implies(Q, always(P)))},  // [](Q -> [](P))
             {between, closed_q(until(P, R))},        // []((Q & !R & <>R) -> (P U R))
             {after_until, open_q(unless(P, R))}});   // [](Q & !R -> (P W R))
}

TEST_CASE("existence, with a bound in open scopes") {
    const Formula p_before_r = both(P, no(R));
    const std::string whole = in_time(""), after_q = in_time(after), until_r = in_time(after_until);
    compare("'existence': 'p'", false,
            {{whole.c_str(), soon(P)},                   // <>(P)
             {before, unless(no(R), p_before_r)},        // !R W (P & !R)
             {after_q.c_str(), after_first_q(soon(P))},  // [](!Q) | <>(Q & <>P)
             {between, always(implies(both(both(Q, no(R)), sometime(R)), unless(no(R), p_before_r)))},
             // [](Q & !R -> (!R W (P & !R))); what is written here differs only where R never comes, and there W holds
             {until_r.c_str(), open_q(soon_until(no(R), p_before_r))}});  // [](Q & !R -> (!R U (P & !R)))
}

TEST_CASE("response, with a bound in open scopes") {
    const Formula s_before_r = both(S, no(R));
    const Formula answered = implies(P, until(no(R), s_before_r));
    const Formula answered_soon = implies(P, soon_until(no(R), s_before_r));
    const std::string whole = in_time(""), after_q = in_time(after), until_r = in_time(after_until);
    compare("'response': 'x', 'to': 'p'", true,
            {{whole.c_str(), always(implies(P, soon(S)))},                        // [](P -> <>S)
             {before, if_r(until(answered, R))},                                  // <>R -> (P -> (!R U (S & !R))) U R
             {after_q.c_str(), always(implies(Q, always(implies(P, soon(S)))))},  // [](Q -> [](P -> <>S))
             {between, closed_q(until(answered, R))},                // []((Q & !R & <>R) -> (P -> (!R U (S & !R))) U R)
             {until_r.c_str(), open_q(unless(answered_soon, R))}});  // [](Q & !R -> ((P -> (!R U (S & !R))) W R))
}

TEST_CASE("precedence") {
    const Formula s_or_r = either(S, R);
    compare("'precedence': 'x', 'over': 'p'", true,
            {{"", unless(no(P), S)},                          // !P W S
             {before, if_r(until(no(P), s_or_r))},            // <>R -> (!P U (S | R))
             {after, after_first_q(unless(no(P), S))},        // []!Q | <>(Q & (!P W S)), from the first Q on
             {between, closed_q(until(no(P), s_or_r))},       // []((Q & !R & <>R) -> (!P U (S | R)))
             {after_until, open_q(unless(no(P), s_or_r))}});  // [](Q & !R -> (!P W (S | R)))
}
