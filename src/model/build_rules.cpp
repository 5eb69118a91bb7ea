// Rules of packs become claims of the model. A rule speaks of roles; the model says who plays them. In the texts of the
// rule's claims every role is replaced by the name or the expression that plays it, every parameter by its value, and
// what comes out is read like a claim of the file itself. Its texts stand nowhere in that file, so that everything that
// is said about them points at who plays the first role in the text.
// Tested by: tests/model/packs_test.cpp
#include <algorithm>
#include <map>
#include <set>

#include "base/characters.hpp"
#include "base/suggest.hpp"
#include "model/build.hpp"
#include "model/compile_report.hpp"
#include "model/condition_faults.hpp"
#include "model/mentions.hpp"
#include "model/scopes.hpp"
#include "model/split.hpp"

namespace lanyard::model {

namespace {

struct Player {
    std::string text;                    // what stands for the role in an expression
    const json::Value* value = nullptr;  // in the model file
    bool good = false;
};

// What stands for a word, and the value of the model file that says so (null: none does).
struct Replacement {
    std::string text;
    const json::Value* from = nullptr;
};
using Replacements = std::map<std::string, Replacement>;

struct Spot {
    std::size_t offset = 0;
    std::size_t length = 1;
};

// A copy of a claim of a pack with the words replaced. Everything in it lies at the spot, or where a word comes from.
json::Value instance(const json::Value& v, const Replacements& words, Spot spot) {
    json::Value out = v;
    out.items.clear();
    out.members.clear();
    out.offset = spot.offset;
    out.length = spot.length;
    out.escaped = true;
    for (const auto& item : v.items) out.items.push_back(instance(item, words, spot));
    for (const auto& m : v.members) {
        json::Member copy{m.key, spot.offset, spot.length, m.duplicate, m.value};
        if (m.key != "note") copy.value = instance(m.value, words, spot);
        out.members.push_back(std::move(copy));
    }
    if (v.kind != json::Kind::string) return out;
    out.text.clear();
    std::size_t done = 0;
    bool placed = false;
    for (const auto& m : mentions(v.text)) {
        const auto found = words.find(m.word);
        if (found == words.end()) continue;
        out.text += v.text.substr(done, m.at - done) + found->second.text;
        done = m.at + m.word.size();
        const json::Value* from = found->second.from;
        if (placed || from == nullptr) continue;
        placed = true;
        out.offset = from->offset;
        out.length = from->length;
    }
    out.text += v.text.substr(done);
    return out;
}

class RuleBuilder {
 public:
    RuleBuilder(Build& b, const ObjectReader& top) : b_(b), top_(top) {
        known_ = b.model.packs;
        if (!top.has("roles") && !top.has("rule_values")) return;
        for (const auto& p : shipped_packs())
            if (p.pack != nullptr && !is_chosen(p.pack->id)) known_.push_back(p.pack);
    }

    void build() {
        for (const auto& e : top_.entries("roles")) read_player(e);
        for (const auto& e : top_.entries("rule_values")) read_values(e);
        for (const auto& pack : b_.model.packs)
            for (const auto& rule : pack->rules) use(*pack, rule);
    }

 private:
    bool is_chosen(const std::string& id) const {
        const auto& chosen = b_.model.packs;
        return std::any_of(chosen.begin(), chosen.end(), [&](const auto& p) { return p->id == id; });
    }

    const Role* role_named(const std::string& name) const {
        for (const auto& p : known_)
            if (const Role* r = find_role(*p, name)) return r;
        return nullptr;
    }

    void read_player(const Entry& e) {
        Player& player = players_[e.name];
        if (e.value == nullptr) return;
        player.value = e.value;
        const LocatedText text = trimmed(b_.reading.located(*e.value, e.pointer));
        player.text = is_name(text.text) ? text.text : "(" + text.text + ")";
        if (!e.good_name) return;
        const Role* role = role_named(e.name);
        if (role == nullptr) {
            report_unknown_role(e);
            return;
        }
        if (role->kind == "faults") {
            player.text = text.text;
            player.good = are_faults(text);
            return;
        }
        // Compiled for its type and its mistakes only: each claim gets memory of its own.
        const std::size_t elements = b_.model.elements.size();
        ClaimScope scope(b_);
        const ExprPtr made = compile_for(b_, text, scope, std::nullopt, {Op::ton, true, false});
        b_.model.elements.resize(elements);
        player.good = made != nullptr && fits(*role, *made, text);
    }

    // "K1, any wire.open": what may stand behind `one fault of`.
    bool are_faults(const LocatedText& text) {
        Condition unused;
        bool good = true;
        for (const auto& one : split_at_commas(text)) good = add_faults(b_, unused, one) && good;
        return good;
    }

