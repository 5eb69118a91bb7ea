// The parts of the wiring, each with what it brings into the model and what of it may stand in a path.
#include <algorithm>

#include "model/format_make.hpp"
#include "model/wiring.hpp"

namespace lanyard::model {

namespace {

constexpr long most_poles = 12;
constexpr long most_terminals = 200;

struct PartReader {
    Build& b;
    Wiring& w;
    const Entry& e;
    const ObjectReader& object;
    PartId part;

    std::string end(const std::string& of) const { return e.name + "." + of; }
    // Declares the part under its name.
    void named(Thing thing, AnyId index = {}, SignalId signal = {}) const { declare(b, e, {thing, index, signal}); }
    std::optional<Rational> amount(const char* key, const char* unit, const std::string& what) const {
        const auto text = object.text(key);
        if (!text) return std::nullopt;
        const auto n = compile_number(*text, find_unit(unit)->dimension, true, what, b.reading.out());
        if (!n) return std::nullopt;
        if (n->si > 0) return n->si;
        b.reading.error("not-above-zero", text->pointer, text->place, what + " must be above 0");
        return std::nullopt;
    }
    std::optional<Rational> current(const char* key, const std::string& what) const { return amount(key, "A", what); }

    Branch branch(BranchKind kind, AnyId index = {}) const {
        Branch made;
        made.kind = kind;
        made.index = index;
        made.place = e.place;
        made.pointer = e.pointer;
        return made;
    }
    TwoEnded two_ended(const std::string& name, const std::string& in, const std::string& out, Branch made) const {
        made.name = name;
        return {name, in, out, std::move(made), false, part, {}};
    }
    TwoEnded plain(Branch made) const { return two_ended(e.name, end("in"), end("out"), std::move(made)); }

    std::optional<LocatedText> default_live() const {
        if (!b.has_engine) return std::nullopt;
        return LocatedText{"engine = running OR engine = coasting", e.place, true, e.pointer};
    }

    void source(bool turns) const {
        const auto index = b.model.circuit.sources.next();
        Source s;
        s.name = e.name;
        s.turns = turns;
        s.place = e.place;
        s.pointer = e.pointer;
        b.model.circuit.sources.push_back(std::move(s));
        auto live = object.text("live");
        if (turns && !live && !object.has("live")) live = default_live();
        if (live) b.live_texts.emplace_back(index, *live);
        w.add_source(part, {index, e.name, turns});
        named(Thing::part);
        voltage();
    }
    void voltage() const {
        const auto text = object.text("voltage");
        if (!text) return;
        const QuantityId q = quantity_named(b, *text);
        if (!q) return;
        const Named* n = resolve(b, text->text);
        const Signal& s = b.model.signal(n->signal);
        QuantityId& known = b.model.circuit.voltage;
        if (n->broken) return;
        if (s.type.dimension != find_unit("V")->dimension) {
            b.reading.error("wrong-role", text->pointer, text->place,
                            quoted(text->text) + " is a " + dimension_name(s.type.dimension) + ", not a voltage");
        } else if (known && known != q) {
            b.reading.error("two-voltages", text->pointer, text->place,
                            "the voltage is " + quoted(b.model.name_of(b.model.quantities[known].signal)) + " already",
                            "the model has one supply voltage for everything", "name one quantity in one battery");
        } else {
            known = q;
        }
    }

    LoadId load() const {
        const LoadId index = add_load(b, e);
        Load& l = b.model.loads[index];
        l.probe = ProbeId(0);  // the wiring decides; which probe is known at the end
        named(Thing::load, index, l.signal);
        return index;
    }

    void magneto() const { w.add_magneto(part, load()); }

    void consumer() const {
        Branch made = branch(BranchKind::load, load());
        made.lets_through = !object.has("lets_through") || object.flag("lets_through");
        made.polar = object.flag("polar");
        made.limit = current("draws", "what it draws");
        TwoEnded t = plain(std::move(made));
        t.always = true;
        w.add_two_ended(std::move(t));
    }

