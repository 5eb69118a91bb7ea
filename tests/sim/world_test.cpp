// The chooser: everything that it proposes is legal, and it does what is wished where that is possible.
#include "sim/world.hpp"

#include <set>

#include "bench.hpp"
#include "chain.hpp"
#include "sim/machine.hpp"

using namespace lanyard::sim;
using namespace lanyard::test;

TEST_CASE("random runs are legal, reproducible and varied") {
    const auto m = shared_model(chain);
    std::set<std::string> seen;
    for (const char* condition : {"any", "healthy", "calm", "keyed"}) {
        const ConditionId c = condition_named(*m, condition);
        std::vector<ClaimId> claims = {ClaimId{}};
        for (const ClaimId claim : m->claims.ids()) claims.push_back(claim);
        for (const ClaimId claim : claims) {
            for (unsigned seed = 1; seed <= 3; ++seed) {
                const Run run = random_run(*m, c, claim, seed, 1500);
                const Replay r = replay(*m, run, c, claim);
                INFO(condition << " claim " << (claim ? m->claims[claim].id : "none") << " seed " << seed << ": "
                               << r.broken);
                REQUIRE(r.legal);
                CHECK(run.scans() == 1500);
                for (const auto& s : r.scans) {
                    for (const SignalId k : s.signals.ids()) {
                        if (const auto* b = std::get_if<bool>(&s.signals[k]))
                            seen.insert(m->signals[k].name + (*b ? " on" : " off"));
                        if (const auto* mode = std::get_if<Mode>(&s.signals[k])) seen.insert(mode_name(*mode));
                    }
                }
            }
        }
    }
    for (const char* mode : {"stopped", "cranking", "running", "coasting"}) CHECK(seen.count(mode) == 1);
    for (const auto& s : m->signals) {
        if (s.type.kind != TypeKind::boolean) continue;
        INFO(s.name);
        CHECK(seen.count(s.name + " on") == 1);
        CHECK(seen.count(s.name + " off") == 1);
    }
    const Run once = random_run(*m, any_condition, {}, 7, 500);
    const Run again = random_run(*m, any_condition, {}, 7, 500);
    REQUIRE(once.segments.size() == again.segments.size());
    for (std::size_t k = 0; k < once.segments.size(); ++k) CHECK(once.segments[k].first == again.segments[k].first);
}

TEST_CASE("dice give the same numbers everywhere") {
    // The 10000th number of a default-seeded mt19937_64 is laid down in the C++ standard ([rand.predef]).
    std::mt19937_64 engine;
    engine.discard(9999);
    CHECK(engine() == 9981545732273789042ULL);
    Dice dice(5489);
    CHECK(dice.below(1000) == 14514284786278117030ULL % 1000);
}

namespace {

struct Player {
    explicit Player(const std::string& text, const std::string& condition)
        : model(shared_model(text)),
          world(*model, condition_named(*model, condition), {}),
          now(*model, condition_named(*model, condition), {}),
          wish(*model) {}

    const Scan& play(long scans = 1) {
        for (long n = 0; n < scans; ++n) {
            const Proposal p = world.propose(now, wish);
            INFO(p.why_not);
            REQUIRE(p.choices);
            last = now.step(*p.choices);
            REQUIRE(last.broken_rule == "");
        }
        return last;
    }
    Value value(const std::string& name) const { return last.signals[signal(*model, name)]; }
    AnyId index(const std::string& name) const { return model->signal(signal(*model, name)).index; }

    std::shared_ptr<const Model> model;
    World world;
    Interpreter now;
    Wish wish;
    Scan last;
};

}  // namespace

TEST_CASE("what is wished is done, or the nearest that is legal") {
    Player p(
        "'inputs': {'key': 'maintained'}, 'quantities': {'oil': {'range': '0 .. 100 psi', "
        "'follows': [{'when': 'key', 'changes': '-100 .. 50 psi/s'}]}}, 'outputs': {'lamp': 'key AND oil > 5 psi'}, "
        "'conditions': {'low': 'oil < 80 psi AND key'}",
        "low");
    p.wish.quantities.front() = number(*p.model, "oil", "90 psi");
    p.play();
    CHECK(std::get<bool>(p.value("key")));  // the condition wants it
    const Rational most = std::get<Rational>(p.value("oil"));
    CHECK(most < number(*p.model, "oil", "80 psi"));
    CHECK(most > number(*p.model, "oil", "79 psi"));
    p.wish.quantities.front() = number(*p.model, "oil", "0 psi");
    p.play();
    CHECK(std::get<Rational>(p.value("oil")) == most - number(*p.model, "oil", "1 psi"));
}

TEST_CASE("conditions that are no plain bounds are met by trying, or said not to be met") {
    Player p(
        "'inputs': {'key': 'maintained', 'x': 'maintained'}, 'quantities': {'oil': '0 .. 100 psi'}, "
        "'outputs': {'lamp': 'key'}, "
        "'conditions': {'odd': 'key XOR x', 'either': 'oil > 50 psi OR NOT TON(oil < 20 psi, 30 ms)', "
        "'never': 'lamp AND NOT key'}",
        "odd");
    p.play(5);
    CHECK(p.value("key") != p.value("x"));
    Player either(
        "'inputs': {'key': 'maintained'}, 'quantities': {'oil': '0 .. 100 psi'}, 'outputs': {'lamp': 'key'}, "
        "'conditions': {'either': 'oil > 50 psi OR NOT TON(oil < 20 psi, 30 ms)'}",
        "either");
    either.wish.quantities.front() = Rational(0);
    either.play(50);
    Player never(
        "'inputs': {'key': 'maintained'}, 'outputs': {'lamp': 'key'}, "
        "'conditions': {'never': 'lamp AND NOT key'}",
        "never");
    const Proposal none = never.world.propose(never.now, never.wish);
    CHECK(!none.choices);
    CHECK(none.why_not == "condition: what never holds is false here");
}

TEST_CASE("the engine goes to the wished mode by the shortest way") {
    Player p(chain, "healthy");
    p.wish.positions[p.index("key")] = true;
    p.wish.positions[p.index("start")] = true;
    p.wish.engine = Mode::running;
    p.wish.quantities[p.index("oil_pressure")] = number(*p.model, "oil_pressure", "40 psi");
    p.play(60);
    CHECK(p.now.machine().state().engine.mode == Mode::running);
    p.wish.engine = Mode::stopped;  // a healthy engine does not stall
    p.play(10);
    CHECK(p.now.machine().state().engine.mode == Mode::running);
    p.wish.positions[p.index("key")] = false;
    p.play(20);
    CHECK(p.now.machine().state().engine.mode == Mode::stopped);
}

TEST_CASE("a run completes itself: all that is given is kept") {
    const auto m = shared_model(chain);
    const Run run = random_run(*m, any_condition, {}, 3, 400);
    World world(*m, any_condition, {});
    Interpreter now(*m, any_condition, {});
    for (const auto& s : run.segments) {
        for (long i = 0; i < s.scans; ++i) {
            const Proposal p = world.propose(now, Wish(*m, s.first));
            REQUIRE(p.choices);
            CHECK(*p.choices == s.first);
            now.step(*p.choices);
        }
    }
}
