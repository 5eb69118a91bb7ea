// The property patterns and scopes of M. B. Dwyer, G. S. Avrunin, J. C. Corbett, "Patterns in property specifications
// for finite-state verification", ICSE 1999, under their published names.
//
// A scope is closed at its beginning and open at its end: the scan of Q belongs to it, the scan of R does not. Where
// the published formula speaks of a scope only if R follows (before R, between Q and R), nothing can be said before R
// is there: the violation is reported at the scan of R. Where it asks for something that may come at any later time,
// that is no safety property, and a time is asked for: "within", counted as in a response once begun. "After Q" means
// the time from the first Q on. The published mapping of precedence after Q holds for a run as soon as some Q has it
// behind it; that could never be refuted by a run, so the first Q counts there as well.
// Tested by: tests/patterns/temporal_test.cpp
#include "model/format_make.hpp"
#include "model/patterns.hpp"

namespace lanyard::model::format {

namespace {

using Fields = std::vector<std::pair<std::string, std::string>>;

KeyHelp expression(const char* name, const char* meaning, const char* example) {
    return needed(name, Shape::expression, meaning, example);
}
KeyHelp within() {
    return key("within", Shape::time, "the longest time; needed where no \"before\" or \"and\" ends the scope", "",
               R"("3 s")");
}

// The scopes' own keys, R before Q where both have a part in "between".
std::vector<KeyHelp> with_scopes(std::vector<KeyHelp> keys) {
    const char* const whole = "the whole run";
    keys.push_back(key("before", Shape::expression, "scope: up to the first time that this is true", whole,
                       R"("engine = running")"));
    keys.push_back(
        key("after", Shape::expression, "scope: from the first time that this is true", whole, R"("pit_kill")"));
    keys.push_back(key("until", Shape::expression, "with \"after\": each time up to this, if it comes", "the end",
                       R"x("R_TRIG(start)")x"));
    keys.push_back(key("between", Shape::expression, "scope: from where this is true up to \"and\", if that comes",
                       whole, R"("start")"));
    keys.push_back(
        key("and", Shape::expression, "with \"between\": the end of the scope", "", R"("engine = running")"));
    keys.push_back(key("under", Shape::condition, "the condition under which it is claimed", "any", R"("healthy")"));
    return keys;
}

// One expansion for each scope: in the whole run, before R, after Q, between Q and R, after Q until R. {Q} and {R}
// stand for the keys of the scope.
struct Scopes {
    Expansion globally, before, after, between, after_until;
};

std::string with_keys(std::string text, const std::string& q, const std::string& r) {
    const auto replace = [&](const std::string& hole, const std::string& name) {
        for (std::size_t at = text.find(hole); at != std::string::npos; at = text.find(hole, at))
            text.replace(at, hole.size(), "{" + name + "}");
    };
    replace("{Q}", q);
    replace("{R}", r);
    return text;
}

Expansion with_keys(Expansion e, const std::string& q, const std::string& r) {
    for (auto& [key, text] : e.fields) text = with_keys(text, q, r);
    e.failure = with_keys(e.failure, q, r);
    if (!q.empty()) e.with.push_back(q);
    if (!r.empty()) e.with.push_back(r);
    return e;
}

Pattern pattern(const std::string& word, std::string meaning, std::vector<KeyHelp> keys, const Scopes& s) {
    return {
        {"word_" + word, "claim with the word \"" + word + "\"", std::move(meaning), with_scopes(std::move(keys))},
        "Dwyer, Avrunin, Corbett, ICSE 1999",
        {with_keys(s.between, "between", "and"), with_keys(s.before, "", "before"),
         with_keys(s.after_until, "after", "until"), with_keys(s.after, "after", ""), with_keys(s.globally, "", "")}};
}

Expansion always(std::string text, std::string failure = {}) {
    return {{}, "always", {{"always", std::move(text)}}, std::move(failure)};
}
Expansion once(std::string trigger, std::string then, std::string failure = {}) {
    return {{},
            "response_once",
            {{"once", std::move(trigger)}, {"then", std::move(then)}, {"within", "{within}"}},
            std::move(failure)};
}

// `bad` must not be true inside of the scope.
Scopes never(const std::string& bad, const std::string& good) {
    const std::string in_scope = "[" + bad + "] after [{Q}] and before [{R}]";
    return {always(good),
            always("{R} -> NOT SR(" + bad + " AND NOT SR({R}, FALSE), FALSE)", "[" + bad + "] before [{R}]"),
            always("SR({Q}, FALSE) -> " + good, "[" + bad + "] after [{Q}]"),
            always("{R} -> NOT previous(RS(" + bad + " AND RS({Q}, {R}), {R}))", in_scope),
            always("RS({Q}, {R}) -> " + good, in_scope)};
}

Pattern absence() {
    return pattern("absence", "this is never true",
                   {expression("absence", "what is never true", R"("starter AND water_pump")")},
                   never("{absence}", "NOT {absence}"));
}

Pattern universality() {
    return pattern("universality", "this is always true",
                   {expression("universality", "what is always true", R"("killed -> NOT injectors")")},
                   never("NOT {universality}", "{universality}"));
}

// Each `trigger` inside of a scope up to {R} is answered before {R} and in time. A late answer must not count for an
// earlier trigger whose scope has ended without one, hence the latch. `call` is the trigger as it is told.
Expansion answered(const std::string& trigger, const std::string& call, const std::string& answer) {
    return once(trigger,
                answer + " AND NOT {R} AND NOT SR({R} AND previous(RS(" + trigger + ", " + answer + " OR {R})), FALSE)",
                "not in time after [" + call + "] and before [{R}]: [" + answer + "]");
}

Pattern existence() {
    const std::string p = "{existence}";
    return pattern("existence", "this becomes true at some time",
                   {expression("existence", "what becomes true", R"("turning OR NOT fuel_pump")"), within()},
                   {once("NOT previous(TRUE)", "{existence}"),
                    always("{R} -> SR(" + p + " AND NOT {R}, FALSE)", "[{R}] before [" + p + "]"),
                    once("R_TRIG(SR({Q}, FALSE))", "{existence}"),
                    always("{R} -> NOT previous(RS({Q}, " + p + " OR {R}))", "after [{Q}], [{R}] before [" + p + "]"),
                    answered("{Q} AND NOT {R}", "{Q}", p)});
}

Pattern response() {
    const std::string p = "{to}";
    const std::string s = "{response}";
    const std::string inside = p + " AND RS({Q}, {R})";
    const std::string too_early = "after [" + p + "], [{R}] before [" + s + "]";
    return pattern("response", "each time the first is true, the second follows at some time",
                   {expression("response", "what follows", R"("NOT injectors")"),
                    expression("to", "what it follows", R"("pit_kill")"), within()},
                   {once("{to}", "{response}"),
                    always("R_TRIG(SR({R}, FALSE)) -> NOT previous(RS(" + p + ", " + s + "))", too_early),
                    once(p + " AND SR({Q}, FALSE)", "{response}"),
                    always("{R} -> NOT previous(RS(" + inside + ", " + s + "))", too_early), answered(inside, p, s)});
}

Pattern precedence_of_two() {
    const std::string p = "{over}";
    const std::string s = "{precedence}";
    const std::string early = "[" + p + "] before [" + s + "]", later = "after [{Q}], " + early;
    return pattern("precedence", "the second is not true before the first has been",
                   {expression("precedence", "what has to be true first, or at the same scan", R"("start")"),
                    expression("over", "what must not be true before that", R"("starter")")},
                   {always(p + " -> SR(" + s + ", FALSE)", early),
                    always("{R} -> NOT SR(" + p + " AND NOT SR(" + s + " OR {R}, FALSE), FALSE)", early),
                    always("SR({Q}, FALSE) AND " + p + " -> SR(" + s + " AND SR({Q}, FALSE), FALSE)", later),
                    always("{R} -> NOT previous(RS(" + p + " AND RS({Q}, " + s + " OR {R}), {R}))", later),
                    always(p + " -> NOT RS({Q}, " + s + " OR {R})", later)});
}

}  // namespace

std::vector<Pattern> temporal_patterns() {
    return {absence(), universality(), existence(), response(), precedence_of_two()};
}

}  // namespace lanyard::model::format
