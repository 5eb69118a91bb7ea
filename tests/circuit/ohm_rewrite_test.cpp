// The same wiring written otherwise gives the same answers: wires split and joined, put in another order, parts
// renamed, a splice more in the middle of a piece. (T. Y. Chen, S. C. Cheung, S. M. Yiu, "Metamorphic testing", 1998.)
#include <algorithm>
#include <catch2/catch.hpp>
#include <sstream>

#include "ohm_models.hpp"

namespace lanyard::test::ohm {

using namespace sim;

namespace {

using Names = std::vector<std::string>;

Names names_in(const Json& path) {
    Names names;
    std::istringstream in(path.get<std::string>());
    for (std::string word; in >> word;)
        if (word != "-") names.push_back(word);
    return names;
}

std::string path_of(const Names& names) {
    std::string path;
    for (const auto& n : names) path += (path.empty() ? "" : " - ") + n;
    return path;
}

std::string head_of(const std::string& name) { return name.substr(0, name.find('.')); }

class Rewriter {
 public:
    Rewriter(Json model, Dice& dice) : model_(std::move(model)), dice_(dice) {}

    Json rewritten() {
        for (int k = 0; k < 6; ++k) {
            const auto kind = dice_.below(3);
            if (kind == 0) split();
            if (kind == 1) join();
            if (kind == 2) add_splice();
        }
        shuffle(model_["circuit"]["wires"]);
        shuffle(model_["circuit"]["parts"]);
        return model_;
    }

 private:
    Json& wires() { return model_["circuit"]["wires"]; }
    std::string some_wire() {
        Names all;
        for (const auto& [name, path] : wires().items()) all.push_back(name);
        return dice_.pick(all);
    }
    std::string new_wire() { return "V" + std::to_string(++count_); }
    bool is_splice(const std::string& name) {
        return name.find('.') == std::string::npos && name != "ground" && !model_["circuit"]["parts"].contains(name) &&
               !(model_.contains("outputs") && model_["outputs"].contains(name)) &&
               !(model_.contains("inputs") && model_["inputs"].contains(name));
    }

    // What stands in the middle stands at the end of one and at the beginning of the other.
    void split() {
        const std::string wire = some_wire();
        const Names names = names_in(wires()[wire]);
        if (names.size() < 3) return;
        const auto at = static_cast<long>(1 + dice_.below(names.size() - 2));
        wires()[wire] = path_of({names.begin(), names.begin() + at + 1});
        wires()[new_wire()] = path_of({names.begin() + at, names.end()});
    }
    void join() {
        const std::string a = some_wire(), b = some_wire();
        Names first = names_in(wires()[a]);
        const Names second = names_in(wires()[b]);
        if (a == b || first.back() != second.front() || !is_splice(first.back())) return;
        first.insert(first.end(), second.begin() + 1, second.end());
        wires().erase(b);
        wires()[a] = path_of(first);
    }
    void add_splice() {
        const std::string wire = some_wire();
        Names names = names_in(wires()[wire]);
        names.insert(names.begin() + static_cast<long>(1 + dice_.below(names.size() - 1)),
                     "extra" + std::to_string(++count_));
        wires()[wire] = path_of(names);
    }
    void shuffle(Json& map) {
        std::vector<std::pair<std::string, Json>> all;
        for (const auto& [name, value] : map.items()) all.emplace_back(name, value);
        for (std::size_t k = all.size(); k > 1; --k) std::swap(all[k - 1], all[dice_.below(k)]);
        map = Json::object();
        for (const auto& [name, value] : all) map[name] = value;
    }

    Json model_;
    Dice& dice_;
    int count_ = 0;
};

// In the name of a part, of one of its ends, of one of its faults.
std::string other_name(const Json& model, const std::string& name) {
    return model["circuit"]["parts"].contains(head_of(name)) ? "zz_" + name : name;
}

Json with_other_names(const Json& model) {
    Json out = model;
    Json parts = Json::object();
    for (const auto& [name, part] : model["circuit"]["parts"].items()) {
        Json same = part;
        if (part.is_object() && part.contains("live")) same["live"] = other_name(model, part["live"]);
        parts["zz_" + name] = same;
    }
    out["circuit"]["parts"] = parts;
    for (auto& path : out["circuit"]["wires"]) {
        Names names = names_in(path);
        for (auto& n : names) n = other_name(model, n);
        path = path_of(names);
    }
    return out;
}

State with_other_names(const Json& model, const State& s) {
    State out;
    for (const auto& [lever, on] : s.levers) out.levers[other_name(model, lever)] = on;
    for (const auto& f : s.faults) out.faults.insert(other_name(model, f));
    return out;
}

// A piece of wire is not the same piece any more.
bool breaks_a_wire(const State& s) {
    return std::any_of(s.faults.begin(), s.faults.end(), [](const std::string& f) { return f[0] == 'W'; });
}

void compare(unsigned seed, long& compared) {
    Dice dice(seed);
    const Json model = random_model(dice, 8);
    const Json again = with_other_names(Rewriter(model, dice).rewritten());
    INFO(model.dump() << "\n" << again.dump());
    const auto a = program_model(model), b = program_model(again);
    REQUIRE(a);
    REQUIRE(b);
    const Net net_a = read_net(model), net_b = read_net(again);
    for (const State& s : states_of(net_a, *a, dice, 24, false)) {
        if (breaks_a_wire(s)) continue;
        const Answers here = answers_of(*a, net_a, s, true);
        const Answers there = answers_of(*b, net_b, with_other_names(model, s), true);
        for (const auto& [question, fed] : here) {
            const auto same = there.find({question.first, other_name(model, question.second)});
            if (same == there.end()) continue;
            INFO(question.first << " " << question.second << ": " << fed.must << fed.may << ", rewritten "
                                << same->second.must << same->second.may);
            CHECK(same->second == fed);
            ++compared;
        }
    }
}

}  // namespace

TEST_CASE("the same wiring written otherwise gives the same answers", "[random]") {
    long compared = 0;
    for (unsigned seed = 1; seed <= 300; ++seed) compare(seed, compared);
    CHECK(compared > 20000);
}

}  // namespace lanyard::test::ohm
