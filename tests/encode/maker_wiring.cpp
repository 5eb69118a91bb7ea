#include "maker_wiring.hpp"

#include <algorithm>

namespace lanyard::test {

using namespace sim;

namespace {

std::string object(const std::string& is, const std::string& more) { return "{\"is\": \"" + is + "\"" + more + "}"; }

std::string key(const std::string& name, const std::string& value) { return ", \"" + name + "\": \"" + value + "\""; }

}  // namespace

void WiringMaker::wire(const std::string& path) {
    const std::string name = "w" + std::to_string(wires_++);
    parts_.list.push_back({"circuit/wires", name, "\"" + path + "\""});
    faults.push_back(name + ".open");
}

std::string WiringMaker::splice() {
    const std::string n = "n" + std::to_string(dice_.below(4));
    if (std::find(splices.begin(), splices.end(), n) == splices.end()) splices.push_back(n);
    return n;
}

std::string WiringMaker::end() {
    if (chance(4)) return "ground";
    return chance(6) ? "battery" : splice();
}

void WiringMaker::between(const std::string& what) {
    const std::string left = end();
    std::string right = end();
    while (right == left) right = end();
    wire(left + " - " + what + " - " + right);
}

std::string WiringMaker::time() { return any({"0 ms", "10 ms", "20 ms", "10 .. 30 ms", "20 .. 20 ms", "5 .. 15 ms"}); }

void WiringMaker::hand_switch(const std::string& name) {
    std::string more = key("switch", chance(2) ? "maintained" : "momentary");
    if (chance(4)) more += key("rests", "on");
    const auto kind = dice_.below(4);
    if (kind == 1) more += key("contact", "break");
    if (kind == 2) more += key("contact", "change-over");
    if (kind == 3) more += ", \"poles\": 2";
    part(name, object("switch", more));
    positions.push_back(name);
    if (kind < 2) between(name);
    if (kind == 2) {
        wire(end() + " - " + name + ".in");
        wire(name + ".make.out - " + splice());
        wire(name + ".break.out - " + splice());
    }
    for (const char* pole : {".1", ".2"})
        if (kind == 3) between(name + pole);
    const std::string pole = kind == 3 ? name + ".1" : name;
    for (const char* what : {".stuck_on", ".stuck_off", ".bounces"}) faults.push_back(pole + what);
}

// A contact that holds its own coil, and something else that begins it.
void WiringMaker::seal(const std::string& relay) {
    const std::string held = splice();
    wire(held + " - " + relay + ".coil - ground");
    wire("battery - " + relay + ".make - " + held);
}

void WiringMaker::relay(const std::string& name, bool has_voltage) {
    std::string more;
    if (!chance(4)) more += key("pulls_in", time());
    if (!chance(4)) more += key("drops_out", time());
    if (has_voltage && chance(2)) more += key("operates_at", "6 V");
    if (has_voltage && chance(2)) more += key("releases_at", "2 V");
    if (chance(5)) more += ", \"polar\": true";
    part(name, object("relay", more));
    contacts.push_back(name);
    for (const char* what : {".welded", ".never_pulls"}) faults.push_back(name + what);
    if (chance(3)) return seal(name);
    between(name + ".coil");
    const auto kind = dice_.below(3);
    if (kind == 0) between(name + ".make");
    if (kind == 1) between(name + ".break");
    if (kind < 2) return;
    wire(end() + " - " + name + ".30");
    wire(name + ".87 - " + splice());
    wire(name + ".87a - " + end());
}

void WiringMaker::load(const std::string& name) {
    std::string more;
    if (chance(4)) more += ", \"lets_through\": false";
    if (chance(5)) more += ", \"polar\": true";
    part(name, object("load", more));
    loads.push_back(name);
    faults.push_back(name + ".open");
}

void WiringMaker::small_part(const std::string& name) {
    switch (dice_.below(4)) {
        case 0:
            part(name, "\"fuse\"");
            faults.push_back(name + ".open");
            return between(name);
        case 1:
            part(name, "\"diode\"");
            faults.push_back(name + ".shorted");
            return between(name);
        case 2:
            part(name, "\"ground\"");
            faults.push_back(name + ".lost");
            return wire(splice() + " - " + name);
        default:
            part(name, "{\"is\": \"connector\", \"terminals\": 1}");
            faults.push_back(name + ".1.open");
            return between(name + ".1");
    }
}

void WiringMaker::begin(const std::string& voltage) {
    part("battery", voltage.empty() ? "\"battery\"" : object("battery", key("voltage", voltage)));
    wire("battery - " + splice());
    for (auto n = 1 + dice_.below(2); n > 0; --n) hand_switch("h" + std::to_string(n));
    for (auto n = dice_.below(3); n > 0; --n) relay("k" + std::to_string(n), !voltage.empty());
    for (auto n = dice_.below(3); n > 0; --n) {
        load("lamp" + std::to_string(n));
        between(loads.back());
    }
    for (auto n = dice_.below(3); n > 0; --n) small_part("p" + std::to_string(n));
    for (auto n = dice_.below(3); n > 0; --n) {
        const std::string name = "in" + std::to_string(n);
        std::string text = "{\"reads\": \"" + any({"plus", "ground"}) + "\"";
        if (chance(3)) text += key("pull", any({"up", "down"}));
        parts_.list.push_back({"inputs", name, text + "}"});
        wire(name + " - " + end());
        inputs.push_back(name);
        faults.push_back(name + ".stuck_on");
    }
    if (chance(3)) {
        part("mag", "\"magneto\"");
        loads.push_back("mag");
        wire("mag - " + end());
    }
    supplied_ = chance(2);
    if (supplied_) wire((chance(3) ? "battery" : splice()) + " - controller.plus");
    if (supplied_ && chance(3)) wire(splice() + " - controller.ground");
}

std::string WiringMaker::drive(const std::string& output) {
    const std::string how = supplied_ ? any({"low side", "high side", "half bridge"}) : "low side";
    const std::string what = "on_" + output;
    if (chance(2)) {
        load(what);
    } else {
        part(what, object("relay", chance(2) ? "" : key("pulls_in", time())));
        contacts.push_back(what);
        faults.push_back(what + ".welded");
        between(what + ".make");
    }
    const std::string stands = how == "low side" ? (chance(2) ? "battery" : splice()) : "ground";
    wire(output + " - " + what + (loads.empty() || loads.back() != what ? ".coil" : "") + " - " + stands);
    return key("drives", how);
}

void WiringMaker::finish(const Names& truths) {
    if (!chance(3)) return;
    part("alt", object("alternator", key("live", any(truths))));
    wire("alt - " + splice());
    if (chance(2)) wire("alt.field - " + splice());
    faults.push_back("alt.dead");
}

}  // namespace lanyard::test
