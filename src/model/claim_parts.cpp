#include "model/claim_parts.hpp"

#include <algorithm>
#include <set>

#include "model/names.hpp"
#include "model/scopes.hpp"

namespace lanyard::model {

namespace {

constexpr Element observer{Op::ton, true, false};

std::string in_quotes(const std::vector<std::string>& keys) {
    std::string all;
    for (const auto& k : keys) all += (all.empty() ? "\"" : " and \"") + k + '"';
    return all;
}

// A template with its holes filled: compiled once as it stands, with a name for each hole, and then the compiled
// parameters are put where the names are. One filling may stand in several places: its memory elements keep their
// numbers, so that each of them is one element still.

// The name that stands for filling number `index`.
std::string hole_name(std::size_t index) { return "hole_" + std::to_string(index + 1); }

// Numbers above those of all signals.
constexpr std::size_t first_hole = 1'000'000'000;
SignalId hole_signal(std::size_t index) { return SignalId(first_hole + index); }

class TemplateScope : public ClaimScope {
 public:
    TemplateScope(Build& b, std::size_t holes) : ClaimScope(b), holes_(holes) {}

    std::optional<Symbol> find(const std::string& name) const override {
        for (std::size_t i = 0; i < holes_; ++i)
            if (name == hole_name(i)) return Symbol{Op::signal, hole_signal(i), Type::boolean()};
        return ClaimScope::find(name);
    }

