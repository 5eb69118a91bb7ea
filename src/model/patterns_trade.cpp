// What the trade says of protection logic. None of these words has a published source.
#include "model/format_make.hpp"
#include "model/patterns.hpp"

namespace lanyard::model::format {

namespace {

// It has started once it has run for this long.
const char* const stays_for = "2 s";
const char* const runs_on = "TON(engine = running, 2 s)";

KeyHelp loads(const char* name, const char* what) {
    return needed(name, Shape::names, std::string(what) + ": a load, an output or a relay, or a list of them",
                  R"(["injectors", "coils"])");
}

KeyHelp load(const char* what, const char* example) {
    auto k = loads("load", what);
    k.example = example;
    return k;
}

KeyHelp time_to(const char* what) { return needed("within", Shape::time, what, R"("200 ms")"); }
KeyHelp optional_within(const char* otherwise) {
    return key("within", Shape::time, "the longest time to that", otherwise, R"("200 ms")");
}
KeyHelp whenever() {
    return key("whenever", Shape::expression, "what calls for it", "", R"("coolant_temperature > 125 degC")");
}
KeyHelp for_time() { return key("for", Shape::time, "how long that must have been true", "0 s", R"("2 s")"); }
KeyHelp goal() {
    return key("goal", Shape::expression, "what is reached in the end", runs_on, R"("engine = running")");
}
KeyHelp under(const char* standard) {
    return key("under", Shape::condition, "the condition under which it is claimed", standard,
               R"("healthy, NOT pit_kill")");
}
KeyHelp steps(const char* name, const char* example) {
    return needed(name, Shape::steps, "the driver's steps", example);
}

Pattern word(std::string text, std::string meaning, std::vector<KeyHelp> keys, std::vector<Expansion> expansions) {
    return {{"word_" + text, "claim with the word \"" + text + "\"", std::move(meaning), std::move(keys)},
            "",
            std::move(expansions)};
}

// Whoever names no goal means that the engine goes on running when the steps are over.
std::vector<Expansion> a_start(std::vector<std::pair<std::string, std::string>> fields) {
    const Expansion own_goal{{"goal"}, "procedure", fields};
    fields.emplace_back("then_wait", stays_for);
    return {own_goal, {{}, "procedure", std::move(fields)}};
}

std::vector<Pattern> starting() {
    return {
        word("starts", "done like this, it starts: every healthy engine, with every time in its interval",
             {steps("starts", R"(["set key", "hold start until engine = running, at most 4 s"])"), goal(),
              key("within", Shape::time, "the goal is true by this time of the run",
                  "the end of the last step, or of the wait after it", R"("10 s")"),
              under("healthy")},
             a_start({{"procedure", "{starts}"}, {"ends_with", "{goal}"}, {"within", "{within}"}})),
        word("can_restart_when_hot",
             "stopped while hot, whatever the reason, it starts again when the driver does this",
             {steps("can_restart_when_hot", R"(["set key", "hold start until engine = running, at most 4 s"])"),
              needed("hot", Shape::expression, "when it counts as hot", R"("coolant_temperature > 95 degC")"), goal(),
              key("within", Shape::time, "the goal is true by this time, counted from the first step",
                  "the end of the last step, or of the wait after it", R"("10 s")"),
              key("reached_under", Shape::condition, "what holds until the steps begin", "any", R"("healthy")"),
              under("healthy")},
             a_start({{"procedure", "{can_restart_when_hot}"},
                      {"ends_with", "{goal}"},
                      {"from", "engine = stopped AND {hot}"},
                      {"within", "{within}"},
                      {"reached_under", "{reached_under}"}})),
        word("no_lock_out", "nothing that happens locks it out permanently: from every state some run gets there again",
             {needed("no_lock_out", Shape::expression, "what can be reached again", R"("injectors")"),
              key("within", Shape::time, "and within this time", "at any later time", R"("60 s")"),
              key("may_move", Shape::names, "the switches that may be moved for it", "all of them", R"("key")"),
              key("hands_off", Shape::flag, "no switch may be moved for it", "false", "true"),
              key("reached_under", Shape::condition, "what holds until then", "any", R"("healthy")"), under("healthy")},
             {{{},
               "recoverable",
               {{"recoverable", "{no_lock_out}"},
                {"within", "{within}"},
                {"may_move", "{may_move}"},
                {"hands_off", "{hands_off}"},
                {"reached_under", "{reached_under}"}}}}),
    };
}

std::vector<Pattern> cutting() {
    const std::string off = "NOT ({cuts OR ...})";
    const auto once = key("once", Shape::expression, "instead of \"whenever\": cuts even if this goes away again", "",
                          R"("pit_kill")");
    const auto out_of =
        key("out_of", Shape::time, "\"for\" counts in total within any time this long", "without a break", R"("5 s")");
    auto whenever_needed = whenever();
    whenever_needed.required = true;
    return {
        word(
            "cuts", "cuts the power of loads in time; \"whenever\" or \"once\" says why",
            {loads("cuts", "what is cut"), whenever(), once, for_time(), out_of, time_to("the longest time to the cut"),
             under("any")},
            {{{"once"}, "response_once", {{"once", "{once}"}, {"then", off}, {"within", "{within}"}, {"for", "{for}"}}},
             {{},
              "response",
              {{"whenever", "{whenever}"},
               {"then", off},
               {"within", "{within}"},
               {"for", "{for}"},
               {"out_of", "{out_of}"}}}}),
        word("override_cannot_defeat", "the cut comes in time even with the override switched on",
             {needed("override_cannot_defeat", Shape::expression, "the override: a switch, or an expression",
                     R"("override")"),
              loads("cuts", "what is cut"), whenever_needed, for_time(), time_to("the longest time to the cut"),
              under("any")},
             {{{},
               "response",
               {{"whenever", "{override_cannot_defeat} AND {whenever}"},
                {"then", off},
                {"within", "{within}"},
                {"for", "{for}"}}}}),
        word("kills", "the switch cuts the power of loads in time, for as long as it is on",
             {loads("kills", "what is cut"),
              needed("switch", Shape::expression, "the switch, or an expression", R"("pit_kill")"),
              time_to("the longest time to the cut"), under("any")},
             {{{}, "response", {{"whenever", "{switch}"}, {"then", "NOT ({kills OR ...})"}, {"within", "{within}"}}}}),
        word("releasing_restarts_nothing",
             "what a stop switch has stopped stays off when the switch is released, until something else happens",
             {needed("releasing_restarts_nothing", Shape::expression, "the stop switch, or an expression",
                     R"("pit_kill")"),
              loads("load", "what stays off"),
              needed("until", Shape::expression, "what may bring it back; does not count before the release",
                     R"("start")"),
              under("any")},
             {{{},
               "always",
               {{"always", "RS({releasing_restarts_nothing} AND NOT ({load OR ...}), {until}) -> NOT ({load OR ...})"}},
               "[{load OR ...}] again before [{until}]"}}),
        word("never_cuts_by_itself", "no cut without a reason: while this is true, all of the loads have power",
             {loads("never_cuts_by_itself", "what keeps its power"),
              needed("while", Shape::expression, "while this is true", R"("engine = running AND key AND NOT killed")"),
              under("healthy")},
             {{{}, "always", {{"always", "{while} -> ({never_cuts_by_itself AND ...})"}}}}),
    };
}

std::vector<Pattern> switching() {
    const std::string any_on = "({load OR ...})";
    const std::string on_and = any_on + " AND {while}";
    auto while_key = needed("while", Shape::expression, "while this is true", R"("engine = stopped")");
    return {
        word("never_both", "no two of these are on at the same scan",
             {needed("never_both", Shape::expressions, "two or more expressions", R"(["starter", "water_pump"])"),
              under("any")},
             {{{}, "always", {{"always", "NOT 2 of ({never_both, ...})"}}}}),
        word("runs_only_while",
             "the load is on only while this is true; with \"within\", it goes off in time afterwards",
             {needed("runs_only_while", Shape::expression, "while this is true", R"("engine <> stopped")"),
              load("what runs", R"("water_pump")"), optional_within("at every scan"), under("any")},
             {{{"within"},
               "response",
               {{"whenever", "NOT {runs_only_while}"}, {"then", "NOT " + any_on}, {"within", "{within}"}}},
              {{},
               "always",
               {{"always", any_on + " -> {runs_only_while}"}},
               "[{load OR ...}] while [NOT {runs_only_while}]"}}),
        word("no_chatter", "goes on and off at most a given number of times within any time of a given length",
             {needed("no_chatter", Shape::expression, "what changes", R"("fan")"),
              needed("at_most", Shape::count, "how many changes there may be", "4"),
              needed("in_any", Shape::time, "within any time of this length", R"("60 s")"), under("any")},
             {{{}, "change_limit", {{"changes", "{no_chatter}"}, {"at_most", "{at_most}"}, {"in_any", "{in_any}"}}}}),
        word("stays_off_until",
             "the load is off until this has happened; with \"since\", again each time that becomes true",
             {needed("stays_off_until", Shape::expression, "what has to happen first", R"("oil_pressure > 1 bar")"),
              load("what stays off", R"("shift_valve")"),
              key("since", Shape::expression, "what it has to happen after", "only once, from power-up",
                  R"x("R_TRIG(key)")x"),
              optional_within("at every scan"), under("any")},
             {{{"since", "within"},
               "response",
               {{"whenever", "RS({since}, {stays_off_until})"}, {"then", "NOT " + any_on}, {"within", "{within}"}}},
              {{"since"},
               "always",
               {{"always", "RS({since}, {stays_off_until}) -> NOT " + any_on}},
               "after [{since}], [{load OR ...}] before [{stays_off_until}]"},
              {{},
               "always",
               {{"always", any_on + " -> SR({stays_off_until}, FALSE)"}},
               "[{load OR ...}] before [{stays_off_until}]"}}),
        word("primes_for_at_most", "while this is true, the load is never on for longer than that without a break",
             {needed("primes_for_at_most", Shape::time, "the longest time, rounded up to scans", R"("2 s")"),
              load("what primes", R"("fuel_pump")"), while_key, under("any")},
             {{{},
               "always",
               {{"always", on_and + " -> NOT TON(" + on_and + ", {primes_for_at_most})"}},
               "[{load OR ...}] for longer than {primes_for_at_most} while [{while}]"}}),
    };
}

}  // namespace

std::vector<Pattern> trade_patterns() {
    std::vector<Pattern> all;
    for (auto group : {starting(), cutting(), switching()})
        for (auto& p : group) all.push_back(std::move(p));
    return all;
}

}  // namespace lanyard::model::format
