#include "model/packs.hpp"

#include <algorithm>
#include <array>
#include <set>
#include <string_view>

#include "base/file.hpp"
#include "lang/compile.hpp"
#include "model/fault_kinds.hpp"
#include "model/mentions.hpp"
#include "model/names.hpp"
#include "model/reader.hpp"
#include "model/shipped_packs.hpp"

namespace lanyard::model {

namespace {

template <std::size_t n>
bool is_among(const std::array<std::string_view, n>& words, const std::string& word) {
    return std::find(words.begin(), words.end(), word) != words.end();
}

// Words that stand in steps of procedures and in lists of faults, and are names of nothing there.
bool is_step_word(const std::string& word) {
    constexpr std::array<std::string_view, 13> words = {"set", "clear", "press",  "hold", "wait",   "until", "for",
                                                        "at",  "most",  "reacts", "in",   "except", "within"};
    return is_among(words, word);
}

// Behind "under": "one", "fault", and what breaks and how: "wire", "welded", "wire.open".
bool is_fault_word(const std::string& word) {
    constexpr std::array<std::string_view, 10> words = {"one", "fault", "faults", "of",    "up",
                                                        "to",  "from",  "the",    "start", "everything"};
    const auto& kinds = fault_kind_table();
    return is_among(words, word) || std::any_of(kinds.begin(), kinds.end(), [&](const FaultKindHelp& k) {
               return !k.word.empty() && (word == k.part || word == k.word || word == k.part + "." + k.word);
           });
}

// In a claim they could not be told from a role.
bool is_spoken_for(const std::string& word) { return is_step_word(word) || is_fault_word(word); }

bool is_file_word(const std::string& word) {
    const auto good = [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-'; };
    return !word.empty() && word.size() <= 64 && std::all_of(word.begin(), word.end(), good);
}

// A value of a parameter stands for itself: nothing has a name in it.
class NoNames : public Scope {
 public:
    std::optional<Symbol> find(const std::string&) const override { return std::nullopt; }
    std::optional<Refusal> refusal(const std::string&) const override { return std::nullopt; }
    std::vector<std::string> names() const override { return {}; }
    std::optional<TableShape> find_table(const std::string&) const override { return std::nullopt; }
    std::vector<std::string> table_names() const override { return {}; }
    bool allows_implication() const override { return false; }
    bool has_engine() const override { return false; }
    ElementId new_element(Op) override { return ElementId(0); }
};

class PackReader {
 public:
    PackReader(Pack& pack, Reading& reading) : pack_(pack), reading_(reading) {}

    void read() {
        const ObjectReader top(reading_, object_help("pack"), pack_.root, "");
        if (!is_file_word(pack_.id))
            reading_.error("bad-pack-name", "", top.place(),
                           lanyard::model::quoted(pack_.id) + " cannot be the name of a pack",
                           "a pack has the name of its folder", "small letters, digits and hyphens");
        pack_.title = top.word("title");
        pack_.publisher = top.word("publisher");
        pack_.edition = top.word("edition");
        pack_.text_read = top.word("text_read");
        pack_.scope = top.word("scope");
        for (const auto& e : top.entries("roles")) read_role(e);
        for (const auto& e : top.entries("rules")) read_rule(e);
        for (const auto& e : top.entries("inspect")) read_inspection(e);
    }

 private:
    void read_role(const Entry& e) {
        if (is_spoken_for(e.name))
            reading_.error("reserved-name", e.pointer, e.place, quoted(e.name) + " cannot be the name of a role",
                           "the word already has a meaning in steps and conditions",
                           "add something to it, such as " + e.name + "_1");
        if (e.value == nullptr) return;
        const ObjectReader object(reading_, object_help("role"), *e.value, e.pointer);
        Role role{e.name, object.word("kind"), object.word("meaning"), object.word("dimension")};
        if (object.has("dimension") && role.kind != "quantity")
            reading_.error("role-kind", object.pointer("dimension"), object.place("dimension"),
                           "only a quantity has a dimension", "", "leave it out, or make the role a quantity");
        pack_.roles.push_back(std::move(role));
    }

    void read_inspection(const Entry& e) {
        if (e.value == nullptr) return;
        const ObjectReader object(reading_, object_help("inspection"), *e.value, e.pointer);
        pack_.inspect.push_back({e.name, object.word("what"), object.word("citation")});
    }

    void read_rule(const Entry& e) {
        if (!is_file_word(e.name))
            reading_.error("bad-rule-name", e.pointer, e.place, quoted(e.name) + " cannot be the name of a rule",
                           "files are named after it", "small letters, digits and hyphens, at most 64");
        if (e.value == nullptr) return;
        const ObjectReader object(reading_, object_help("rule"), *e.value, e.pointer);
        PackRule rule;
        rule.id = pack_.id + "/" + e.name;
        rule.requirement = object.word("requires");
        rule.citation = object.word("citation");
        rule.text_read = object.word("text_read", pack_.text_read);
        rule.advice = object.word("advice");
        rule.needs = object.word("needs");
        used_.clear();
        read_roles(rule, object);
        for (const auto& p : object.entries("parameters")) read_parameter(rule, p);
        for (const auto& c : object.entries("claims")) read_claim(rule, c);
        for (const auto& c : object.entries("conflicts_with")) read_conflict(rule, c);
        if (!rule.claims.empty()) find_unused(rule, object);
        pack_.rules.push_back(std::move(rule));
    }

    void read_roles(PackRule& rule, const ObjectReader& object) {
        std::vector<std::string> known;
        for (const auto& r : pack_.roles) known.push_back(r.name);
        for (const auto& name : object.texts("roles")) {
            if (find_role(pack_, name.text) == nullptr)
                reading_.error("unknown-role", name.pointer, name.place, "there is no role " + quoted(name.text), "",
                               reading_.suggestion(name.text, known));
            else if (std::find(rule.roles.begin(), rule.roles.end(), name.text) != rule.roles.end())
                reading_.error("named-twice", name.pointer, name.place, quoted(name.text) + " is listed twice");
            else
                rule.roles.push_back(name.text);
        }
    }

    void read_parameter(PackRule& rule, const Entry& e) {
        if (is_spoken_for(e.name) || find_role(pack_, e.name) != nullptr)
            reading_.error("duplicate-name", e.pointer, e.place, quoted(e.name) + " already has a meaning",
                           "it is a role, or a word of steps and conditions", "give the parameter another name");
        if (e.value == nullptr) return;
        const ObjectReader object(reading_, object_help("parameter"), *e.value, e.pointer);
        Parameter p{e.name, object.word("default"), {}, object.word("meaning")};
        if (const auto text = object.text("default"))
            if (const auto dimension = amount_dimension(reading_, *text)) p.dimension = *dimension;
        rule.parameters.push_back(std::move(p));
    }

    void read_claim(PackRule& rule, const Entry& e) {
        check_claim_name(reading_, rule_claim_id(rule.id, e.name), e.place, e.pointer);
        if (e.value == nullptr) return;
        const ObjectHelp* help = choose_claim(reading_, *e.value, e.pointer, e.place);
        if (help == nullptr) return;
        const ObjectReader object(reading_, *help, *e.value, e.pointer);
        for (const auto& m : e.value->members)
            if (m.key != "note")
                check_words(rule, m.value, object.pointer(m.key), m.key == "under" || m.key == "reached_under");
        rule.claims.push_back({e.name, e.value});
    }

    // A word that is none of the rule's would silently become a name of whatever model is judged.
    void check_words(const PackRule& rule, const json::Value& v, const std::string& pointer, bool condition) {
        for (std::size_t i = 0; i < v.items.size(); ++i)
            check_words(rule, v.items[i], json::child(pointer, i), condition);
        if (v.kind != json::Kind::string) return;
        std::vector<std::string> known = rule.roles;
        for (const auto& p : rule.parameters) known.push_back(p.name);
        for (const auto& m : mentions(v.text)) {
            used_.insert(m.word);
            const bool ours = std::find(known.begin(), known.end(), m.word) != known.end();
            const Place place = part_of(reading_.located(v, pointer), m.at, m.word.size()).place;
            const Role* role = find_role(pack_, m.word);
            if (ours && role != nullptr && role->kind == "faults" && !condition)
                reading_.error("role-kind", pointer, place, quoted(m.word) + " is a list of faults, not an expression",
                               "use it after `one fault of` in \"under\"");
            if (ours || is_taken(m.word) || is_step_word(m.word) || find_unit(m.word)) continue;
            if (condition && is_fault_word(m.word)) continue;
            reading_.error("unknown-name", pointer, place,
                           quoted(m.word) + " is neither a role nor a parameter of this rule",
                           "a rule can use nothing else of a model", reading_.suggestion(m.word, known));
        }
    }

    void read_conflict(PackRule& rule, const Entry& e) {
        if (e.value == nullptr) return;
        const auto slash = e.name.find('/');
        const bool good = slash != std::string::npos && is_file_word(e.name.substr(0, slash)) &&
                          is_file_word(e.name.substr(slash + 1));
        if (!good)
            reading_.error("bad-rule-name", e.pointer, e.place, quoted(e.name) + " is not the name of a rule", "",
                           "write pack and rule: small-boats/fuel-pump-off-when-stopped");
        rule.conflicts.emplace_back(e.name, e.value->text);
    }

    void find_unused(const PackRule& rule, const ObjectReader& object) {
        const auto report = [&](const std::string& name, const char* key) {
            if (used_.count(name) == 0)
                reading_.error("unused-role", object.pointer(key), object.place(key),
                               "no claim of the rule uses " + quoted(name),
                               "a rule applies only if all its roles are played", "use it, or leave it out");
        };
        for (const auto& r : rule.roles) report(r, "roles");
        for (const auto& p : rule.parameters) report(p.name, "parameters");
    }

    Pack& pack_;
    Reading& reading_;
    std::set<std::string> used_;
};

}  // namespace

std::optional<Dimension> amount_dimension(Reading& reading, const LocatedText& text) {
    if (text.text.find("..") != std::string::npos) {
        const auto interval = compile_interval(text, "this value", reading.out());
        return interval ? std::optional(interval->second.dimension) : std::nullopt;
    }
    NoNames scope;
    const ExprPtr e = compile(text, scope, std::nullopt, reading.out());
    if (e == nullptr) return std::nullopt;
    const bool number = e->type.kind == TypeKind::number;
    const Dimension wanted = number ? e->type.dimension : Dimension{};
    if (!compile_number(text, wanted, !number || e->type.difference, "this value", reading.out())) return std::nullopt;
    return wanted;
}

std::string rule_claim_id(const std::string& rule, const std::string& claim) { return rule + ": " + claim; }

PackResult read_pack(const std::string& id, const std::string& shown_name, const std::string& text) {
    PackResult result;
    result.source = SourceText(shown_name, text);
    auto root = json::parse(result.source, json::Limits{}, result.diagnostics);
    if (!root) return result;
    Reading reading(result.source);
    const auto pack = std::make_shared<Pack>();
    pack->id = id;
    pack->sha256 = sha256_hex(text);
    pack->root = std::move(*root);
    if (pack->root.kind == json::Kind::object)
        PackReader(*pack, reading).read();
    else
        reading.error("wrong-json-type", "", reading.place(pack->root),
                      "a rule pack is an object, but this is " + json::kind_words(pack->root.kind));
    for (const auto& d : reading.out().list()) result.diagnostics.add(d);
    result.diagnostics.sort_by_place();
    if (!result.diagnostics.has_errors()) result.pack = pack;
    return result;
}

const std::vector<PackResult>& shipped_packs() {
    static const std::vector<PackResult> packs = [] {
        std::vector<PackResult> all;
        for (const PackText* p = pack_texts; p->id != nullptr; ++p)
            all.push_back(read_pack(p->id, "rules/" + std::string(p->id) + "/pack.json", p->text));
        return all;
    }();
    return packs;
}

const Role* find_role(const Pack& pack, const std::string& name) {
    for (const auto& r : pack.roles)
        if (r.name == name) return &r;
    return nullptr;
}

const PackRule* find_rule(const std::vector<PackPtr>& packs, const std::string& id) {
    for (const auto& p : packs)
        for (const auto& r : p->rules)
            if (r.id == id) return &r;
    return nullptr;
}

std::string text_read_words(const std::string& mark) {
    if (mark == "primary") return "the text itself was read";
    if (mark == "secondary") return "known from what others have written about it";
    if (mark == "memory") return "from memory; the text was not at hand";
    return "common practice; there is no text";
}

}  // namespace lanyard::model