 private:
    std::size_t holes_;
};

ExprPtr put_in(const ExprPtr& e, const std::vector<ExprPtr>& fillings) {
    if (e->op == Op::signal && e->signal >= hole_signal(0)) return fillings[e->signal.index() - first_hole];
    if (e->args.empty()) return e;
    auto copy = std::make_shared<Expr>(*e);
    for (auto& a : copy->args) a = put_in(a, fillings);
    return copy;
}

// `text` speaks of the fillings, all on/off values, by their names; other names are those of claims.
ExprPtr fill(Build& b, const LocatedText& text, const std::vector<ExprPtr>& fillings, Element owner) {
    b.owner = owner;
    TemplateScope scope(b, fillings.size());
    const ExprPtr e = compile(text, scope, Type::boolean(), b.reading.out());
    return e == nullptr ? nullptr : put_in(e, fillings);
}

}  // namespace

ClaimParts::ClaimParts(Build& b, const ObjectHelp& help, const ObjectReader& object)
    : b_(b), help_(help), object_(object), pattern_(find_pattern(help.id)), good_(object.good()) {
    if (pattern_ == nullptr) return;
    choose_expansion();
    check_keys();
}

const std::string& ClaimParts::kind() const { return pattern_ == nullptr ? help_.id : expansion_->kind; }

const std::string& ClaimParts::word() const {
    static const std::string none;
    return pattern_ == nullptr ? none : help_.keys.front().key;
}

bool ClaimParts::has_all(const std::vector<std::string>& keys) const {
    return std::all_of(keys.begin(), keys.end(), [&](const auto& k) { return object_.has(k); });
}

void ClaimParts::choose_expansion() {
    const auto& all = pattern_->expansions;
    const auto found = std::find_if(all.begin(), all.end(), [&](const Expansion& e) { return has_all(e.with); });
    expansion_ = found == all.end() ? &all.back() : &*found;
}

// A key that would not be looked at is not skipped.
void ClaimParts::check_keys() {
    for (const auto& k : help_.keys) {
        const bool looked_at = reads(*expansion_, k.key);
        if (object_.has(k.key) && !looked_at) idle(k.key);
    }
    for (const auto& k : help_.keys) {
        const bool lacking = k.key != "note" && !k.required && !object_.has(k.key);  // required ones: told already
        if (lacking && needs(*pattern_, *expansion_, k.key)) missing(k.key);
    }
}

void ClaimParts::idle(const std::string& key) {
    good_ = false;
    std::vector<std::string> first_lack;
    bool fits_alone = false;  // only what else was written keeps it from being looked at
    for (const auto& e : pattern_->expansions) {
        if (!reads(e, key)) continue;
        std::vector<std::string> lack;
        for (const auto& k : e.with)
            if (!object_.has(k)) lack.push_back(k);
        fits_alone = fits_alone || lack.empty();
        if (first_lack.empty()) first_lack = lack;
    }
    const std::string what = fits_alone ? " cannot be combined with " + in_quotes(expansion_->with)
                                        : " has no effect without " + in_quotes(first_lack);
    b_.reading.error("idle-key", object_.pointer(key), object_.place(key), "\"" + key + "\"" + what,
                     "a key that would have no effect is not silently ignored",
                     fits_alone ? "remove one of them" : "add " + in_quotes(first_lack) + ", or remove it");
}

void ClaimParts::missing(const std::string& key) {
    good_ = false;
    const KeyHelp& k = key_help(key);
    b_.reading.error("missing-key", object_.pointer(), object_.place(),
                     with_article(help_) + " needs \"" + key + "\"" +
                         (expansion_->with.empty() ? "" : " together with " + in_quotes(expansion_->with)),
                     "", "add \"" + key + "\": " + k.example + " (" + k.meaning + ")");
}

const KeyHelp& ClaimParts::key_help(const std::string& key) const {
    return *std::find_if(help_.keys.begin(), help_.keys.end(), [&](const auto& k) { return k.key == key; });
}

std::string ClaimParts::key(const std::string& field) const {
    if (pattern_ == nullptr) return field;
    const std::string* text = template_of(*expansion_, field);
    return text == nullptr ? "" : only_hole(*text);
}

bool ClaimParts::has(const std::string& field) const {
    if (pattern_ == nullptr) return object_.has(field);
    const std::string* text = template_of(*expansion_, field);
    if (text == nullptr) return false;
    const std::string k = only_hole(*text);
    return k.empty() || object_.has(k);
}

// A text of the word's own stands nowhere in the file: what is wrong with it is said at the word.
std::optional<LocatedText> ClaimParts::text(const std::string& field) const {
    const std::string* own = pattern_ == nullptr ? nullptr : template_of(*expansion_, field);
    if (own == nullptr || !only_hole(*own).empty()) return object_.text(key(field));
    const std::string& word = help_.keys.front().key;
    return LocatedText{*own, object_.place(word), true, object_.pointer(word)};
}
std::vector<LocatedText> ClaimParts::texts(const std::string& field) const { return object_.texts(key(field)); }
bool ClaimParts::flag(const std::string& field) const { return object_.flag(key(field)); }
long ClaimParts::count(const std::string& field) const { return object_.count(key(field)); }
Place ClaimParts::place(const std::string& field) const { return object_.place(key(field)); }
std::string ClaimParts::pointer(const std::string& field) const { return object_.pointer(key(field)); }

ConditionId ClaimParts::usual_condition() const {
    return key_help("under").default_text == "healthy" ? healthy_condition : any_condition;
}

std::optional<Rational> ClaimParts::time(const std::string& field, bool above_zero) {
    const auto written = text(field);
    if (!written) return std::nullopt;
    const auto t = read_time(b_, *written, "\"" + key(field) + "\"", above_zero);
    if (!t) good_ = false;
    return t;
}

ExprPtr ClaimParts::expression(const std::string& field) {
    const std::string* text = pattern_ == nullptr ? nullptr : template_of(*expansion_, field);
    if (pattern_ != nullptr && text == nullptr) return nullptr;
    if (text != nullptr && only_hole(*text).empty()) return filled(*text);
    const auto& all = values(key(field));
    return all && all->size() == 1 ? all->front() : nullptr;
}

// A default stands nowhere in the file: what is wrong with it - there is no engine - is said at the word.
std::vector<LocatedText> ClaimParts::parameter_texts(const KeyHelp& key) {
    const bool written = object_.get(key.key) != nullptr;
    if (written || pattern_ == nullptr || key.default_text.empty() || object_.has(key.key))
        return object_.texts(key.key);
    return {{key.default_text, object_.place(word()), true, object_.pointer()}};
}

const std::optional<std::vector<ExprPtr>>& ClaimParts::values(const std::string& key) {
    const auto [at, is_new] = values_.try_emplace(key);
    if (!is_new) return at->second;
    const KeyHelp& help = key_help(key);
    const auto texts = parameter_texts(help);
    std::vector<ExprPtr> made;
    for (const auto& t : texts) made.push_back(help.shape == Shape::names ? named(t) : compiled(t));
    const bool whole =
        !texts.empty() && std::all_of(made.begin(), made.end(), [](const auto& e) { return e != nullptr; });
    const bool apart = help.shape != Shape::names || once_each(texts);
    if (whole && apart)
        at->second = std::move(made);
    else
        good_ = false;
    return at->second;
}

ExprPtr ClaimParts::compiled(const LocatedText& text) {
    ClaimScope scope(b_);
    return compile_for(b_, text, scope, Type::boolean(), observer);
}

ExprPtr ClaimParts::named(const LocatedText& name) {
    if (name.text.find_first_of(" ,(") != std::string::npos) {
        b_.reading.error("bad-name", name.pointer, name.place, quoted(name.text) + " is more than a name",
                         "this lists what is switched, each by its name", R"(write a list: ["injectors", "coils"])");
        return nullptr;
    }
    if (!is_name(name.text) || is_taken(name.text)) {
        check_name(b_.reading, name.text, name.place, name.pointer);
        return nullptr;
    }
    const Named* n = resolve(b_, name.text);
    if (n == nullptr || n->broken) return compiled(name);
    const bool switched = n->thing == Thing::load || n->thing == Thing::output || n->thing == Thing::relay;
    if (switched) return n->thing == Thing::output ? fed_load(name, *n) : compiled(name);
    b_.mentioned.insert(name.text);
    b_.reading.error("not-switched", name.pointer, name.place,
                     quoted(name.text) + " is " + thing_words(n->thing) + ", which the controller does not switch",
                     "a load, an output or a relay is expected here", suggest_thing(b_, name.text, Thing::load));
    return nullptr;
}

// A duty is no on or off, but what it feeds has power or has not.
ExprPtr ClaimParts::fed_load(const LocatedText& name, const Named& n) {
    const auto load = b_.loads.find(name.text);
    if (b_.model.signal(n.signal).type.kind != TypeKind::number || load == b_.loads.end()) return compiled(name);
    b_.mentioned.insert(name.text);
    auto e = std::make_shared<Expr>();
    e->op = Op::signal;
    e->signal = b_.model.loads[load->second].signal;
    e->place = name.place;
    e->place.length = name.text.size();
    return e;
}

bool ClaimParts::once_each(const std::vector<LocatedText>& names) {
    std::set<std::string> seen;
    bool good = true;
    for (const auto& n : names) {
        if (seen.insert(n.text).second) continue;
        good = false;
        b_.reading.error("named-twice", n.pointer, n.place, quoted(n.text) + " is named twice", "", "name it once");
    }
    return good;
}

std::optional<std::string> ClaimParts::time_text(const std::string& key) {
    const auto written = object_.text(key);
    if (!written) return std::nullopt;
    if (read_time(b_, *written, "\"" + key + "\"", false)) return written->text;
    good_ = false;
    return std::nullopt;
}

std::optional<std::string> ClaimParts::hole_text(const TemplatePiece& hole, std::vector<ExprPtr>& fillings) {
    const KeyHelp& help = key_help(hole.text);
    if (help.shape == Shape::time) return time_text(hole.text);
    const auto& all = values(hole.text);
    if (!all) return std::nullopt;
    if (hole.joint == ", " && all->size() < 2) {
        b_.reading.error("too-few-inputs", object_.pointer(hole.text), object_.place(hole.text),
                         "\"" + hole.text + "\" needs at least two expressions", "", "write a list: " + help.example);
        return std::nullopt;
    }
    std::string names;
    for (const auto& e : *all) {
        names += (names.empty() ? "" : hole.joint) + hole_name(fillings.size());
        fillings.push_back(e);
    }
    return names;
}

ExprPtr ClaimParts::filled(const std::string& text) {
    std::string whole;
    std::vector<ExprPtr> fillings;
    bool complete = true;
    for (const auto& piece : template_pieces(text)) {
        const auto written = piece.hole ? hole_text(piece, fillings) : piece.text;
        complete = complete && written;
        whole += written.value_or("");
    }
    const LocatedText located{whole, object_.place(word()), true, object_.pointer()};
    const ExprPtr e = complete ? fill(b_, located, fillings, observer) : nullptr;
    if (e == nullptr) good_ = false;
    return e;
}

std::vector<FailurePiece> ClaimParts::failure() {
    std::vector<FailurePiece> out;
    const std::string said = expansion_ == nullptr ? "" : expansion_->failure;
    for (std::size_t at = 0; at < said.size();) {
        const bool inside = said[at] == '[';
        const std::size_t end = std::min(said.find(inside ? ']' : '[', at), said.size());
        const auto pieces = template_pieces(inside ? said.substr(at + 1, end - at - 1) : said.substr(at, end - at));
        if (inside) {
            const auto hole = std::find_if(pieces.begin(), pieces.end(), [](const auto& p) { return p.hole; });
            out.push_back({hole->text, filled(said.substr(at + 1, end - at - 1))});
        } else {
            for (const auto& p : pieces) out.push_back({p.hole ? time_text(p.text).value_or("") : p.text, nullptr});
        }
        at = inside ? end + 1 : end;
    }
    return out;
}

}  // namespace lanyard::model
