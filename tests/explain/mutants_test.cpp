// Mutation scores counted by hand. The mutants are those of DeMillo, Lipton & Sayward's idea (see explain/mutants.hpp);
// which of them a claim notices follows from truth tables on the margin.
#include "explain/mutants.hpp"

#include <catch2/catch.hpp>
#include <set>

#include "claims/question.hpp"
#include "explain/mutation.hpp"
#include "model/make_expr.hpp"
#include "prove/known.hpp"
#include "report/mutants.hpp"
#include "sim/world.hpp"
#include "support.hpp"

using namespace lanyard::explain;
using namespace lanyard::report;
using namespace lanyard::test;

namespace {

MutationScore score_of(const Model& m, unsigned jobs = 1) {
    MutationOptions o;
    for (const ClaimId k : m.claims.ids()) o.driver.claims.push_back(k);
    o.driver.jobs = jobs;
    return mutation_score(m, o);
}

Model lamp(const std::string& is, const std::string& claims) {
    return model_from(R"({"lanyard": 1, "name": "m", "inputs": {"a": "maintained", "b": "maintained"},
      "outputs": {"lamp": ")" +
                      is + R"("}, "claims": {)" + claims + "}}");
}

// "stuck on:killed, ..." in order
std::string fates(const Model& m, const MutationScore& s) {
    static constexpr const char* words[] = {"killed", "survived", "undecided", "equivalent"};
    std::string out;
    for (const auto& x : s.mutants) out += mutant_words(m, x.mutant) + ": " + words[ordinal(x.fate)] + "\n";
    return out;
}

const std::string needs_a = R"("needs a": {"always": "NOT a -> NOT lamp"})";
const std::string needs_b = R"("needs b": {"always": "NOT b -> NOT lamp"})";
const std::string lights = R"("lights": {"always": "a AND b -> lamp"})";

}  // namespace

TEST_CASE("a claim that looks at one input of an AND notices four of seven") {
    const Model m = lamp("a AND b", needs_a);
    const MutationScore s = score_of(m);
    CHECK(fates(m, s) ==
          "stuck on: killed\n"
          "stuck off: survived\n"                     // never lit: nothing forbids that
          "OR instead of AND in `a AND b`: killed\n"  // b alone lights it
          "`a` left out: killed\n"
          "`b` left out: survived\n"
          "`a` negated: killed\n"
          "`b` negated: survived\n");
    const std::string text = mutation_text(m, s);
    CHECK(text.find("score         4 of 7, 57 %\n") != std::string::npos);
    CHECK(text.find("car.json:2:34") != std::string::npos);
}

TEST_CASE("each further claim notices more, until nothing survives") {
    const Model two = lamp("a AND b", needs_a + ", " + lights);
    CHECK(score_of(two).count(MutantFate::survived) == 1);  // b left out
    const Model all = lamp("a AND b", needs_a + ", " + lights + ", " + needs_b);
    const MutationScore s = score_of(all);
    CHECK(s.count(MutantFate::killed) == 7);
    CHECK(s.unneeded.empty());
}

TEST_CASE("what changes nothing is proved to, and does not count") {
    // By absorption a AND (a OR b) = a: three of the eleven are again a.
    const Model m = lamp("a AND (a OR b)", needs_a + R"(, "with a": {"always": "a -> lamp"})");
    const MutationScore s = score_of(m);
    INFO(fates(m, s));
    CHECK(s.count(MutantFate::equivalent) == 3);
    CHECK(s.count(MutantFate::killed) == 8);
    CHECK(mutation_text(m, s).find("score         8 of 8, 100 %\n") != std::string::npos);
}

TEST_CASE("thresholds and timers: only the dangerous way is noticed") {
    const Model m = model_from(R"json({"lanyard": 1, "name": "m", "inputs": {"key": "maintained",
      "oil": {"senses": "oil_pressure"}}, "outputs": {"run": "key AND NOT TON(oil < 1 bar, 1 s)"},
      "claims": {"cut": {"whenever": "oil_pressure < 0.9 bar", "then": "NOT run", "within": "1.1 s"}}})json");
    const MutationScore s = score_of(m);
    CHECK(fates(m, s) ==
          "stuck on: killed\n"
          "stuck off: survived\n"
          "OR instead of AND in `key AND NOT TON(oil < 1 bar, 1 s)`: killed\n"
          "`key` left out: survived\n"
          "`NOT TON(oil < 1 bar, 1 s)` left out: killed\n"
          "`key` negated: survived\n"
          "`TON(oil < 1 bar, 1 s)` without its timer: survived\n"  // cuts at once: not too late
          "`TON(oil < 1 bar, 1 s)` with 2 s: killed\n"
          "`oil < 1 bar` negated: killed\n"
          "`oil < 1 bar` with 0.65 bar: killed\n"  // 5 psi, a twentieth of 0 .. 100 psi, lower
          "`oil < 1 bar` with 1.35 bar: survived\n");
}