    void report_unknown_role(const Entry& e) {
        std::vector<std::string> names;
        for (const auto& p : known_)
            for (const auto& r : p->roles) names.push_back(r.name);
        std::string hint = b_.reading.suggestion(e.name, names);
        if (hint.empty())
            hint = "`lanyard rules PACK` lists the roles of a pack; one of your own is chosen with --rules FOLDER";
        b_.reading.error("unknown-role", e.pointer, e.place, "no pack has a role " + quoted(e.name),
                         "the rules of a misspelt role would not be judged", hint);
    }

    bool fits(const Role& role, const Expr& e, const LocatedText& text) {
        const auto wrong = [&](const std::string& what, const std::string& hint) {
            b_.reading.error("role-kind", text.pointer, text.place, quoted(text.text) + " is " + what, wanted(role),
                             hint);
            return false;
        };
        const bool number = e.type.kind == TypeKind::number;
        if (role.kind == "quantity") {
            if (!number) return wrong("no number", "");
            const std::string is = dimension_name(e.type.dimension);
            return role.dimension.empty() || role.dimension == is || wrong("a " + is, "");
        }
        if (e.type.kind == TypeKind::boolean) return true;
        return wrong(number ? "a number" : "an engine mode", number ? "say when it counts as on: `NAME > 0 %`" : "");
    }

    static std::string wanted(const Role& role) {
        std::string what = "something that is on or off";
        if (role.kind == "quantity") what = role.dimension.empty() ? "a number" : "a " + role.dimension;
        return "the role " + quoted(role.name) + " is for " + what + ": " + role.meaning;
    }

    void read_values(const Entry& e) {
        if (e.value == nullptr) return;
        const PackRule* rule = find_rule(known_, e.name);
        if (rule == nullptr) {
            report_unknown_rule(e);
            return;
        }
        for (const auto& m : e.value->members)
            if (!m.duplicate && m.key != "note") read_value(*rule, m, json::child(e.pointer, m.key));
    }

    void report_unknown_rule(const Entry& e) {
        std::vector<std::string> names;
        for (const auto& p : known_)
            for (const auto& r : p->rules) names.push_back(r.id);
        std::string hint = b_.reading.suggestion(e.name, names);
        if (hint.empty()) hint = "rules are named with their pack, such as small-boats/fuel-pump-off-when-stopped";
        b_.reading.error("unknown-rule", e.pointer, e.place, "no pack has a rule " + quoted(e.name), "", hint);
    }

    void read_value(const PackRule& rule, const json::Member& m, const std::string& pointer) {
        std::vector<std::string> names;
        for (const auto& p : rule.parameters) names.push_back(p.name);
        const auto at = std::find(names.begin(), names.end(), m.key);
        if (at == names.end()) {
            std::string hint = b_.reading.suggestion(m.key, names);
            if (hint.empty()) hint = names.empty() ? "it has none" : "its parameters are " + joined(names, ", ");
            b_.reading.error("unknown-parameter", pointer, b_.reading.key_place(m),
                             "the rule " + rule.id + " has no parameter " + quoted(m.key), "", hint);
            return;
        }
        KeyHelp key;
        key.key = m.key;
        key.shape = Shape::amount;
        key.example = '"' + parameter(rule, m.key).value + '"';
        if (!check_shape(b_.reading, key, m.value, pointer)) return;
        const LocatedText text = b_.reading.located(m.value, pointer);
        const auto dimension = amount_dimension(b_.reading, text);
        const Dimension wanted = parameter(rule, m.key).dimension;
        if (dimension && *dimension != wanted)
            b_.reading.error("wrong-unit", pointer, text.place,
                             quoted(text.text) + " is a " + dimension_name(*dimension) + ", but " + quoted(m.key) +
                                 " is a " + dimension_name(wanted),
                             "the rule " + rule.id + " uses it as " + parameter(rule, m.key).value);
        else if (dimension)
            values_[rule.id][m.key] = {text.text, &m.value};
    }

    static const Parameter& parameter(const PackRule& rule, const std::string& name) {
        return *std::find_if(rule.parameters.begin(), rule.parameters.end(),
                             [&](const Parameter& p) { return p.name == name; });
    }

    void use(const Pack& pack, const PackRule& rule) {
        RuleUse use{rule.id, RuleState::judged, {}, {}};
        bool broken = false;
        for (const auto& p : rule.parameters)
            if (const auto own = values_[rule.id].find(p.name); own != values_[rule.id].end())
                use.changed.push_back(p.name + " = " + own->second.text + " (the pack says " + p.value + ")");
        for (const auto& r : rule.roles) {
            const auto played = players_.find(r);
            if (played == players_.end())
                use.missing.push_back({r, candidates(*find_role(pack, r))});
            else
                broken = broken || !played->second.good;
        }
        if (rule.needs == "wiring" && !b_.has_circuit)
            use.state = RuleState::wiring_missing;
        else if (!use.missing.empty())
            use.state = RuleState::roles_missing;
        else if (!b_.has_engine && speaks_of_engine(rule))
            use.state = RuleState::engine_missing;
        else if (!broken)
            build_claims_of(rule);
        b_.model.rules.push_back(std::move(use));
    }

