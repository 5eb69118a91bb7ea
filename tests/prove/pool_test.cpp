// Time is shared: nothing short is kept from its turn by something long.
#include <catch2/catch.hpp>
#include <chrono>
#include <string>
#include <thread>
#include <vector>

#include "prove/pool.hpp"

using namespace lanyard::prove;

namespace {

// Works for so long, or until it is stopped; true if it came to its end.
bool work_for(double seconds, const JudgeOptions& o) {
    const auto start = std::chrono::steady_clock::now();
    while (std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count() < seconds) {
        if (o.stopped()) return false;
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
    return true;
}

struct Outcome {
    std::vector<bool> done;
    std::vector<int> turns;
    std::vector<std::size_t> told, decided_at_start;
};

Outcome played(const std::vector<double>& lengths, double time_s, bool repeatable, unsigned jobs = 1) {
    Outcome out{std::vector<bool>(lengths.size()), std::vector<int>(lengths.size()), {}, {}};
    PoolTasks tasks;
    tasks.count = lengths.size();
    tasks.repeatable = repeatable;
    std::vector<char> done(lengths.size());  // not of bits: written by several threads
    tasks.work = [&](std::size_t i, const JudgeOptions& o) {
        ++out.turns[i];
        done[i] = work_for(lengths[i], o) ? 1 : 0;
    };
    tasks.on_start = [&](std::size_t decided, std::size_t) { out.decided_at_start.push_back(decided); };
    tasks.on_done = [&](std::size_t i) { out.told.push_back(i); };
    PoolOptions options;
    options.jobs = jobs;
    options.time_s = time_s;
    CHECK_FALSE(run_pool(tasks, options));
    for (std::size_t i = 0; i < done.size(); ++i) out.done[i] = done[i] != 0;
    return out;
}

constexpr double endless = 1000;
using Done = std::vector<bool>;
using Told = std::vector<std::size_t>;

}  // namespace

TEST_CASE("what is long does not keep what is short from its turn") {
    const Outcome out = played({endless, endless, 0.01, 0.01, 0.01}, 3, true);
    CHECK(out.done == Done{false, false, true, true, true});
    CHECK(out.told == Told{0, 1, 2, 3, 4});
    CHECK(out.turns[0] >= 2);
    CHECK(out.turns[2] == 1);
    // Without turns the first keeps all of it.
    CHECK(played({endless, 0.01}, 0.5, false).done == Done{false, false});
}

TEST_CASE("what is neither short nor endless is done in a later turn") {
    const Outcome out = played({endless, 0.7, 0.01}, 8, true);
    CHECK(out.done == Done{false, true, true});
    CHECK(out.turns[1] >= 2);
}

TEST_CASE("alone, or with a thread for each, nothing is begun anew") {
    const Outcome one = played({0.9}, 5, true);
    CHECK(one.done == Done{true});
    CHECK(one.turns[0] == 1);
    const Outcome two = played({0.9, 0.9}, 5, true, 2);
    CHECK(two.done == Done{true, true});
    CHECK(two.turns == std::vector<int>{1, 1});
}

TEST_CASE("what was stopped says which limit ended it") {
    const auto ended_by = [](const PoolOptions& options) {
        std::string why;
        PoolTasks tasks;
        tasks.count = 1;
        tasks.work = [&why](std::size_t, const JudgeOptions& o) {
            work_for(endless, o);
            why = o.why_stopped();
        };
        run_pool(tasks, options);
        return why;
    };
    PoolOptions time, memory, hand;
    time.time_s = 0.01;
    memory.memory_mb = 1;
    hand.interrupted = [] { return true; };
    CHECK(ended_by(time) == "the time given with --time was up");
    CHECK(ended_by(memory) == "the memory given with --memory was used up");
    CHECK(ended_by(hand) == "interrupted");
}
