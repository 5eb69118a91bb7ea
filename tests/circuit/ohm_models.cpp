#include "ohm_models.hpp"

#include <algorithm>

namespace lanyard::test::ohm {

using namespace sim;

namespace {

class ModelMaker {
 public:
    ModelMaker(Dice& dice, unsigned most) : dice_(dice), most_(most), splices_(2 + dice.below(most > 5 ? 5 : 3)) {}

    Json make() {
        add("B", "battery");
        wire(dice_.one_in(4) ? "B - " + small_part() + " - n0" : "B - n0");
        if (dice_.one_in(3)) minus_lead("B");
        const auto n = 1 + dice_.below(most_);
        for (std::uint64_t k = 0; k < n; ++k) something();
        if (dice_.one_in(2)) inputs();
        if (std::none_of(parts_.begin(), parts_.end(), [](const Json& part) { return is(part, "load"); })) load();
        return finish();
    }

 private:
    static bool is(const Json& part, const char* what) {
        return part == what || (part.is_object() && part["is"] == what);
    }
    std::string any(const std::vector<std::string>& list) { return dice_.pick(list); }
    std::string splice() { return "n" + std::to_string(dice_.below(splices_)); }
    std::string fresh(const char* letter) { return letter + std::to_string(++names_); }
    std::string add(const std::string& name, const Json& part) {
        parts_[name] = part;
        return name;
    }
    void wire(const std::string& path) { wires_["W" + std::to_string(wires_.size() + 1)] = path; }

    // Something that may stand in the middle of any path.
    std::string small_part() {
        switch (dice_.below(7)) {
            case 0:
            case 1:
                return hand_switch(dice_.one_in(4) ? "break" : "make");
            case 2:
            case 3:
                return add(fresh("F"), "fuse");
            case 4:
                return add(fresh("D"), "diode");
            case 5:
                return add(fresh("X"), {{"is", "connector"}, {"terminals", 1}}) + ".1";
            default:
                return consumer();
        }
    }
    std::string hand_switch(const char* contact) {
        if (levers_ == 5) return consumer();
        ++levers_;
        Json part = {{"is", "switch"}, {"switch", "maintained"}};
        if (std::string(contact) != "make") part["contact"] = contact;
        last_switch_ = fresh("S");
        return add(last_switch_, part);
    }
    std::string consumer() {
        Json part = {{"is", "load"}};
        if (dice_.one_in(4)) part["lets_through"] = false;
        if (dice_.one_in(4)) part["polar"] = true;
        return add(fresh("L"), part.size() == 1 ? Json("load") : part);
    }

    void minus_lead(const std::string& source) {
        const auto kind = dice_.below(4);
        if (kind == 0) return wire(source + ".minus - " + splice());
        if (kind == 1) return wire(source + ".minus - ground");
        wire(source + ".minus - " + small_part() + " - " + (dice_.one_in(3) ? splice() : "ground"));
    }
    void between(const std::string& middle) {
        const std::string from = dice_.one_in(7) ? "ground" : splice();
        std::string to = dice_.one_in(3) ? "ground" : splice();
        while (to == from) to = splice();
        wire(from + " - " + middle + " - " + to);
    }
    void load() { between(consumer()); }

