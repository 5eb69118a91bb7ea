// What lemmas fix of single pieces of state, and what they leave open.
#include "certify/facts.hpp"

#include <catch2/catch.hpp>

#include "certify/lemma_text.hpp"

using namespace lanyard::certify;

namespace {

struct Lemmas {
    z3::context ctx;
    System system{ctx};
    const StateKey a{StateRole::begun}, b{StateRole::seen, Whole::claim}, n{StateRole::step, Whole::claim};
    Lemmas() {
        add(a, "s.a b", ctx.bool_sort());
        add(b, "s.b", ctx.bool_sort());
        add(n, "s.n", ctx.int_sort());
        add({StateRole::age, Whole::claim}, "s.x", ctx.real_sort());
    }
    void add(const StateKey& key, const char* name, const z3::sort& sort) {
        const z3::expr v = ctx.constant(name, sort);
        system.state.push_back({key, v, v, v, "", false, 0});
    }
    Facts facts(const std::vector<std::string>& texts) {
        const auto lemmas = parse_lemmas(system, texts);
        REQUIRE(lemmas);
        return facts_of(system, *lemmas);
    }
};

}  // namespace

TEST_CASE("a bit, its negation and conjunctions of them fix it") {
    Lemmas l;
    CHECK(l.facts({"s.b"}).fixed == std::map<StateKey, bool>{{l.b, true}});
    CHECK(l.facts({"(not |s.a b|)"}).fixed == std::map<StateKey, bool>{{l.a, false}});
    CHECK(l.facts({"(and |s.a b| (and (= s.n 3) (not s.b)))"}).fixed ==
          std::map<StateKey, bool>{{l.a, true}, {l.b, false}});
    CHECK(l.facts({"s.b", "(or |s.a b| s.b)"}).fixed == std::map<StateKey, bool>{{l.b, true}});
    CHECK(l.facts({"s.b"}).at_least.empty());
}

TEST_CASE("a count has a least value") {
    Lemmas l;
    const auto least = [&l](const std::string& text) {
        const Facts facts = l.facts({text});
        CHECK(facts.fixed.empty());
        return facts.at_least.contains(l.n) ? facts.at_least.at(l.n) : -1;
    };
    CHECK(least("(>= s.n 2)") == 2);
    CHECK(least("(> s.n 2)") == 3);
    CHECK(least("(= s.n 2)") == 2);
    CHECK(least("(not (< s.n 2))") == 2);
    CHECK(least("(not (<= s.n 2))") == 3);
    for (const char* none : {"(<= s.n 2)", "(< s.n 2)", "(not (>= s.n 2))", "(not (= s.n 2))", "(>= s.n (- 2))",
                             "(>= s.n 99999999999999999999)", "(>= 2 s.n)", "(>= s.x 2.0)", "(>= (+ s.n 1) 2)"})
        CHECK(least(none) == -1);
    CHECK(l.facts({"(>= s.n 2)", "(>= s.n 1)"}).at_least.at(l.n) == 2);
}

TEST_CASE("what holds in some states alone is no fact") {
    Lemmas l;
    for (const char* text : {"(or |s.a b| s.b)", "(=> s.b |s.a b|)", "(= s.b |s.a b|)", "(not (and s.b |s.a b|))",
                             "(or s.b (>= s.n 2))", "true", "(ite s.b |s.a b| s.b)"}) {
        const Facts facts = l.facts({text});
        CHECK(facts.fixed.empty());
        CHECK(facts.at_least.empty());
    }
}
