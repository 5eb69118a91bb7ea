// Cut sets of the timed system: against handbook trees, and against one verdict a set of faults.
#include "fault/analysis.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <set>

#include "../models.hpp"
#include "fault/effects.hpp"
#include "fault/likelihood.hpp"
#include "prove/judge.hpp"
#include "prove/known.hpp"

namespace fault = lanyard::fault;
using namespace lanyard::fault;
using namespace lanyard::test;

namespace {

using Sets = std::set<std::set<std::string>>;

std::vector<FaultId> faults_named(const Model& m, const std::vector<std::string>& names) {
    std::vector<FaultId> out;
    for (const FaultId f : m.faults.ids())
        if (std::find(names.begin(), names.end(), m.faults[f].name) != names.end()) out.push_back(f);
    REQUIRE(out.size() == names.size());
    return out;
}

ClaimFaults analysed(const Model& m, const std::vector<FaultId>& faults, int order) {
    FaultOptions options;
    options.driver.claims = {ClaimId(0)};
    options.faults = faults;
    options.order = order;
    return analyse_faults(m, options).claims.front();
}

Sets names_of(const Model& m, const ClaimFaults& c) {
    Sets out;
    for (const auto& s : c.sets) {
        std::set<std::string> names;
        for (const FaultId f : s.faults) names.insert(m.faults[f].name);
        out.insert(names);
    }
    return out;
}

bool complete(const ClaimFaults& c, int order) {
    return c.not_judged.empty() && c.orders.size() == static_cast<std::size_t>(order) && c.orders.back().complete;
}

// The minimal ones of the sets of at most two faults for which the claim, judged by itself, does not hold.
Sets one_by_one(const Model& m, const std::vector<FaultId>& faults) {
    std::vector<std::vector<FaultId>> bad;
    const auto breaks = [&](const std::vector<FaultId>& set) {
        for (const auto& b : bad)
            if (std::includes(set.begin(), set.end(), b.begin(), b.end())) return;
        const bool possible = std::holds_alternative<Possible>(m.claims.front().body);
        const Model with = with_faults(m, ClaimId(0), {set, static_cast<int>(set.size()), false, possible});
        const ClaimResult r = judge(with, ClaimId(0), {});
        REQUIRE(!std::holds_alternative<Undecided>(r.verdict));
        if (std::holds_alternative<Refuted>(r.verdict)) bad.push_back(set);
    };
    for (const FaultId f : faults) breaks({f});
    for (const FaultId f : faults)
        for (const FaultId g : faults)
            if (f < g) breaks({f, g});
    ClaimFaults c;
    for (const auto& b : bad) c.sets.push_back({b, std::nullopt, std::nullopt, 0});
    return names_of(m, c);
}

const char* two_switches = R"({
 "lanyard": 1, "name": "two master switches in a row",
 "circuit": {
  "parts": { "battery": "battery", "master": { "is": "switch", "switch": "maintained", "poles": 2 }, "coils": "load" },
  "wires": { "W1": "battery - master.1 - mid", "W2": "mid - master.2 - ign", "W3": "ign - coils - ground" } },
 "claims": { "off": { CLAIM } } })";

std::string with_claim(const std::string& claim) {
    std::string text = two_switches;
    return text.replace(text.find("CLAIM"), 5, claim);
}

}  // namespace

