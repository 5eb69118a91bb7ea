// How far it is to where a test wants to be: how many settings are surely not yet as they have to be. A guess that
// steers the search and decides nothing; what a setting brings about is said by the interpreter alone. (The relaxed
// distance of planning: B. Bonet and H. Geffner, "Planning as heuristic search", Artificial Intelligence 129, 2001.)
#pragma once

#include <vector>

#include "card/goals.hpp"
#include "card/player.hpp"

namespace lanyard::card {

// A setting that would help.
struct Want {
    InputId input;
    bool on = false;
    std::optional<Rational> value;
};

struct Need {
    long cost = 0;
    std::vector<Want> wants;
    void add(const Need& other);
};
inline constexpr long out_of_reach = 1'000'000;

class Distance {
 public:
    // `values`: of each input, those that are worth while.
    Distance(const Points& points, const Indexed<BenchInput, std::vector<Rational>>& values);

    // From here to where the signal has that value; and to where its value shows somewhere.
    Need to(const Rest& here, SignalId signal, bool value) const;
    Need to_show(const Rest& here, SignalId signal) const;
    Need to_power(const Rest& here) const;
    Need to_lose_power(const Rest& here) const;

 private:
    struct At {
        const Rest& here;
        int depth = 0;
    };
    Need make(const At& at, const Expr& e, bool value) const;
    Need make_signal(const At& at, SignalId id, bool value) const;
    Need make_latch(const At& at, const Expr& e, bool value) const;
    Need compared(const At& at, const Expr& e, bool value) const;
    Need odd(const At& at, const Expr& e) const;
    Need vote(const At& at, const Expr& e, bool value) const;
    Need show(const At& at, SignalId id) const;
    Need show_through(const At& at, const Expr& e, SignalId id) const;
    Need show_in(const At& at, SignalId reader, SignalId id) const;
    Need some_switch() const;
    static bool truth(const Rest& here, const Expr& e);
    bool mentions(const Expr& e, SignalId id) const;

    const Points& points_;
    const Model& m_;
    mutable long steps_ = 0;  // of the present guess
    const Indexed<BenchInput, std::vector<Rational>>& values_;
    std::map<SignalId, std::vector<SignalId>> readers_;
    std::map<SignalId, InputId> input_of_;  // of a switch: seen, position
};

// From here to where the goal is brought about.
Need need_of(const Points& points, const Distance& distance, const Goal& goal, const Rest& here);

}  // namespace lanyard::card
