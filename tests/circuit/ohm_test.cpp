// The wiring against Ohm and Kirchhoff (ohm_world.hpp), which know nothing of levels.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <iostream>

#include "ohm_models.hpp"

namespace lanyard::test::ohm {

using namespace sim;

namespace {

using Found = std::function<void(const Case&, const Difference&, const Questions&)>;

// Number from the environment, for long runs by hand.
unsigned given(const char* name, unsigned otherwise) {
    const char* text = std::getenv(name);
    return text == nullptr ? otherwise : static_cast<unsigned>(std::strtoul(text, nullptr, 10));
}

void look_at_model(unsigned seed, std::size_t at_most, Tally& tally, const Found& found) {
    Dice dice(seed);
    const bool tiny = seed % 3 != 0;
    const Json model = random_model(dice, tiny ? 4 : 11);
    const auto m = program_model(model);
    INFO(model.dump());
    REQUIRE(m);
    for (const State& s : states_of(read_net(model), *m, dice, at_most, tiny)) {
        const Case c{model, s};
        Questions q;
        q.nodes = dice.one_in(8);
        for (const auto& d : judge(c, *m, q, seed, tally)) found(c, d, q);
    }
}

void print(const Tally& tally) {
    std::cout << tally.cases << " states, " << tally.unsolved << " unsolved\n";
    for (const auto& [row, n] : tally.clear) {
        const auto d = tally.doubted.find(row);
        std::cout << "  " << row << ": " << n << ", in doubt for the program "
                  << (d == tally.doubted.end() ? 0 : d->second) << "\n";
    }
}

// What two differences of the same kind have in common.
std::string shape_of(const Case& c, const Difference& d) {
    std::multiset<std::string> things;
    for (const auto& part : c.model["circuit"]["parts"])
        things.insert(part.is_string() ? part.get<std::string>() : part["is"].get<std::string>());
    for (const auto& f : c.state.faults) things.insert(f.substr(f.rfind('.')));
    std::string shape = d.question.substr(0, d.question.find(' ')) + ", " + d.answer + ", " + d.currents + ":";
    for (const auto& t : things) shape += " " + t;
    return shape;
}

struct ShapeSeen {
    long times = 0;
    std::string smallest;
};

}  // namespace

// Prints the smallest difference of each shape; there ought to be none. OHM_FIRST, OHM_LAST: seeds. OHM_STATES: of each
// model, at most. OHM_SHRUNK: so many differences of each kind are made small.
TEST_CASE("differences between the wiring and Ohm's law, made small", "[random]") {
    Tally tally;
    std::map<std::string, long> kinds;
    std::map<std::string, ShapeSeen> shapes;
    const unsigned first = given("OHM_FIRST", 1), last = given("OHM_LAST", 300), most = given("OHM_SHRUNK", 60);
    for (unsigned seed = first; seed <= last; ++seed)
        look_at_model(seed, given("OHM_STATES", 16), tally, [&](const Case& c, Difference d, const Questions& q) {
            if (++kinds[d.question.substr(0, d.question.find(' ')) + " " + d.answer] > most) return;
            const Case small = shrink(c, d, q);
            const std::string text = "seed " + std::to_string(seed) + "\n" + told(small, d);
            ShapeSeen& shape = shapes[shape_of(small, d)];
            ++shape.times;
            if (shape.smallest.empty() || text.size() < shape.smallest.size()) shape.smallest = text;
        });
    for (const auto& [name, shape] : shapes)
        std::cout << "SHAPE " << name << " (" << shape.times << " times), " << shape.smallest;
    print(tally);
    for (const auto& [kind, n] : kinds) std::cout << "WRONG " << kind << ": " << n << "\n";
    CHECK(kinds.empty());
}

}  // namespace lanyard::test::ohm