    void fuse() const {
        Branch made = branch(BranchKind::fuse);
        made.limit = current("rating", "the rating");
        w.add_two_ended(plain(std::move(made)));
        named(Thing::part);
    }

    void diode() const {
        w.add_two_ended(two_ended(e.name, end("anode"), end("cathode"), branch(BranchKind::diode)));
        named(Thing::part);
    }

    void connector() const {
        named(Thing::part);
        long count = object.count("terminals");
        if (object.get("terminals") != nullptr && (count < 1 || count > most_terminals)) {
            b.reading.error("bad-count", object.pointer("terminals"), object.place("terminals"),
                            "a connector has 1 to " + std::to_string(most_terminals) + " terminals");
            count = std::min(std::max(count, 1L), most_terminals);
        }
        for (long i = 1; i <= count; ++i) {
            const std::string name = end(std::to_string(i));
            w.add_two_ended(two_ended(name, name + ".in", name + ".out", branch(BranchKind::terminal)));
        }
    }

    long poles() const {
        if (object.get("poles") == nullptr) return 1;
        const long count = object.count("poles");
        if (count >= 1 && count <= most_poles) return count;
        b.reading.error("bad-count", object.pointer("poles"), object.place("poles"),
                        "a switch has 1 to " + std::to_string(most_poles) + " poles");
        return 1;
    }

    void pole(SwitchId index, const std::string& name, const std::string& contact) const {
        Branch made = branch(BranchKind::pole, index);
        made.makes = contact != "break";
        if (contact != "change-over") {
            w.add_two_ended(two_ended(name, name + ".in", name + ".out", made));
            return;
        }
        w.add_two_ended(two_ended(name + ".make", name + ".in", name + ".make.out", made));
        made.makes = false;
        w.add_two_ended(two_ended(name + ".break", name + ".in", name + ".break.out", made));
    }

    void hand_switch() const {
        const auto index = b.model.switches.next();
        Switch s;
        s.momentary = object.word("switch") == "momentary";
        s.rests_on = object.word("rests") == "on";
        s.seen_by_controller = false;
        s.position = add_on_off(b, e, SignalKind::position, index);
        s.seen = add_on_off(b, e, SignalKind::seen, index);
        named(Thing::hand_switch, index, s.position);
        b.model.switches.push_back(std::move(s));
        const long count = poles();
        const std::string contact = object.word("contact", "make");
        for (long i = 1; i <= count; ++i) pole(index, count == 1 ? e.name : end(std::to_string(i)), contact);
    }

    void times(const char* key, const char* words, Interval& into) const {
        const auto text = object.text(key);
        if (!text) return;
        if (const auto t = read_times(b, *text, words)) into = *t;
    }

    void relay() const {
        const auto index = b.model.relays.next();
        Relay r;
        times("pulls_in", "the pull-in time", r.pulls_in);
        times("drops_out", "the drop-out time", r.drops_out);
        r.operates_at = amount("operates_at", "V", "the voltage at which it pulls in");
        r.releases_at = amount("releases_at", "V", "the voltage at which it drops out");
        if (r.operates_at && r.releases_at && *r.releases_at > *r.operates_at)
            b.reading.error(
                "relay-voltages", object.pointer("releases_at"), object.place("releases_at"),
                "the relay " + quoted(e.name) + " drops out at a voltage at which it pulls in",
                "it is certain to pull in at and above the one, and certain to drop out at and below the other",
                "give \"releases_at\" a value of at most \"operates_at\"");
        r.suppressed = object.flag("suppressed");
        r.coil_probe = ProbeId(0);  // the wiring decides; which probe is known at the end
        r.contact = add_on_off(b, e, SignalKind::contact, index);
        named(Thing::relay, index, r.contact);
        b.model.relays.push_back(std::move(r));
        w.add_relay(part, index);
        Branch coil = branch(BranchKind::coil, index);
        coil.limit = current("draws", "what its coil draws");
        coil.polar = object.flag("polar");
        TwoEnded t = two_ended(end("coil"), end("86"), end("85"), std::move(coil));
        t.always = true;
        w.add_two_ended(std::move(t));
        Branch contact = branch(BranchKind::contact, index);
        w.add_two_ended(two_ended(end("make"), end("30"), end("87"), contact));
        contact.makes = false;
        w.add_two_ended(two_ended(end("break"), end("30"), end("87a"), contact));
    }

