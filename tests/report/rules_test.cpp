// What is told of rule packs beside the verdicts.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "model/read.hpp"
#include "report/json.hpp"
#include "report/rules.hpp"
#include "support.hpp"

using namespace lanyard::report;
using namespace lanyard::test;

namespace {

// Two packs that contradict each other; single quotes for readability.
PackPtr pack(const std::string& id, const std::string& rules) {
    std::string text =
        "{'lanyard_rules': 1, 'title': 'Rules of the " + id +
        "', 'publisher': 'the harbour', 'edition': 'first', 'text_read': 'secondary', 'scope': 'boats', 'roles': "
        "{'pump': {'kind': 'load', 'meaning': 'the pump'}, 'handle': {'kind': 'switch', 'meaning': 'stops'}}, 'rules': "
        "{" +
        rules + "}, 'inspect': {'hoses': {'what': 'look at the hoses', 'citation': 'page 9'}}}";
    for (char& c : text)
        if (c == '\'') c = '"';
    const PackResult r = read_pack(id, "pack.json", text);
    INFO(render(r.diagnostics, r.source));
    REQUIRE(r.pack != nullptr);
    return r.pack;
}

Model boat() {
    const std::string off =
        "'off': {'requires': 'off by hand', 'citation': 'page 1', 'roles': ['pump', 'handle'], 'parameters': {'t': "
        "{'default': '10 ms', 'meaning': 'ours'}}, 'claims': {'off': {'whenever': 'handle', 'then': 'NOT pump', "
        "'within': 't'}}, 'advice': 'wire the handle', 'conflicts_with': {'wharf/on': 'on is not off', 'sea/x': 'no'}}";
    const std::string on =
        "'on': {'requires': 'always on', 'citation': 'page 2', 'needs': 'wiring', 'roles': 'pump', 'claims': {'on': "
        "{'always': 'pump'}}, 'conflicts_with': {'yard/off': "
        "'the same again'}}, 'cranks': {'requires': 'stands', 'citation': 'page 3', 'roles': 'pump', 'claims': "
        "{'stands': {'always': 'engine = stopped -> NOT pump'}}}, 'key': {'requires': 'hand', 'citation': 'page 4', "
        "'roles': 'handle', 'claims': {'up': {'possible': 'NOT handle'}}}";
    const std::string text =
        "{'lanyard': 1, 'name': 'boat', 'inputs': {'key': 'maintained'}, 'outputs': {'lift': 'key'}, "
        "'roles': {'pump': 'lift', 'handle': 'key'}, 'rule_values': {'yard/off': {'t': '20 ms'}}}";
    return model_from(requoted(text), "boat.json", {pack("yard", off), pack("wharf", on)});
}

bool holds(const std::string& text, const std::string& what) {
    UNSCOPED_INFO(text);
    return text.find(what) != std::string::npos;
}

}  // namespace

TEST_CASE("rules that were not judged, hands and conflicts are told") {
    const Model m = boat();
    const std::string text = rules_text(m);
    CHECK(holds(text, "rule pack        yard: Rules of the yard; the harbour, first\n"));
    CHECK(holds(text, "does not apply   wharf/cranks: the model has no engine section\n"));
    CHECK(holds(text, "does not apply   wharf/on: the model has no circuit section\n"));
    CHECK(holds(text, "by hand          yard, hoses: look at the hoses (page 9)\n"));
    CHECK(holds(text, "other value      yard/off: t = 20 ms (the pack says 10 ms)\n"));
    CHECK(holds(text, "conflict         yard/off and wharf/on: on is not off\n"));
    CHECK(holds(text, "a proved rule is not a certificate: the scrutineer or the"));
    CHECK(conflicts_of(m).size() == 1);  // each pair once, and only where both packs were chosen
}

TEST_CASE("the story of a failed rule tells where it is written and what to do") {
    const Model m = boat();
    const Claim& off = m.claims[claim_named(m, "yard/off: off")];
    using Words = std::vector<std::pair<std::string, std::string>>;
    Words words = {{"rule", "off by hand"},
                   {"written in", "page 1; known from what others have written about it"},
                   {"advice", "wire the handle"}};
    CHECK(words_on_rule(m, off, true) == words);
    words.pop_back();
    CHECK(words_on_rule(m, off, false) == words);
    Playing run(m, "yard/off: off");
    run.set("key", true).until_broken(10);
    const auto json = nlohmann::json::parse(results_json(m, filmed(m, {run.refuted()}), Versions{"0", "Z3"}));
    CHECK(json["claims"][0]["rule"] == "yard/off");
    CHECK(json["rules"]["packs"].size() == 2);
    CHECK(json["rules"]["rules"].size() == 4);
    CHECK(json["rules"]["rules"][2]["state"] == "engine missing");
    CHECK(json["rules"]["conflicts"][0]["other"] == "wharf/on");
}

TEST_CASE("without packs nothing is told of rules") {
    const ReadResult r = read_model("m.json", R"({"lanyard": 1, "name": "m"})");
    REQUIRE(r.model);
    CHECK(rules_text(*r.model).empty());
    CHECK(results_json(*r.model, {}, Versions{"0", "Z3"}).find("\"rules\"") == std::string::npos);
}
