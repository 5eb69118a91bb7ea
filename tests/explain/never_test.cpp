// Why something never happens, word for word; and from outside: with any one of the things that are named made wide
// enough in the model, the goal is reached, or the claim says something.
#include "explain/never.hpp"

#include <catch2/catch.hpp>

#include "prove/driver.hpp"
#include "report/json.hpp"
#include "report/json_values.hpp"
#include "report/never_words.hpp"
#include "report/story.hpp"
#include "support.hpp"

using namespace lanyard::explain;
using namespace lanyard::report;
using namespace lanyard::test;

namespace {

ClaimResult judged(const Model& m, const std::string& claim) {
    DriverOptions options;
    options.claims = {claim_named(m, claim)};
    options.explain = [&m](ClaimResult& r, const JudgeOptions& o) { explain_never(m, r, o); };
    return check_claims(m, options).results.front();
}

// The lines of its story from the verdict on.
std::string told(const std::string& text, const std::string& claim) {
    const Model m = model_from(text);
    const FilmedResult r(m, judged(m, claim));
    const std::string all = story(r, {.certificates = false});
    return all.substr(std::min(all.find("refuted  "), all.find("vacuous  ")));
}

// The same in its JSON.
std::string json_of(const std::string& text, const std::string& claim) {
    const Model m = model_from(text);
    FilmedResults results;
    results.emplace_back(m, judged(m, claim));
    const Json told = Json::parse(results_json(m, results, {"0", "Z3"}))["claims"][0];
    Json out = {{"never", told["never"]}};
    if (told.contains("perhaps_meant")) out["perhaps_meant"] = told["perhaps_meant"];
    return out.dump(1);
}

// Whether it can be: some run gets to the goal, or exercises the claim.
bool can_be(std::string text, const std::string& claim, const std::string& from, const std::string& to) {
    const auto at = text.find(from);
    INFO(from);
    REQUIRE(at != std::string::npos);
    text.replace(at, from.size(), to);
    const Model m = model_from(text);
    const Verdict v = judged(m, claim).verdict;
    if (std::holds_alternative<Possible>(m.claims[claim_named(m, claim)].body))
        return std::holds_alternative<Proved>(v);
    return std::holds_alternative<Proved>(v) || std::holds_alternative<Refuted>(v);
}

const std::string permissive = R"json({"lanyard": 1, "name": "m",
  "quantities": {"oil": {"range": "0 .. 100 psi", "healthy": {"cranking": "0 .. 12 psi"}}},
  "inputs": {"key": "maintained", "start": "momentary"},
  "logic": {"oil_ok": "oil > 15 psi"},
  "outputs": {"coil": "key", "starter": "key AND start", "inj": "key AND oil_ok"},
  "engine": {"fires_with": ["inj", "coil"], "cranks_with": "starter", "push_start": false},
  "claims": {"runs": {"possible": "engine = running", "under": "healthy"},
             "starts and runs": {"always": "engine = running AND start -> coil", "under": "healthy"}}})json";

}  // namespace

TEST_CASE("an engine that never fires: the load that is never on, and the range that keeps it off") {
    CHECK(told(permissive, "runs") ==
          "refuted       the engine can never be running\n"
          "why           the engine is never running\n"
          "                 because inj is never on while the engine is cranking\n"
          "                 because oil_ok is never on while the engine is cranking\n"
          "                 because oil is never above 15 psi while the engine is\n"
          "                 cranking: oil, healthy in cranking: 0 psi .. 12 psi\n"
          "because of    inj, oil_ok\n"
          "              engine fires only with all its loads for the shortest firing\n"
          "              time\n"
          "              engine leaves stopped by cranking only\n");
    CHECK(json_of(permissive, "runs") == R"({
 "never": [
  {
   "text": "the engine is never running",
   "because": [
    {
     "text": "inj is never on while the engine is cranking",
     "because": [
      {
       "text": "oil_ok is never on while the engine is cranking",
       "because": [
        {
         "text": "oil is never above 15 psi while the engine is cranking: oil, healthy in cranking: 0 psi .. 12 psi"
        }
       ]
      }
     ]
    }
   ]
  }
 ]
})");
    CHECK(can_be(permissive, "runs", "0 .. 12 psi", "0 .. 16 psi"));
    CHECK(can_be(permissive, "runs", "oil > 15 psi", "oil > 11 psi"));
    CHECK(can_be(permissive, "runs", "key AND oil_ok", "key"));
    CHECK(can_be(permissive, "runs", R"(["inj", "coil"])", R"(["coil"])"));
    CHECK(told(permissive, "starts and runs") ==
          "vacuous       what the claim waits for cannot happen under this condition\n"
          "why           the engine is never running\n"
          "                 because inj is never on while the engine is cranking\n"
          "                 because oil_ok is never on while the engine is cranking\n"
          "                 because oil is never above 15 psi while the engine is\n"
          "                 cranking: oil, healthy in cranking: 0 psi .. 12 psi\n"
          "because of    inj, oil_ok\n"
          "              engine fires only with all its loads for the shortest firing\n"
          "              time\n"
          "              engine leaves stopped by cranking only\n");
    CHECK(can_be(permissive, "starts and runs", "0 .. 12 psi", "0 .. 16 psi"));
}