    void something() {
        switch (dice_.below(14)) {
            case 0:
                return dice_.one_in(2) ? second_battery() : alternator();
            case 1:
                return between(small_part() + " - " + small_part());
            case 2:
                return change_over();
            case 3:
                return relay();
            case 4:
                return wire(splice() + " - " + hand_switch("make") + " - ground");
            case 5:
                return wire(splice() + " - " + add(fresh("F"), "fuse") + " - " + splice() + "x");
            case 6:
                return dice_.one_in(2) ? output() : wire(splice() + " - " + add(fresh("G"), "ground"));
            case 7:
            case 8:
            case 9:
                return load();
            default:
                return between(small_part());
        }
    }
    void second_battery() {
        const std::string name = add(fresh("B"), "battery");
        const auto kind = dice_.below(4);
        if (kind == 0 && !mentioned("B.minus")) return wire("B.minus - " + name);
        wire(name + (dice_.one_in(2) ? " - " + small_part() : "") + " - " + splice());
        if (kind == 1) minus_lead(name);
    }
    bool mentioned(const std::string& what) const {
        return std::any_of(wires_.begin(), wires_.end(), [&](const Json& w) {
            return (w.get<std::string>() + " ").find(what + " ") != std::string::npos;
        });
    }
    void alternator() {
        const auto live = dice_.below(3);
        const std::string name =
            add(fresh("A"), {{"is", "alternator"},
                             {"live", live == 0 || last_switch_.empty() ? any({"TRUE", "FALSE"}) : last_switch_}});
        wire(name + " - " + splice());
        if (dice_.one_in(2)) wire(splice() + (dice_.one_in(2) ? " - " + small_part() : "") + " - " + name + ".field");
        if (dice_.one_in(4)) minus_lead(name);
    }
    void change_over() {
        const std::string name = hand_switch("change-over");
        if (name[0] == 'L') return between(name);
        wire((dice_.one_in(6) ? "ground" : splice()) + " - " + name + ".in");
        wire(name + ".make.out - " + splice());
        wire(name + ".break.out - " + (dice_.one_in(4) ? "ground" : splice()));
    }
    void relay() {
        if (levers_ == 5) return load();
        ++levers_;
        Json part = {{"is", "relay"}};
        if (dice_.one_in(4)) part["polar"] = true;
        const std::string name = add(fresh("K"), part);
        between(name + ".coil");
        if (dice_.one_in(2)) return between(any({name + ".make", name + ".break"}));
        wire(splice() + " - " + name + ".30");
        wire(name + ".87 - " + splice());
        wire(name + ".87a - " + (dice_.one_in(3) ? "ground" : splice()));
    }
    void output() {
        if (levers_ == 5) return load();
        ++levers_;
        const std::string name = fresh("Q");
        outputs_[name] = {{"on", "TRUE"}, {"drives", any({"high side", "low side", "half bridge"})}};
        if (!mentioned("controller.plus")) {
            controller_plus();
            if (dice_.one_in(3))
                wire("controller.ground - " + (dice_.one_in(2) ? hand_switch("make") + " - " : "") + "ground");
        }
        wire(name + " - " + consumer() + " - " + (dice_.one_in(2) ? "ground" : splice()));
    }
    void controller_plus() {
        wire(splice() + " - " + (dice_.one_in(2) ? add(fresh("F"), "fuse") + " - " : "") + "controller.plus");
    }
    void inputs() {
        if (!mentioned("controller.plus")) controller_plus();
        if (!mentioned("controller.ground") && dice_.one_in(3))
            wire((dice_.one_in(2) ? "B.minus" : splice()) + " - controller.ground");
        for (auto n = 1 + dice_.below(2); n > 0; --n) {
            const std::string name = fresh("I");
            Json input = {{"reads", any({"plus", "ground"})}};
            if (dice_.one_in(2)) input["pull"] = any({"up", "down"});
            inputs_[name] = input;
            wire(splice() + " - " + (dice_.one_in(3) ? small_part() + " - " : "") + name);
        }
    }

    Json finish() {
        Json m = {{"lanyard", 1}, {"name", "circuit"}, {"scan", "10 ms"}};
        if (!inputs_.empty()) m["inputs"] = inputs_;
        if (!outputs_.empty()) m["outputs"] = outputs_;
        m["circuit"] = {{"parts", parts_}, {"wires", wires_}};
        const Json faults = {{"of", {"everything"}}, {"at_most", 60}, {"from_the_start", true}};
        m["faults"] = {{"any switch.bounces", "never"}};
        m["conditions"] = {{"broken", {{"base", "any"}, {"faults", faults}}}};
        m["claims"] = {{"all", {{"always", "powered"}, {"under", "broken"}}}};
        if (last_switch_.empty()) m.erase("faults");
        return m;
    }

    Dice& dice_;
    unsigned most_;
    std::uint64_t splices_;
    Json parts_ = Json::object(), wires_ = Json::object();
    Json inputs_ = Json::object(), outputs_ = Json::object();
    std::string last_switch_;
    int names_ = 0, levers_ = 0;
};

bool pairs_well(const std::string& a, const std::string& b) {
    return a.substr(0, a.rfind('.')) != b.substr(0, b.rfind('.'));
}

}  // namespace

Json random_model(Dice& dice, unsigned most) { return ModelMaker(dice, most).make(); }

std::vector<State> states_of(const Net& net, const Model& m, Dice& dice, std::size_t at_most, bool pairs) {
    const auto batteries = std::count_if(net.sources.begin(), net.sources.end(), [](const Emf& e) { return !e.turns; });
    std::vector<std::set<std::string>> broken{{}};
    for (const auto& f : m.faults) {
        const bool unclear = batteries != 1 && f.name.find(".to_battery") != std::string::npos;
        if (!unclear && knows_fault(net, f.name)) broken.push_back({f.name});
    }
    const std::size_t singles = broken.size();
    for (std::size_t a = 1; pairs && a < singles; ++a)
        for (std::size_t b = a + 1; b < singles; ++b)
            if (pairs_well(*broken[a].begin(), *broken[b].begin()))
                broken.push_back({*broken[a].begin(), *broken[b].begin()});
    const std::size_t positions = std::size_t{1} << net.levers.size();
    const std::size_t all = positions * broken.size();
    std::vector<State> out;
    for (std::size_t k = 0; k < std::min(all, at_most); ++k) {
        const std::size_t pick = all <= at_most ? k : static_cast<std::size_t>(dice.below(all));
        State s;
        for (std::size_t l = 0; l < net.levers.size(); ++l)
            s.levers[net.levers[l]] = (pick / broken.size() >> l & 1U) != 0;
        s.faults = broken[pick % broken.size()];
        out.push_back(s);
    }
    return out;
}

}  // namespace lanyard::test::ohm