TEST_CASE("what no proof needs is named; what is refuted already judges nothing") {
    const Model m = model_from(R"({"lanyard": 1, "name": "m", "inputs": {"a": "maintained", "b": "maintained"},
      "outputs": {"lamp": "a", "horn": "b"},
      "claims": {"lit": {"always": "a -> lamp"}, "wrong": {"always": "NOT horn"}}})");
    const MutationScore s = score_of(m);
    REQUIRE(s.unneeded.size() == 1);
    CHECK(m.name_of(s.unneeded[0]) == "horn");
    CHECK(s.judges == std::vector{ClaimId(0)});
    CHECK(s.silent == std::vector{ClaimId(1)});
    for (const auto& x : s.mutants)
        if (m.name_of(x.mutant.signal) == "horn") CHECK(x.fate == MutantFate::survived);
}

TEST_CASE("thresholds of a band do not pass each other, and a vote wants one more or one less") {
    const Model m = model_from(R"json({"lanyard": 1, "name": "m", "inputs": {"a": "maintained",
      "b": "maintained", "c": "maintained", "t": {"senses": "coolant_temperature"}},
      "outputs": {"fan": "band(t, on > 95 degC, off < 94 degC)", "two": "2 of (a, b, c)"},
      "claims": {"x": {"always": "TRUE"}}})json");
    std::vector<std::string> found;
    for (const auto& x : mutants_of(m)) {
        if (x.kind == MutantKind::moved || x.kind == MutantKind::swapped) found.push_back(mutant_words(m, x));
        // Every mutant is a model that can be played.
        const Model changed = mutated(m, x);
        const Run run = random_run(changed, any_condition, {}, 1, 20);
        CHECK(replay(changed, run, any_condition, {}).legal);
    }
    REQUIRE(found.size() == 4);
    CHECK(found[2] == "`2 of (a, b, c)` with 1 of them");
    CHECK(found[3] == "`2 of (a, b, c)` with 3 of them");
}

TEST_CASE("any number of threads says the same") {
    const Model m = lamp("a AND (a OR b)", needs_a + ", " + lights);
    CHECK(mutation_json(m, score_of(m, 1), {"0.1.0", "Z3"}) == mutation_json(m, score_of(m, 2), {"0.1.0", "Z3"}));
}

TEST_CASE("answers about different mutants are kept apart") {
    const Model m = lamp("TON(a, 1 s) AND (b OR 2 of (a, b, NOT a)) AND NOT (a AND b)", needs_a);
    const auto key = [](const Model& changed) { return key_of(question_about(changed, ClaimId(0)), {}).exact; };
    std::set<std::string> keys{key(m)}, definitions;
    for (const Mutant& mutant : mutants_of(m)) {
        keys.insert(key(mutated(m, mutant)));
        definitions.insert(lanyard::model::text_of(m, *mutant.definition));
    }
    CHECK(definitions.size() > 15);
    CHECK(keys.size() == definitions.size() + 1);
}

TEST_CASE("the mutants of all shares are the mutants of one run") {
    const Model m = lamp("a AND b", needs_a);
    const MutationScore whole = score_of(m);
    for (const std::size_t shares : {1U, 2U, 3U, 9U}) {
        std::size_t judged = 0;
        for (std::size_t share = 1; share <= shares; ++share) {
            MutationOptions o;
            o.driver.claims = {ClaimId(0)};
            o.share = share;
            o.shares = shares;
            const MutationScore part = mutation_score(m, o);
            for (std::size_t k = 0; k < part.mutants.size(); ++k, ++judged) {
                const JudgedMutant& same = whole.mutants.at(share - 1 + k * shares);
                CHECK(mutant_words(m, part.mutants[k].mutant) == mutant_words(m, same.mutant));
                CHECK(part.mutants[k].fate == same.fate);
            }
        }
        CHECK(judged == whole.mutants.size());
    }
}
