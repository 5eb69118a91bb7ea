#include "sim/run_file.hpp"

#include <algorithm>

#include "base/suggest.hpp"
#include "circuit/words.hpp"
#include "model/json.hpp"
#include "model/pointer.hpp"
#include "sim/script.hpp"
#include "sim/words.hpp"

namespace lanyard::sim {

namespace {

// How a run file calls the items of each list of choices.
struct ItemNames {
    explicit ItemNames(const Model& m) {
        for (const auto& q : m.quantities) quantities.push_back(m.name_of(q.signal));
        for (const auto& s : m.sensors) readings.push_back(m.name_of(s.signal));
        for (const auto& s : m.switches) positions.push_back(m.name_of(s.position));
        for (const auto& r : m.relays) contacts.push_back(m.name_of(r.contact));
        for (const auto& l : m.loads) loads.push_back(m.name_of(l.signal));
        for (const ProbeId p : m.circuit.probes.ids()) probes.push_back(probe_name(m, p));
        for (const auto& f : m.faults) faults.push_back(f.name);
    }
    Indexed<Quantity, std::string> quantities;
    Indexed<Sensor, std::string> readings;
    Indexed<Switch, std::string> positions;
    Indexed<Relay, std::string> contacts;
    Indexed<Load, std::string> loads;
    Indexed<Probe, std::string> probes;
    Indexed<Fault, std::string> faults;
};

class RunReader {
 public:
    RunReader(const Model& m, const std::string& claim, RunFile& out) : m_(m), names_(m), wanted_(claim), out_(out) {}

    void read() {
        const auto tree = json::parse(out_.source, json::Limits{}, out_.diagnostics);
        if (!tree || out_.diagnostics.has_errors()) return;
        warn_of_other_model(*tree);
        const bool single = tree->find("lanyard_run") != nullptr;
        const json::Value* run = single ? &*tree : chosen(*tree);
        if (run == nullptr) return;
        if (single && !set_claim(*tree, "claim")) return;
        if (single && !wanted_.empty() && claim_id() != wanted_)
            return error("run-form", *tree, "this is a run of the claim \"" + claim_id() + "\"",
                         "--claim asks for \"" + wanted_ + "\"");
        keep(segments(*run));
    }

 private:
    void keep(Run found) {
        if (!out_.diagnostics.has_errors()) out_.run = std::move(found);
    }

    void error(const std::string& code, const json::Value& v, const std::string& what, const std::string& why = "",
               const std::string& hint = "") {
        add(code, Severity::error, v.offset, v.length, what, why, hint);
    }
    void add(const std::string& code, Severity severity, std::size_t offset, std::size_t length,
             const std::string& what, const std::string& why, const std::string& hint) {
        const Place place = out_.source.place_of(offset, std::max<std::size_t>(length, 1));
        out_.diagnostics.add({code, severity, "", place, what, why, hint});
    }

    const std::string& claim_id() const { return m_.claims[out_.claim].id; }

    // The member, which has to be there and of that kind.
    const json::Value* member(const json::Value& object, const char* key, json::Kind kind) {
        const json::Member* found = object.find(key);
        if (found != nullptr && found->value.kind == kind) return &found->value;
        const std::string wanted = std::string("\"") + key + "\" should be " + json::kind_words(kind);
        if (found == nullptr)
            error("run-form", object, std::string("there is no \"") + key + "\" here", wanted);
        else
            error("run-form", found->value, wanted + ", this is " + json::kind_words(found->value.kind));
        return nullptr;
    }

    void warn_of_other_model(const json::Value& tree) {
        const json::Member* model = tree.find("model");
        const json::Member* sha = model == nullptr ? nullptr : model->value.find("sha256");
        if (sha == nullptr || sha->value.text == m_.sha256) return;
        add("run-other-model", Severity::warning, sha->value.offset, sha->value.length,
            "this run was made from a different version of the model file", "it is played anyway, as far as possible",
            "make a new one with lanyard check");
    }

    bool set_claim(const json::Value& object, const char* key) {
        const json::Value* id = member(object, key, json::Kind::string);
        if (id == nullptr) return false;
        std::vector<std::string> ids;
        for (const ClaimId k : m_.claims.ids()) {
            if (m_.claims[k].id == id->text) out_.claim = k;
            ids.push_back(m_.claims[k].id);
        }
        if (out_.claim) return true;
        const auto near = nearest(id->text, ids);
        error("run-form", *id, "the model has no claim \"" + id->text + "\"", "the run was made for it",
              near ? "did you mean \"" + *near + "\"?" : "");
        return false;
    }

    // Of results: the run of the claim that is wanted, against it or as its example.
    const json::Value* chosen(const json::Value& tree) {
        const json::Value* claims = member(tree, "claims", json::Kind::array);
        if (claims == nullptr) return nullptr;
        const json::Value* run = nullptr;
        std::string all;
        int found = 0;
        for (const auto& c : claims->items) {
            const json::Member* its = c.find("run") != nullptr ? c.find("run") : c.find("example");
            const json::Member* id = c.find("id");
            if (its == nullptr || id == nullptr) continue;
            all += (all.empty() ? "\"" : ", \"") + id->value.text + "\"";
            if (!wanted_.empty() && id->value.text != wanted_) continue;
            ++found;
            run = &its->value;
            if (!set_claim(c, "id")) return nullptr;
        }
        if (found == 1) return run;
        error("run-form", *claims,
              found > 1         ? "there are runs of several claims here"
              : wanted_.empty() ? "there is no run here"
                                : "there is no run of the claim \"" + wanted_ + "\" here",
              all.empty() ? "" : "there are runs of " + all, "--claim chooses one");
        return nullptr;
    }

