// A model as a transition system with leaps: state, inputs, how many scans k a step stands for, what must hold of a
// step, and what the state is after it. Functional: given state, inputs and k there is exactly one next state.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/errors.hpp"
#include "claims/verdict.hpp"
#include "encode/solver.hpp"
#include "model/model.hpp"

namespace lanyard::encode {

// What a proof may rest on: a rule by its text, or what says what something is, by the name of the thing.
enum class LabelKind { run, part, named, rule };
struct Label {
    LabelKind kind = LabelKind::run;
    std::string name = {};
    friend auto operator<=>(const Label&, const Label&) = default;
};

struct StateVar {
    StateKey key;
    z3::expr cur;         // before the step
    z3::expr next;        // after it, over cur, inputs and k
    z3::expr init;        // a value
    std::string element;  // the named thing of the model that owns it; empty: none
    Label label() const { return element.empty() ? Label{} : Label{LabelKind::named, element}; }
    bool is_clock = false;
    long bound = 0;  // clocks: where they saturate
};

struct Input {
    StateKey key;
    z3::expr var;
};

// Something that a legal step obeys, with the name under which a proof may rest on it.
struct Rule {
    std::string label;  // readable; starts with "world: ", "healthy: ", "condition: ", or is leap_rule
    z3::expr holds;
};

// The rule that says what a leap is.
inline constexpr char leap_rule[] = "leap";

// A named signal or a part as a constant of its own with the equation that defines it.
struct NamedTerm {
    Label label;
    z3::expr constant;
    z3::expr value;
};

// A number at the first and at the last scan of the step.
struct Num {
    z3::expr first;
    z3::expr last;
    bool moving = false;
};

// Where the choices of a scan (claims/run.hpp) are found; empty where the claim's cone does not touch them.
struct Readback {
    template <class Thing>
    using Terms = Indexed<Thing, std::optional<z3::expr>>;
    Indexed<Quantity, std::optional<Num>> quantities;
    Terms<Switch> positions, missed;
    Terms<Relay> contacts;
    Terms<Load> free_loads;
    Terms<Probe> wiring;          // the answer
    Terms<Probe> wiring_choices;  // where it is open: the input that chooses
    Terms<Fault> faults;          // is there
    Terms<Fault> fault_begins;    // the input
    Terms<Fault> fault_ever;      // is or has been there
    Indexed<Sensor, std::optional<Num>> readings;
    std::optional<z3::expr> booted, claim_moves_on;
    std::optional<std::pair<z3::expr, z3::expr>> next_mode;  // high and low bit
};

// While `guard` holds, a moving quantity (by its place in System::moving) changes by [lo, hi] a scan - or stays at an
// end of its range throughout, where that would take it beyond.
struct Slope {
    std::size_t moving;
    z3::expr guard, lo, hi, stays_up, stays_down;
};

// u * v, relaxed (products.cpp): exact where u is one of `us` or v one of `vs`, and of no effect where not `used`.
struct Product {
    std::string name;
    z3::expr u, v, uv, used;
    std::vector<Rational> us, vs;  // rising
};

struct System {
    z3::context* ctx = nullptr;
    z3::expr k;
    std::vector<StateVar> state;
    std::vector<Input> inputs;
    std::vector<Rule> rules;
    std::vector<NamedTerm> definitions;
    z3::expr bad;                   // always, response, procedure: violated; possible: the goal is reached
    z3::expr demand;                // the claim demands something (possible: true)
    std::vector<z3::expr> outputs;  // truths that a leap must keep: what the leap lemma compares
    std::vector<std::pair<std::size_t, std::size_t>> moving;  // inputs (first, last) of quantities that move
    std::vector<Slope> slopes;
    std::vector<std::pair<std::size_t, std::size_t>> followers;  // inputs that move along with a quantity of `moving`
    std::vector<Num> paths;         // numbers, linear in what moves, whose way within a leap matters
    std::vector<Product> products;  // two-way tables
    std::vector<z3::expr> grid;     // with these all products are exact (refutations only)
    Readback readback;

    z3::expr all_rules() const;
    std::optional<std::size_t> place(const StateKey& key) const;  // in `state`; nothing where there is none
    explicit System(z3::context& c) : ctx(&c), k(c.int_const("k")), bad(c.bool_val(false)), demand(c.bool_val(true)) {}
};

struct EncodeOptions {
    bool named = false;     // signals as constants with definitions (certificates, cores)
    bool parts = false;     // the car's parts as constants too, see parts.cpp (what a proof rests on)
    bool no_leaps = false;  // k = 1 throughout
    std::vector<Tangent> tangents = {};
    std::vector<QuantityId> with = {};  // quantities that are looked at although the claim's cone need not hold them
};

// Throws Unsupported.
System encode(z3::context& ctx, const Model& model, ConditionId condition, ClaimId claim, const EncodeOptions& options);

// e with cur, inputs and k replaced by the given constants.
class Renaming {
 public:
    Renaming(const System& s, const std::string& suffix);  // fresh constants "<name>@<suffix>"
    z3::expr operator()(const z3::expr& e) const;
    z3::expr state(std::size_t i) const { return to(i); }
    z3::expr input(std::size_t i) const { return to(states_ + i); }
    z3::expr k() const { return to(states_ + inputs_); }
    const z3::expr_vector& constants() const { return to_; }

 private:
    z3::expr to(std::size_t i) const { return to_[static_cast<int>(i)]; }

    std::size_t states_, inputs_;
    z3::expr_vector from_, to_;
};

// What runs are made of, for anything that takes assertions: a solver, a file.
template <class Sink>
void add_initial(Sink& to, const System& s, const Renaming& at) {
    for (std::size_t i = 0; i < s.state.size(); ++i) to.add(at.state(i) == s.state[i].init);
}
template <class Sink>
void add_rules(Sink& to, const System& s, const Renaming& at) {
    for (const auto& d : s.definitions) to.add(at(d.constant == d.value));
    for (const auto& r : s.rules) to.add(at(r.holds));
}
template <class Sink>
void add_next(Sink& to, const System& s, const Renaming& from, const Renaming& then) {
    for (std::size_t i = 0; i < s.state.size(); ++i) to.add(then.state(i) == from(s.state[i].next));
}

}  // namespace lanyard::encode