    void ground_point() const {
        named(Thing::part);
        w.add_ground_point(part);
    }

    void read(const std::string& kind) const {
        if (kind == "battery") source(false);
        if (kind == "alternator") source(true);
        if (kind == "magneto") magneto();
        if (kind == "fuse" || kind == "breaker") fuse();
        if (kind == "diode") diode();
        if (kind == "load") consumer();
        if (kind == "connector") connector();
        if (kind == "ground") ground_point();
        if (kind == "switch") hand_switch();
        if (kind == "relay") relay();
    }
};

const std::string& kind_word(const ObjectHelp& o) { return o.keys.front().choices.front(); }

// The kind that the object says it is; null (and an error) if none.
const ObjectHelp* kind_of_part(Build& b, const Entry& e) {
    std::vector<std::string> words;
    std::string list;
    for (const auto& o : format::part_object_table()) {
        words.push_back(kind_word(o));
        list += (list.empty() ? "" : ", ") + words.back();
    }
    const bool is_short = e.value->kind == json::Kind::string;
    const json::Member* said = e.value->find("is");
    const json::Value* is = is_short ? e.value : said == nullptr ? nullptr : &said->value;
    if (is == nullptr) {
        b.reading.error("no-kind", e.pointer, e.place, "the part " + quoted(e.name) + " does not say what it is", "",
                        "add \"is\": one of " + list);
        return nullptr;
    }
    for (const auto& o : format::part_object_table())
        if (is->kind == json::Kind::string && is->text == kind_word(o)) return &object_help(o.id);
    if (is->kind == json::Kind::string) {
        std::string hint = b.reading.suggestion(is->text, words);
        b.reading.error("bad-choice", e.pointer, b.reading.place(*is), quoted(is->text) + " is not a kind of part",
                        "a part is one of " + list, hint);
    } else {
        b.reading.error("wrong-json-type", e.pointer + "/is", b.reading.place(*is),
                        "\"is\" is " + json::kind_words(is->kind) + ", but should be a text", "",
                        "write one of " + list);
    }
    return nullptr;
}

}  // namespace

void build_part(Build& b, Wiring& w, const Entry& e) {
    const ObjectHelp* help = e.value == nullptr ? nullptr : kind_of_part(b, e);
    if (help == nullptr) {  // the name exists, whatever it was meant to be
        w.add_broken(e.name);
        declare(b, e, {Thing::part, {}, {}, true});
        return;
    }
    json::Value empty;
    const json::Value* value = e.value;
    if (value->kind == json::Kind::string) {
        empty.kind = json::Kind::object;
        empty.offset = value->offset;
        empty.length = value->length;
        value = &empty;
    }
    const std::string kind = kind_word(*help);
    // The short form of a kind that needs more keys is told by the shape check already.
    ObjectHelp whole = *help;
    if (value == &empty) whole.keys.front().required = false;
    const ObjectReader object(b.reading, whole, *value, e.pointer);
    if (b.names.count(e.name) > 0 || !e.good_name) {
        declare(b, e, {Thing::part, {}, {}, true});
        w.add_broken(e.name);
        return;
    }
    std::string bare;
    if (kind == "battery" || kind == "alternator") bare = e.name + ".plus";
    if (kind == "magneto") bare = e.name + ".lead";
    if (kind == "ground") bare = e.name;
    const PartId part = w.add_part({e.name, with_article(*help), bare, {}, false, e.place, e.pointer});
    PartReader{b, w, e, object, part}.read(kind);
}

}  // namespace lanyard::model
