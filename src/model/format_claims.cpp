// The engine section, conditions and claims.
#include "model/format_make.hpp"
#include "model/patterns.hpp"

namespace lanyard::model::format {

KeyHelp key(std::string name, Shape shape, std::string meaning, std::string default_text, std::string example) {
    KeyHelp k;
    k.key = std::move(name);
    k.shape = shape;
    k.meaning = std::move(meaning);
    k.default_text = std::move(default_text);
    k.example = std::move(example);
    return k;
}

KeyHelp needed(std::string name, Shape shape, std::string meaning, std::string example) {
    KeyHelp k = key(std::move(name), shape, std::move(meaning), "", std::move(example));
    k.required = true;
    return k;
}

KeyHelp choice(std::string name, std::vector<std::string> choices, std::string meaning, std::string default_text) {
    KeyHelp k = key(std::move(name), Shape::choice, std::move(meaning), std::move(default_text), "");
    k.example = '"' + choices.front() + '"';
    k.choices = std::move(choices);
    return k;
}

KeyHelp nested(std::string name, Shape shape, std::vector<std::string> objects, std::string meaning,
               std::string example, Shape shorthand) {
    KeyHelp k = key(std::move(name), shape, std::move(meaning), "", std::move(example));
    k.objects = std::move(objects);
    k.shorthand = shorthand;
    return k;
}

ObjectHelp engine_object() {
    const auto role = [](const char* name, const char* standard) {
        return key(name, Shape::name, std::string("the quantity used as ") + standard,
                   std::string(standard) + ", if the model uses it", '"' + std::string(standard) + '"');
    };
    return {"engine",
            "engine",
            "every number that is not given is taken from common practice, and reported as such",
            {key("fires_with", Shape::names, "loads that must have power for it to fire and run", "none",
                 R"(["injectors", "coils", "fuel_pump"])"),
             key("cranks_with", Shape::name, "load that cranks it", "it may be cranked at any time", R"("starter")"),
             key("free", Shape::names, "those of these loads that nothing in the model feeds, on purpose: no warning",
                 "none", R"(["starter"])"),
             role("speed", "engine_speed"), role("oil_pressure", "oil_pressure"),
             role("battery_voltage", "battery_voltage"), role("coolant_temperature", "coolant_temperature"),
             key("firing_time", Shape::times, "cranking time until it fires", "0.5 .. 2 s", R"("0.5 .. 2 s")"),
             key("coast_down", Shape::times, "from losing a load to standstill", "0.3 .. 3 s", R"("0.3 .. 3 s")"),
             key("catches_above", Shape::amount, "a coasting engine may catch again above this speed", "400 rpm",
                 R"("400 rpm")"),
             key("run_on", Shape::times, "how long it runs on, counted from the first scan at which a load is lost",
                 "0 s", R"("0 .. 1 s")"),
             key("push_start", Shape::flag, "it may be pushed or rolled to start", "false", "true")}};
}

}  // namespace lanyard::model::format

namespace lanyard::model {

const std::vector<std::string>& claim_kinds() {
    static const std::vector<std::string> kinds{"always",       "response",    "response_once", "possible",
                                                "change_limit", "recoverable", "procedure"};
    return kinds;
}

const std::vector<std::string>& claim_words() {
    static const std::vector<std::string> ids = [] {
        std::vector<std::string> all;
        for (const auto& p : pattern_table()) all.push_back(p.object.id);
        return all;
    }();
    return ids;
}

std::vector<std::string> claim_forms() {
    std::vector<std::string> all = claim_kinds();
    all.insert(all.end(), claim_words().begin(), claim_words().end());
    return all;
}

}  // namespace lanyard::model