// Fault Tree Handbook (NUREG-0492) as in a public test set: see trees.hpp. 12 minimal cut sets, one of order 1, three
// of order 2, eight of order 4; 0.0211538 exact, 0.0212013 by the sum, with 0.02 for all (reproduced with a public
// tool).
TEST_CASE("the three-motor tree as a model") {
    std::string faults;
    for (const char* e : {"K5", "S1", "Sa", "Sb", "Sc", "K1", "KT1", "K2", "KT2", "K3", "KT3"})
        faults += (faults.empty() ? "\"" : ", \"") + std::string(e) + "\": { \"probability\": 0.02 }";
    const std::string top = "K5 OR S1 AND (Sa OR Sb OR Sc OR (K1 OR KT1) AND (K2 OR KT2) AND (K3 OR KT3))";
    const Model m = model_from("{ \"lanyard\": 1, \"name\": \"three motors\", \"faults\": { " + faults +
                               " }, \"claims\": { \"top\": { \"always\": \"NOT (" + top + ")\" } } }");
    const ClaimFaults c = analysed(m, all_faults(m), 4);
    std::string why;
    for (const auto& o : c.orders) why += o.why_not;
    INFO(c.not_judged << why);
    REQUIRE(complete(c, 4));
    std::map<std::size_t, int> by_order;
    for (const auto& s : c.sets) ++by_order[s.faults.size()];
    CHECK(by_order == std::map<std::size_t, int>{{1, 1}, {2, 3}, {4, 8}});
    const Likelihood l = likelihood_of(m, c);
    CHECK(l.exact == Approx(0.0211538).epsilon(1e-5));
    CHECK(l.rare_event_sum == Approx(0.0212013).epsilon(1e-5));
    std::string why_not;
    CHECK(fault_tree_of(m, c, why_not));
}

const char* vote = R"x({
 "lanyard": 1, "name": "vote",
 "inputs": { "a": { "senses": "oil_pressure" }, "b": { "senses": "oil_pressure" }, "c": { "senses": "oil_pressure" } },
 "outputs": { "inj": "NOT (2 of (a < 1 bar, b < 1 bar, c < 1 bar))" },
 "claims": { "cut": { "whenever": "oil_pressure < 1 bar", "then": "NOT inj", "within": "20 ms" } }
})x";

// Votes of three: any two stuck sensors break them, none alone. IEC 61508-6 architectures, from memory.
TEST_CASE("two of three sensors") {
    const Model m = model_from(vote);
    const auto faults = faults_named(m, {"a.stuck", "b.stuck", "c.stuck"});
    const ClaimFaults c = analysed(m, faults, 3);
    REQUIRE(complete(c, 3));
    CHECK(names_of(m, c) == Sets{{"a.stuck", "b.stuck"}, {"a.stuck", "c.stuck"}, {"b.stuck", "c.stuck"}});
}

// "a and not b" is not coherent: b undoes what a has done (the textbook's smallest case; B. S. Dhillon and others, from
// memory). Where faults may begin at any scan, a may be alone for a while.
TEST_CASE("a further fault may undo what is there from the start") {
    const Model m = model_from(R"x({ "lanyard": 1, "name": "not coherent", "faults": { "a": {}, "b": {}, "c": {} },
        "claims": { "top": { "always": "NOT (a AND NOT b) AND NOT (b AND c)" } } })x");
    FaultOptions options;
    options.driver.claims = {ClaimId(0)};
    options.faults = all_faults(m);
    options.order = 2;
    options.from_the_start = true;
    const ClaimFaults c = analyse_faults(m, options).claims.front();
    REQUIRE(names_of(m, c) == Sets{{"a"}, {"b", "c"}});
    for (const fault::CutSet& s : c.sets) {
        CHECK(s.undone_open.empty());
        CHECK(s.undone_by == (s.faults.size() == 1 ? faults_named(m, {"b"}) : std::vector<FaultId>{}));
    }
    CHECK(!likelihood_of(m, c).why_not.empty());
    options.from_the_start = false;
    const ClaimFaults at_any_time = analyse_faults(m, options).claims.front();
    REQUIRE(!at_any_time.sets.empty());
    for (const fault::CutSet& s : at_any_time.sets) CHECK(s.undone_by.empty());
}