TEST_CASE("a loop-back that waits for itself") {
    const std::string loop = R"json({"lanyard": 1, "name": "m",
      "inputs": {"key": "maintained", "kill": "maintained", "loop": {"reads_back": "enable"}},
      "outputs": {"enable": "key AND NOT kill AND loop"},
      "claims": {"comes on": {"possible": "enable"}, "means key": {"always": "enable -> key"}}})json";
    CHECK(told(loop, "comes on") ==
          "refuted       enable can never be on\n"
          "why           enable is never on\n"
          "                 because loop reads back enable, which comes on only after it\n"
          "because of    enable, loop\n");
    CHECK(told(loop, "means key") ==
          "vacuous       what the claim waits for cannot happen under this condition\n"
          "why           enable is never on\n"
          "                 because loop reads back enable, which comes on only after it\n"
          "because of    enable, loop\n");
    CHECK(can_be(loop, "comes on", "NOT kill AND loop", "NOT kill"));
    CHECK(can_be(loop, "comes on", "AND loop", "OR loop"));
}

TEST_CASE("what excludes each other, and what never lasts") {
    const std::string both = R"json({"lanyard": 1, "name": "m", "inputs": {"key": "maintained"},
      "quantities": {"oil": "0 .. 100 psi"},
      "logic": {"high": "oil > 20 psi", "low": "oil < 10 psi"},
      "claims": {"both": {"possible": "key AND high AND low"},
                 "long": {"possible": "TON(R_TRIG(key), 1 s)"}}})json";
    CHECK(told(both, "both") ==
          "refuted       key, high and low can never all be on\n"
          "why           high and low are never both true\n"
          "because of    high, low\n");
    CHECK(can_be(both, "both", "oil < 10 psi", "oil < 30 psi"));
    CHECK(can_be(both, "both", "oil > 20 psi", "oil > 5 psi"));
    CHECK(told(both, "long") ==
          "refuted       key can never be coming on for 1 s\n"
          "why           R_TRIG(key) never lasts 1 s\n");
    CHECK(can_be(both, "long", "TON(R_TRIG(key), 1 s)", "TON(key, 1 s)"));
}

TEST_CASE("the cut itself ends the premise: what was probably meant is offered, with its verdict") {
    const std::string cut = R"json({"lanyard": 1, "name": "m",
      "inputs": {"key": "maintained", "start": "momentary", "kill": "maintained"},
      "outputs": {"coil": "key AND NOT kill", "starter": "key AND start"},
      "engine": {"fires_with": "coil", "cranks_with": "starter", "run_on": "0 s"},
      "claims": {"dies": {"whenever": "engine = running AND kill", "then": "NOT coil", "within": "0.2 s"},
                 "lamp": {"whenever": "engine = running AND kill", "then": "key", "within": "0.2 s"}}})json";
    CHECK(told(cut, "dies") ==
          "vacuous       what the claim waits for cannot happen under this condition\n"
          "why           engine = running AND kill never lasts 0.19 s\n"
          "because of    coil, kill\n"
          "              engine runs on only with its loads\n"
          "perhaps meant once engine = running AND kill: NOT coil within 0.2 s, whatever\n"
          "              happens to the first afterwards (written with \"once\" in place of\n"
          "              \"whenever\"): this is proved\n");
    CHECK(json_of(cut, "dies") == R"({
 "never": [
  {
   "text": "engine = running AND kill never lasts 0.19 s"
  }
 ],
 "perhaps_meant": {
  "claim": [
   "once engine = running AND kill: NOT coil within 0.2 s, whatever happens to the first afterwards"
  ],
  "verdict": "proved"
 }
})");
    CHECK(told(cut, "lamp") ==
          "vacuous       what the claim waits for cannot happen under this condition\n"
          "why           engine = running AND kill never lasts 0.19 s\n"
          "because of    coil, kill\n"
          "              engine runs on only with its loads\n"
          "perhaps meant once engine = running AND kill: key within 0.2 s, whatever\n"
          "              happens to the first afterwards (written with \"once\" in place of\n"
          "              \"whenever\"): this is refuted\n");
    const std::string once = R"("once": "engine = running AND kill", "then": "NOT coil")";
    CHECK(can_be(cut, "dies", R"("whenever": "engine = running AND kill", "then": "NOT coil")", once));
    CHECK(can_be(cut, "dies", R"("run_on": "0 s")", R"("run_on": "0 .. 1 s")"));
}