namespace lanyard::model::format {

std::vector<ObjectHelp> claim_objects() {
    const auto under = [](const char* standard) {
        return key("under", Shape::condition, "the condition under which it is claimed", standard,
                   R"("healthy, except coolant_temperature within 106 .. 114 degC")");
    };
    return {
        {"condition",
         "condition",
         "restricts to runs in which it holds at every scan; the text alone is the expression, with base any",
         {choice("base", {"any", "healthy"}, "what it is added to", "any"),
          key("holds", Shape::expressions, "what is true at every scan", "", R"("NOT pit_kill")"),
          key("except", Shape::interval_map, "intervals that replace the healthy values of quantities", "",
              R"({ "coolant_temperature": "106 .. 114 degC" })"),
          nested("faults", Shape::object, {"fault_list"}, "faults that may occur; without it, none do",
                 R"({ "of": ["K1", "any wire.open"], "at_most": 1 })")}},
        {"always",
         "claim of the kind always",
         "true after Drive at every scan of every run",
         {needed("always", Shape::expression, "what is always true", R"("starter -> NOT turning")"), under("any")}},
        {"response",
         "claim of the kind response",
         "whenever one thing has been true for a time, the other is true within a time",
         {needed("whenever", Shape::expression, "what calls for a response", R"("oil_pressure < 1 bar")"),
          needed("then", Shape::expression, "the response", R"("NOT injectors")"),
          needed("within", Shape::time,
                 "the longest time to the response, counted from when \"for\" has passed: in all it may take both",
                 R"("200 ms")"),
          key("for", Shape::time, "how long \"whenever\" must have been true", "0 s", R"("7 s")"),
          key("out_of", Shape::time,
              "\"whenever\" need not be true without a break, but for the time of \"for\" in total within any time "
              "this long",
              "without a break", R"("2 s")"),
          under("any")}},
        {"response_once",
         "claim of the kind response, once begun",
         "once one thing has been true for a time, the other becomes true within a time, whatever happens to the first "
         "afterwards",
         {needed("once", Shape::expression, "what calls for a response", R"("pit_kill")"),
          needed("then", Shape::expression, "the response", R"("NOT injectors")"),
          needed("within", Shape::time,
                 "the longest time to the response, counted from when \"for\" has passed: in all it may take both",
                 R"("200 ms")"),
          key("for", Shape::time, "how long \"once\" must have been true", "0 s", R"("0.1 s")"), under("any")}},
        {"change_limit",
         "claim of the kind change limit",
         "something changes at most a given number of times within any time of a given length",
         {needed("changes", Shape::expression, "what changes", R"("injectors")"),
          needed("at_most", Shape::count, "how many changes there may be", "2"),
          needed("in_any", Shape::time, "within any time of this length", R"("10 s")"), under("any")}},
        {"recoverable",
         "claim of the kind recoverable",
         "from every state that can be reached, some run gets there: nothing locks out",
         {needed("recoverable", Shape::expression, "what can be reached again", R"("injectors")"),
          key("within", Shape::time, "and within this time", "at any later time", R"("60 s")"),
          key("may_move", Shape::names, "the switches that may be moved for it; the others stay where they were",
              "all of them", R"(["key", "start"])"),
          key("hands_off", Shape::flag, "no switch may be moved for it", "false", "true"),
          key("reached_under", Shape::condition, "what holds until then: which states the claim is about", "any",
              R"("any")"),
          under("healthy")}},
        {"possible",
         "claim of the kind possible",
         "some run reaches it",
         {needed("possible", Shape::expression, "what can be reached", R"("engine = running")"), under("healthy")}},
        {"procedure",
         "claim of the kind procedure",
         "for every run in which the driver follows the steps from power-up, the goal is reached",
         {needed("procedure", Shape::steps, "the driver's steps",
                 R"(["set key", "wait 1 s", "hold start until engine = running, at most 4 s"])"),
          needed("ends_with", Shape::expression, "the goal", R"("engine = running")"),
          key("within", Shape::time, "the goal is true by this time of the run", "the end of the last step",
              R"("10 s")"),
          key("then_wait", Shape::time, "one more step of waiting, unless the last step is a wait itself",
              "no further step", R"("2 s")"),
          key("from", Shape::expression,
              "the steps may begin after any scan of any run at which this is true, and the goal is reached from all "
              "of them; \"within\" then counts from the first step",
              "the steps begin with the run", R"("engine = stopped AND coolant_temperature > 95 degC")"),
          key("reached_under", Shape::condition, "with \"from\": what holds until the steps begin", "any", R"("any")"),
          under("healthy")}},
    };
}

}  // namespace lanyard::model::format