TEST_CASE("sets found together are those found one by one") {
    const std::vector<std::string> names{"master.1.stuck_on", "master.2.stuck_on", "W1.1.open",  "W2.1.to_battery",
                                         "W2.2.to_battery",   "W3.1.to_battery",   "coils.open", "W3.1.to_ground"};
    for (const char* claim :
         {R"("whenever": "NOT master", "then": "NOT coils", "within": "50 ms")",
          R"("whenever": "master", "then": "coils", "within": "50 ms")", R"("possible": "coils")"}) {
        INFO(claim);
        const Model m = model_from(with_claim(claim));
        const auto faults = faults_named(m, names);
        const ClaimFaults c = analysed(m, faults, 2);
        REQUIRE(complete(c, 2));
        CHECK(names_of(m, c) == one_by_one(m, faults));
        for (const auto& s : c.sets) CHECK((s.run.has_value() || s.certificate.has_value()));
    }
}

// Physics: a dead short leaves a source no certain voltage, also behind a diode.
TEST_CASE("shorts of the battery are among the sets of what hangs behind a diode") {
    const Model m = model_from(R"({ "lanyard": 1, "name": "lamp behind a diode", "circuit": {
        "parts": { "B": "battery", "D1": "diode", "L1": "load" },
        "wires": { "W1": "B - bus", "W2": "bus - D1 - L1 - ground" } },
        "claims": { "on": { "always": "L1" } } })");
    const ClaimFaults c = analysed(m, all_faults(m), 1);
    REQUIRE(complete(c, 1));
    CHECK(names_of(m, c) == Sets{{"W1.open"},
                                 {"W1.to_ground"},
                                 {"W2.1.open"},
                                 {"W2.1.to_ground"},
                                 {"W2.2.open"},
                                 {"W2.2.to_ground"},
                                 {"W2.3.open"},
                                 {"W2.3.to_battery"},
                                 {"D1.open"},
                                 {"L1.open"}});
}

TEST_CASE("a claim that does not hold without faults is not asked about") {
    const Model m = model_from(with_claim(R"("always": "coils")"));
    CHECK(!analysed(m, all_faults(m), 1).not_judged.empty());
}

TEST_CASE("what a fault does to the loads, and where it shows") {
    const Model m = model_of(
        "'circuit': {'parts': {'B': 'battery', 'S': {'is': 'switch', 'switch': 'maintained'}, 'L': 'load'}, "
        "'wires': {'W1': 'B - S - L - ground'}}, 'claims': {'lights': {'possible': 'L'}}");
    const auto effect = [&](const std::string& name) {
        const auto faults = faults_named(m, {name});
        return effects_of(m, {faults}, {analysed(m, faults, 1)}).front();
    };
    const Effect open = effect("W1.1.open"), stuck = effect("S.stuck_on");
    CHECK(open.shows == Shows::in_use);
    REQUIRE(open.lost.size() == 1);
    CHECK(m.name_of(open.lost.front()) == "L");
    CHECK(open.gained.empty());
    CHECK(stuck.lost.empty());
    CHECK(stuck.gained.size() == 1);
}

TEST_CASE("answers about different choices of faults are kept apart") {
    const Model m = model_from(with_claim(R"("always": "NOT coils")"));
    const auto faults = all_faults(m);
    REQUIRE(faults.size() >= 3);
    const FaultId a = faults[0], b = faults[1], c = faults[2];
    const FaultChoice choices[] = {
        {{a}, 1},
        {{b}, 1},
        {{a, b}, 1},
        {{a, b}, 2},
        {{a, b}, 2, true},
        {{a, b}, 2, false, true},
        {{a, b, c}, 2},
        {{a, b, c}, 2, false, false, {{a}}},
        {{a, b, c}, 2, false, false, {{a}, {b}}},
        {{a, b, c}, 2, false, false, {{a, b}}},
    };
    const auto key = [](const Model& changed) { return key_of(question_about(changed, ClaimId(0)), {}).exact; };
    std::set<std::string> keys{key(m)};
    for (const FaultChoice& choice : choices) {
        const Model with = with_faults(m, ClaimId(0), choice);
        CHECK(keys.insert(key(with)).second);
        CHECK(keys.insert(key(with_faults(with, ClaimId(0), {{a}, 1}))).second);  // one behind the other
    }
}