    Run segments(const json::Value& run) {
        Run out;
        const json::Value* list = member(run, "segments", json::Kind::array);
        if (list == nullptr) return out;
        if (list->items.empty()) error("run-form", *list, "the run has no segments");
        for (const auto& s : list->items) out.segments.push_back(segment(s));
        if (!out_.diagnostics.has_errors() && out.scans() > longest_script)
            error("run-form", *list, "the run is longer than " + std::to_string(longest_script) + " scans");
        return out;
    }

    Segment segment(const json::Value& v) {
        Segment s;
        if (const json::Value* scans = member(v, "scans", json::Kind::number)) {
            const auto n = parse_decimal(scans->text);
            if (n && n->get_den() == 1 && *n >= 1 && *n <= longest_script)
                s.scans = n->get_num().get_si();
            else
                error("run-value", *scans, "a segment lasts a whole number of scans, at least one");
        }
        Choices& c = s.first;
        c.quantities = numbers(v, "quantities", names_.quantities, true);
        c.readings = numbers(v, "readings", names_.readings, true);
        s.last_quantities = numbers(v, "last_quantities", names_.quantities, false);
        s.last_readings = numbers(v, "last_readings", names_.readings, false);
        c.positions = flags(v, "positions", names_.positions);
        c.missed = marked(v, "missed", names_.positions);
        c.contacts = flags(v, "contacts", names_.contacts);
        c.free_loads = flags(v, "free_loads", names_.loads);
        c.wiring = flags(v, "wiring", names_.probes);
        c.faults = marked(v, "faults", names_.faults);
        if (const json::Value* booted = member(v, "booted", json::Kind::flag)) c.booted = booted->flag;
        if (const json::Value* on = member(v, "claim_moves_on", json::Kind::flag)) c.claim_moves_on = on->flag;
        if (m_.engine) c.next_mode = mode(v);
        return s;
    }

    Mode mode(const json::Value& v) {
        const json::Value* text = member(v, "next_mode", json::Kind::string);
        if (text == nullptr) return Mode::stopped;
        for (const Mode mode : all_modes)
            if (text->text == mode_name(mode)) return mode;
        error("run-value", *text, "`" + text->text + "` is not an engine mode", "",
              "stopped, cranking, running or coasting");
        return Mode::stopped;
    }

    // Which of the names it is; complains where it is none of them.
    template <class Thing>
    Id<Thing> item(const Indexed<Thing, std::string>& names, const std::string& name, std::size_t offset,
                   std::size_t length) {
        for (const Id<Thing> k : names.ids())
            if (names[k] == name) return k;
        const auto near = nearest(name, names.values());
        add("run-name", Severity::error, offset, length, "the model has nothing called `" + name + "` here", "",
            near ? "did you mean `" + *near + "`?" : "");
        return {};
    }

    template <class Thing, class F>
    bool each_item(const json::Value& v, const char* key, const Indexed<Thing, std::string>& names, const F& f) {
        const json::Member* map = v.find(key);
        if (map == nullptr) return false;
        for (const auto& m : map->value.members)
            if (const auto k = item(names, m.key, m.key_offset, m.key_length)) f(k, m.value);
        return true;
    }

    SignalId signal_of(QuantityId quantity) const { return m_.quantities[quantity].signal; }
    SignalId signal_of(SensorId sensor) const { return m_.sensors[sensor].signal; }

    template <class Thing>
    Indexed<Thing, Rational> numbers(const json::Value& v, const char* key, const Indexed<Thing, std::string>& names,
                                     bool all) {
        Indexed<Thing, Rational> out(like(names));
        Indexed<Thing, bool> there(like(names));
        const bool given = each_item(v, key, names, [&](Id<Thing> k, const json::Value& value) {
            const SignalId id = signal_of(k);
            const auto x = parse_fraction(value.text);
            if (!x) return error("run-value", value, "this is not an exact number", "such as 12.5 or 50/9");
            out[k] = to_si(*x, unit_of(m_, id), m_.signal(id).type.difference);
            there[k] = true;
        });
        if (!given && !all) return {};
        for (const Id<Thing> k : names.ids())
            if (!there[k]) error("run-form", v, std::string("\"") + key + "\" does not mention `" + names[k] + "`");
        return out;
    }

    template <class Thing>
    Indexed<Thing, bool> flags(const json::Value& v, const char* key, const Indexed<Thing, std::string>& names) {
        Indexed<Thing, bool> out(like(names));
        each_item(v, key, names, [&](Id<Thing> k, const json::Value& value) {
            if (value.kind != json::Kind::flag) return error("run-value", value, "true or false is expected here");
            out[k] = value.flag;
        });
        return out;
    }

    // Those that a list names.
    template <class Thing>
    Indexed<Thing, bool> marked(const json::Value& v, const char* key, const Indexed<Thing, std::string>& names) {
        Indexed<Thing, bool> out(like(names));
        const json::Member* list = v.find(key);
        if (list == nullptr) return out;
        for (const auto& name : list->value.items)
            if (const auto k = item(names, name.text, name.offset, name.length)) out[k] = true;
        return out;
    }

    const Model& m_;
    const ItemNames names_;
    const std::string wanted_;
    RunFile& out_;
};

}  // namespace

bool is_run_file(const std::string& text) {
    // Scripts have neither key.
    return text.find("\"lanyard_run\"") != std::string::npos || text.find("\"lanyard_result\"") != std::string::npos;
}

RunFile read_run(const Model& model, const std::string& shown_name, const std::string& text, const std::string& claim) {
    RunFile out;
    out.source = SourceText(shown_name, text);
    RunReader(model, claim, out).read();
    out.diagnostics.sort_by_place();
    return out;
}

}  // namespace lanyard::sim
