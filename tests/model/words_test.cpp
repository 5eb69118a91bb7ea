// Words in front of the kinds of claims: the table, what each becomes, and what is said when one is misused.
#include <catch2/catch.hpp>
#include <set>

#include "helpers.hpp"
#include "model/patterns.hpp"

using namespace lanyard::model;
using namespace lanyard::test;

namespace {

const std::string car =
    "'inputs': { 'ignition': 'maintained', 'start': 'momentary', 'pit_kill': 'maintained', 'override': 'maintained',"
    "'wet_road': 'maintained', 'key': 'maintained', 'load_seen': { 'senses': 'throttle' } },"
    "'outputs': { 'injectors': 'ignition AND NOT pit_kill', 'coils': 'ignition', 'starter': 'start',"
    "'fuel_pump': 'ignition', 'fan': 'start', 'cooler': { 'duty': 'load_seen' }, 'water_pump': 'ignition',"
    "'shift_valve': 'ignition', 'turning': 'ignition', 'killed': 'pit_kill' },"
    "'engine': { 'fires_with': ['injectors', 'coils'], 'cranks_with': 'starter' },";

Model with(const std::string& claims) { return good(car + "'claims': {" + claims + "}"); }
// The only claim, written plainly, as "kind: expression; expression".
std::string plainly(const std::string& claim) {
    const Model m = with("'c': " + claim);
    static const char* const kinds[] = {"always", "response", "possible", "procedure", "recoverable", "changes"};
    std::string text = kinds[m.claims.at(ClaimId(0)).body.index()];
    for (const auto& e : expressions_of(m.claims.at(ClaimId(0)))) text += "; " + text_of(m, *e);
    return text;
}

const ObjectHelp& help_of(const std::string& id) { return object_help(id); }

bool has_key(const ObjectHelp& o, const std::string& key) {
    for (const auto& k : o.keys)
        if (k.key == key) return true;
    return false;
}

}  // namespace

TEST_CASE("every word has templates of a kind, with holes that are keys of its own") {
    std::set<std::string> words;
    for (const auto& p : pattern_table()) {
        INFO(p.object.id);
        CHECK(words.insert(p.object.keys.front().key).second);
        CHECK(p.object.keys.front().required);
        CHECK(has_key(p.object, "under"));
        REQUIRE_FALSE(p.expansions.empty());
        CHECK(p.expansions.back().with.empty());
        for (const auto& e : p.expansions) {
            for (const auto& k : e.with) CHECK(has_key(p.object, k));
            std::set<std::string> filled;
            for (const auto& [field, text] : e.fields) {
                CHECK(has_key(help_of(e.kind), field));
                CHECK(filled.insert(field).second);
                for (const auto& piece : template_pieces(text))
                    if (piece.hole) CHECK(has_key(p.object, piece.text));
            }
            for (const auto& k : help_of(e.kind).keys)
                if (k.required) CHECK(filled.count(k.key) == 1);
        }
        for (const auto& k : p.object.keys) {
            bool used = false;
            for (const auto& e : p.expansions) used = used || reads(e, k.key);
            INFO(k.key);
            CHECK(used);
        }
    }
}

TEST_CASE("which word a claim is written in is never in doubt") {
    std::vector<std::string> all = claim_kinds();
    all.insert(all.end(), claim_words().begin(), claim_words().end());
    for (const auto& one : all)
        for (const auto& other : all) {
            if (one == other) continue;
            const ObjectHelp& a = help_of(one);
            const ObjectHelp& b = help_of(other);
            INFO(one << " " << other);
            CHECK_FALSE((has_key(a, b.keys.front().key) && has_key(b, a.keys.front().key)));
        }
}

TEST_CASE("the example of every word, and of each of its forms, is a good claim") {
    for (const auto& p : pattern_table())
        for (const auto& e : p.expansions) {
            const std::string text = example_claim(p, e);
            INFO(text);
            const Model m = with("'c': " + text);
            CHECK(m.claims.at(ClaimId(0)).pattern == p.object.keys.front().key);
            CHECK(m.claims.at(ClaimId(0)).written == text);
        }
}

TEST_CASE("words that remember nothing become these claims") {
    CHECK(plainly("{ 'cuts': ['injectors', 'coils'], 'whenever': 'pit_kill', 'within': '1 s' }") ==
          "response; pit_kill; NOT (injectors OR coils)");
    CHECK(plainly("{ 'cuts': 'injectors', 'whenever': 'pit_kill -> start', 'within': '1 s' }") ==
          "response; pit_kill -> start; NOT injectors");
    CHECK(plainly("{ 'switch': 'pit_kill', 'kills': ['injectors'], 'within': '1 s' }") ==
          "response; pit_kill; NOT injectors");
    CHECK(plainly("{ 'override_cannot_defeat': 'override', 'cuts': 'coils', 'whenever': 'start OR pit_kill', 'within': "
                  "'1 s' }") == "response; override AND (start OR pit_kill); NOT coils");
    CHECK(plainly("{ 'never_both': ['starter', 'engine = running', 'coils'] }") ==
          "always; NOT 2 of (starter, engine = running, coils)");
    CHECK(plainly("{ 'never_cuts_by_itself': ['injectors', 'coils'], 'while': 'ignition' }") ==
          "always; ignition -> injectors AND coils");
    CHECK(plainly("{ 'starts': ['set ignition', 'wait 1 s'] }") == "procedure; TON(engine = running, 2 s)");
    CHECK(plainly("{ 'can_restart_when_hot': ['set ignition', 'wait 1 s'], 'hot': 'coolant_temperature > 95 degC', "
                  "'goal': 'engine = running' }") ==
          "procedure; engine = running; engine = stopped AND coolant_temperature > 95 degC");
    CHECK(plainly("{ 'no_chatter': 'fuel_pump', 'at_most': 3, 'in_any': '1 min' }") == "changes; fuel_pump");
    CHECK(plainly("{ 'no_lock_out': 'coils', 'hands_off': true }") == "recoverable; coils");
}