    static bool speaks_of_engine(const json::Value& v) {
        for (const auto& m : v.members)
            if (m.key != "note" && speaks_of_engine(m.value)) return true;
        for (const auto& i : v.items)
            if (speaks_of_engine(i)) return true;
        if (v.kind != json::Kind::string) return false;
        const auto all = mentions(v.text);
        return std::any_of(all.begin(), all.end(), [](const Mention& m) { return m.word == "engine"; });
    }
    static bool speaks_of_engine(const PackRule& rule) {
        return std::any_of(rule.claims.begin(), rule.claims.end(),
                           [](const RuleClaim& c) { return speaks_of_engine(*c.value); });
    }

    void build_claims_of(const PackRule& rule) {
        Replacements words;
        for (const auto& p : rule.parameters) words[p.name] = {p.value, nullptr};
        for (const auto& [name, value] : values_[rule.id]) words[name] = value;
        for (const auto& r : rule.roles) words[r] = {players_[r].text, players_[r].value};
        for (const auto& c : rule.claims) build_one(rule, c, words);
    }

    void build_one(const PackRule& rule, const RuleClaim& c, const Replacements& words) {
        const std::string first = rule.roles.empty() ? "" : rule.roles.front();
        const json::Value* anchor = first.empty() ? top_.get("roles") : players_[first].value;
        const Spot spot = anchor == nullptr ? Spot{} : Spot{anchor->offset, anchor->length};
        const json::Value value = instance(*c.value, words, spot);
        Entry e{rule_claim_id(rule.id, c.name), b_.reading.place(value), "/roles", &value, true};
        if (!first.empty()) e.pointer = json::child(e.pointer, first);
        const auto& own = b_.model.claims;
        if (std::any_of(own.begin(), own.end(), [&](const Claim& o) { return o.id == e.name; })) {
            b_.reading.error("duplicate-name", e.pointer, e.place, "a claim of the model is called " + quoted(e.name),
                             "that is the name of a rule's claim", "give the model's claim another name");
            return;
        }
        const std::size_t before = own.size();
        const ReportAbout report(b_, "rule " + rule.id + ", claim " + quoted(c.name));
        b_.of_rule = true;
        build_claim(b_, e);
        b_.of_rule = false;
        if (b_.model.claims.size() == before) return;
        b_.model.claims.back().rule = rule.id;
        b_.model.claims.back().written.clear();  // not in this file
    }

    // Names of the model that could play the role, the one that is spelt like it first.
    std::vector<std::string> candidates(const Role& role) {
        constexpr std::size_t most = 5;
        std::vector<std::string> all;
        for (const auto& name : b_.name_order)
            if (could_play(role, b_.names.at(name))) all.push_back(name);
        if (!b_.reading.may_suggest(all.size())) return {};
        if (const auto near = nearest(role.name, all))
            std::rotate(all.begin(), std::find(all.begin(), all.end(), *near),
                        std::next(std::find(all.begin(), all.end(), *near)));
        if (all.size() > most) all.resize(most);
        return all;
    }

    bool could_play(const Role& role, const Named& n) const {
        if (role.kind == "switch") return n.thing == Thing::hand_switch;
        if (role.kind == "load") return n.thing == Thing::load || (n.thing == Thing::output && is_boolean(n));
        if (role.kind == "output") return n.thing == Thing::output && is_boolean(n);
        if (role.kind == "expression")
            return (n.thing == Thing::logic || n.thing == Thing::hand_switch) && is_boolean(n);
        if (role.kind == "faults") return n.thing == Thing::sensor || n.thing == Thing::relay || n.thing == Thing::part;
        if (n.thing != Thing::quantity) return false;
        const Type& type = b_.model.signal(n.signal).type;
        return role.dimension.empty() || dimension_name(type.dimension) == role.dimension;
    }
    bool is_boolean(const Named& n) const {
        return n.signal && b_.model.signal(n.signal).type.kind == TypeKind::boolean;
    }

    Build& b_;
    const ObjectReader& top_;
    std::vector<PackPtr> known_;  // the chosen ones first
    std::map<std::string, Player> players_;
    std::map<std::string, Replacements> values_;  // by rule
};

}  // namespace

void build_rules(Build& b, const ObjectReader& top) { RuleBuilder(b, top).build(); }

}  // namespace lanyard::model
