// Relays, loads, and who feeds whom.
#include "model/build.hpp"
#include "model/names.hpp"

namespace lanyard::model {

namespace {

struct Feeder {
    std::string name;
    SignalId signal;
};

// The output or relay `f` feeds a load of its own name.
void feed_own(Build& b, const Feeder& f, Place place, const std::string& pointer) {
    if (b.loads.find(f.name) != b.loads.end()) return;
    const LoadId index = add_load(b, {f.name, place, pointer});
    b.model.loads[index].feeders.push_back(f.signal);
}

void feed(Build& b, const Feeder& f, const LocatedText& load) {
    if (load.text == f.name) {
        feed_own(b, f, load.place, load.pointer);
        return;
    }
    const auto named = b.names.find(load.text);
    if (named != b.names.end() && named->second.thing != Thing::load) {
        b.reading.error("load-name", load.pointer, load.place,
                        quoted(load.text) + " is already the name of " + thing_words(named->second.thing) +
                            in_line(named->second.place),
                        "a load needs its own name; only a load that is fed by a single output may share the output's",
                        "give the load another name");
        return;
    }
    LoadId index;
    if (named == b.names.end()) {
        if (!check_name(b.reading, load.text, load.place, load.pointer)) return;
        const Entry entry{load.text, load.place, load.pointer};
        index = add_load(b, entry);
        declare(b, entry, {Thing::load, index, b.model.loads[index].signal});
    } else {
        index = named->second.index;
    }
    if (b.model.loads[index].probe) {
        b.reading.error("fed-by-wiring", load.pointer, load.place,
                        "the load " + quoted(load.text) + " is a part of the wiring" + in_line(named->second.place),
                        "its wires decide what feeds it",
                        R"(write "drives": "high side" and run a wire from the output to it)");
        return;
    }
    auto& feeders = b.model.loads[index].feeders;
    if (feeders.empty() || feeders.back() != f.signal) {  // what one feeds is read without a break
        feeders.push_back(f.signal);
        return;
    }
    b.reading.error("named-twice", load.pointer, load.place, quoted(f.name) + " feeds " + quoted(load.text) + " twice");
}

// `object` is null where the file has the short form.
void feed_all(Build& b, const Feeder& f, const json::Value* object, const std::string& pointer, Place place) {
    const json::Member* feeds = object == nullptr ? nullptr : object->find("feeds");
    if (feeds == nullptr) {
        feed_own(b, f, place, pointer);
        return;
    }
    const std::string here = json::child(pointer, "feeds");
    if (feeds->value.kind == json::Kind::string) feed(b, f, b.reading.located(feeds->value, here));
    for (std::size_t i = 0; i < feeds->value.items.size(); ++i)
        if (feeds->value.items[i].kind == json::Kind::string)
            feed(b, f, b.reading.located(feeds->value.items[i], json::child(here, i)));
}

void build_relay(Build& b, const Entry& e) {
    const auto index = b.model.relays.next();
    Relay r;
    bool good = e.value != nullptr;
    if (good) {
        const ObjectReader object(b.reading, object_help("relay"), *e.value, e.pointer);
        good = object.good();
        const auto times = [&](const char* key, const char* words, Interval& into) {
            const auto text = object.text(key);
            if (!text) return;
            const auto t = read_times(b, *text, words);
            good = good && t;
            if (t) into = *t;
        };
        times("pulls_in", "the pull-in time", r.pulls_in);
        times("drops_out", "the drop-out time", r.drops_out);
    }
    r.contact = add_on_off(b, e, SignalKind::contact, index);
    declare(b, e, {Thing::relay, index, r.contact, !good});
    b.model.relays.push_back(std::move(r));
}

void drive_relay(Build& b, const Output& output, const LocatedText& relay) {
    const auto named = b.names.find(relay.text);
    if (named == b.names.end() || named->second.thing != Thing::relay) {
        b.unclear_outputs = true;
        const bool exists = named != b.names.end();
        b.reading.error("unknown-relay", relay.pointer, relay.place,
                        exists ? quoted(relay.text) + " is " + thing_words(named->second.thing) + ", not a relay"
                               : "there is no relay " + quoted(relay.text),
                        "", suggest_thing(b, relay.text, Thing::relay));
        return;
    }
    Relay& r = b.model.relays[named->second.index];
    if (r.coil_probe) {
        b.reading.error("fed-by-wiring", relay.pointer, relay.place,
                        "the coil of " + quoted(relay.text) + " is a part of the wiring",
                        "the wires at its coil decide what energises it",
                        R"(write "drives": "high side" and run a wire from the output to )" + relay.text + ".coil");
        return;
    }
    if (r.coil) {
        b.reading.error(
            "relay-twice", relay.pointer, relay.place,
            "the coil of " + quoted(relay.text) + " is already driven by " + quoted(b.model.name_of(r.coil)),
            "a coil is driven by one output",
            "combine the two into one logic expression, and drive the coil with that");
        return;
    }
    r.coil = output.signal;
}

// The thing of that kind that this member of the file became; null if its name was taken.
const Named* made_of(const Build& b, const json::Member& m, const std::string& pointer, Thing thing) {
    const auto named = b.names.find(m.key);
    if (m.duplicate || named == b.names.end() || named->second.thing != thing) return nullptr;
    return b.model.signal(named->second.signal).pointer == pointer ? &named->second : nullptr;
}

void feed_by_output(Build& b, const json::Member& m, const std::string& pointer) {
    const Named* named = made_of(b, m, pointer, Thing::output);
    if (named == nullptr) return;
    const Feeder f{m.key, named->signal};
    const Place place = named->place;
    const json::Value* object = m.value.kind == json::Kind::object ? &m.value : nullptr;
    if (object != nullptr && object->find("drives") != nullptr) return;  // the wires decide
    const json::Member* relay = object == nullptr ? nullptr : object->find("relay");
    if (relay == nullptr) {
        feed_all(b, f, object, pointer, place);
    } else if (relay->value.kind == json::Kind::string) {
        drive_relay(b, b.model.outputs[named->index], b.reading.located(relay->value, json::child(pointer, "relay")));
    }
}

void feed_by_relay(Build& b, const json::Member& m, const std::string& pointer) {
    const Named* named = made_of(b, m, pointer, Thing::relay);
    if (named == nullptr) return;
    const Feeder f{m.key, named->signal};
    const Place place = named->place;
    feed_all(b, f, m.value.kind == json::Kind::object ? &m.value : nullptr, pointer, place);
}

void find_idle_relays(Build& b) {
    if (b.unclear_outputs) return;  // one of those may have been meant to drive it
    for (const auto& r : b.model.relays) {
        const Signal& s = b.model.signal(r.contact);
        const auto named = b.names.find(s.name);
        const bool reachable = named != b.names.end() && named->second.signal == r.contact;
        if (r.coil || r.coil_probe || !reachable) continue;
        b.reading.error("relay-without-output", s.pointer, s.place,
                        "no output drives the coil of the relay " + quoted(s.name), "it could never pull in",
                        R"(write "relay": ")" + s.name + R"(" in the output that drives it)");
    }
}

}  // namespace

void build_relays(Build& b, const ObjectReader& top) {
    for (const auto& e : top.entries("relays")) build_relay(b, e);
}

void build_feeds(Build& b, const ObjectReader& top) {
    if (const auto* outputs = top.get("outputs"))
        for (const auto& m : outputs->members) feed_by_output(b, m, json::child(top.pointer("outputs"), m.key));
    if (const auto* relays = top.get("relays"))
        for (const auto& m : relays->members) feed_by_relay(b, m, json::child(top.pointer("relays"), m.key));
    find_idle_relays(b);
}

}  // namespace lanyard::model