TEST_CASE("what a word leaves as it is") {
    const Model m = with(
        "'cut': { 'cuts': 'coils', 'whenever': 'pit_kill', 'for': '2 s', 'out_of': '3 s', 'within': '1 s', 'under': "
        "'healthy' }, 'press': { 'cuts': 'coils', 'once': 'pit_kill', 'within': '1 s' },"
        "'limit': { 'no_chatter': 'coils', 'at_most': 3, 'in_any': '60 s' }, 'itself': { 'never_cuts_by_itself': "
        "'coils', 'while': 'ignition' }, 'go': { 'starts': ['wait 1 s'], 'within': '9 s' }, 'trap': { 'no_lock_out': "
        "'coils', 'may_move': 'ignition', 'within': '60 s', 'reached_under': 'healthy', 'under': 'any' }, 'hot': { "
        "'can_restart_when_hot': ['wait 1 s'], 'hot': 'ignition', 'reached_under': 'healthy' }");
    const auto& cut = std::get<Response>(claim(m, "cut").body);
    CHECK(cut.manner == Manner::in_total);
    CHECK(cut.for_time == 2);
    CHECK(cut.out_of == 3);
    CHECK(cut.within == 1);
    CHECK(claim(m, "cut").condition == healthy_condition);
    CHECK(std::get<Response>(claim(m, "press").body).manner == Manner::once_begun);
    CHECK(claim(m, "press").condition == any_condition);
    CHECK(std::get<ChangeLimit>(claim(m, "limit").body).at_most == 3);
    CHECK(std::get<ChangeLimit>(claim(m, "limit").body).in_any == 60);
    CHECK(claim(m, "itself").condition == healthy_condition);  // the word's own default, not that of "always"
    CHECK(std::get<Procedure>(claim(m, "go").body).within == Rational(9));
    CHECK(claim(m, "go").condition == healthy_condition);
    const auto& trap = claim(m, "trap");
    CHECK(std::get<Recoverable>(trap.body).may_move == Indexed<Switch, bool>{true, false, false, false, false, false});
    CHECK(std::get<Recoverable>(trap.body).within == Rational(60));
    CHECK(trap.reached_under == healthy_condition);
    CHECK(trap.condition == any_condition);
    CHECK(claim(m, "hot").reached_under == healthy_condition);
}

TEST_CASE("a parameter that stands twice is compiled once: its elements are shared") {
    const Model m = with("'c': { 'load': 'coils', 'primes_for_at_most': '2 s', 'while': 'TON(ignition, 1 s)' }");
    CHECK(m.elements.size() == 2);
    std::multiset<ElementId> seen;
    visit(expressions_of(m.claims.at(ClaimId(0))).at(0), [&](const Expr& e) {
        if (has_memory(e.op)) seen.insert(e.element);
    });
    CHECK(seen.size() == 3);
    CHECK(std::set<ElementId>(seen.begin(), seen.end()).size() == 2);
    for (const auto& e : m.elements) CHECK(e.observer);
}

TEST_CASE("a duty switches what it feeds") {
    CHECK(plainly("{ 'cuts': 'cooler', 'whenever': 'pit_kill', 'within': '1 s' }") == "response; pit_kill; NOT cooler");
}

TEST_CASE("how a claim is written is kept on one line") {
    const Model m = with("'c': {\n   'always' :  'coils  OR\\tNOT coils' ,\n 'note': 'a {'\n}");
    CHECK(m.claims.at(ClaimId(0)).written == "{ \"always\" : \"coils  OR\\tNOT coils\" , \"note\": \"a {\" }");
    CHECK(m.claims.at(ClaimId(0)).pattern.empty());
}

TEST_CASE("mistakes in parameters are told where they stand, each once") {
    const auto found = codes(car +
                             "'claims': {\n'a': { 'load': 'coils', 'primes_for_at_most': '2 ss', 'while': 'ignitoin' "
                             "},\n'b': { 'absence': 'coils AND', 'after': 'nothing', 'until': 'throttle' } }");
    CHECK(found == std::vector<std::string>{"unknown-unit at 3:50", "unknown-name at 3:65", "syntax-expression at 4:26",
                                            "unknown-name at 4:42", "wrong-type at 4:62"});
}
