// The encoding itself, split by what it encodes: expressions.cpp, elements.cpp, world.cpp, machine.cpp, monitors.cpp,
// faults.cpp, wiring.cpp, parts.cpp, products.cpp. Everything is made on demand and once. Each keeps what it has made
// in members of its own, below; the system, its clocks and its rule of leaps are the builder's alone (builder.hpp).
#pragma once

#include <set>

#include "encode/linear.hpp"
#include "encode/wiring_answers.hpp"
#include "encode/world.hpp"

namespace lanyard {

class Encoder : private SystemBuilder, private Meaning {
 public:
    Encoder(z3::context& ctx, const Model& model, ConditionId condition, ClaimId claim, const EncodeOptions& options);
    System build();

 private:
    // --- expressions.cpp
    z3::expr boolean(const Expr& e, const Owner& who) override;
    Num number(const Expr& e, const Owner& who) override;
    std::pair<z3::expr, z3::expr> mode_bits(const Expr& e, const Owner& who);
    z3::expr logic(const Expr& e, const Owner& who);
    z3::expr comparison(const Expr& e, const Owner& who);
    z3::expr vote(const std::vector<z3::expr>& of, long m);
    Num arithmetic(const Expr& e, const Owner& who);
    Num table(const Expr& e, const Owner& who);

    // --- products.cpp
    struct Core {  // what is multiplied: a sum of which the first term's coefficient is 1
        std::vector<Affine::Term> terms;
        z3::expr value;
        std::string name;
    };
    struct Factor {  // scale * core + shift; without a core a constant
        std::optional<std::size_t> core;
        Rational scale, shift;
    };
    struct Multiplied {
        Product product;
        std::set<Rational> us, vs;
        z3::expr_vector used;
        std::set<std::string> tables;
    };
    using Factored = std::pair<const std::pair<std::size_t, std::size_t>, Multiplied>;
    void differences(const Factored& a, const Factored& b);
    Factor factor(const Expr& e, const Owner& who);
    std::size_t core(const Affine& a, const Owner& who);
    Multiplied& multiplied(std::size_t u, std::size_t v);
    z3::expr product(const Expr& x, const Expr& y, const Table& t, const Owner& who);
    void hull(const std::string& label, const Product& p, const Interval& u, const Interval& v);
    void finish_products();
    void touch(const std::string& label, const Product& p, const Rational& u, const Rational& v);

    // --- elements.cpp
    z3::expr element(const Expr& e, const Owner& who);
    Num number_element(const Expr& e, const Owner& who);
    // What each of them means; one without it does not compile.
    template <Op op>
    z3::expr truth_of(const Expr& e, const Owner& who) = delete;
    template <Op op>
    Num number_of(const Expr& e, const Owner& who) = delete;
    z3::expr arg(const Expr& e, const Owner& who, std::size_t i) { return boolean(*e.args[i], who); }
    // Memory of one bit: its present value, and its next one, which is also the answer.
    z3::expr bit(const Expr& e, const Owner& who, StateRole role, bool at_start);
    z3::expr keep(const Expr& e, const Owner& who, const z3::expr& cur, const z3::expr& next, bool at_start);
    // Counts the scans for which `running` holds without a break, as far as the controller has power.
    RunClock& count(const Expr& e, const Owner& who, const z3::expr& running, bool starts_full);
    // Memory that follows the controller's power: next value, or its initial one without power, or kept.
    z3::expr with_power(const Expr& e, const Owner& who, const z3::expr& next, const z3::expr& cur,
                        const z3::expr& init);

    // --- machine.cpp
    z3::expr signal(SignalId id) override;  // Booleans
    Num signal_number(SignalId id) override;
    z3::expr on(SignalId id);             // output, contact or load as "has power"
    z3::expr last(SignalId id) override;  // Op::last, Booleans
    z3::expr load(LoadId id);

    // --- monitors.cpp
    void monitor();
    void response(const Response& r);
    void response_once(const Response& r);
    void response_in_total(const Response& r);
    z3::expr in_window(const z3::expr& may_begin, long scans);
    void change_limit(const ChangeLimit& l);
    void recoverable(const Recoverable& r);
    void positions();
    void untouched(const Indexed<Switch, bool>& which);
    void procedure_driver(const Procedure& p);
    void procedure(const Procedure& p);
    void world_of_step(const Phase& phase, const z3::expr& here, const std::string& name);

    z3::expr driving(SignalId id) override;  // what hangs on an output or contact feels

    z3::expr answer(ProbeId probe) override { return wiring_.answer(probe); }
    z3::expr asked(ProbeKind kind, AnyId index) override { return wiring_.asked(kind, index); }

    const std::optional<z3::expr>& second() const { return conditions_.second(); }

    EncoderPart base_;
    Conditions conditions_;
    Faults faults_;
    Power power_;
    EngineModes engine_;
    PhysicalWorld world_;
    WiringAnswers wiring_;
    ConditionId condition_;  // the last of them
    ClaimId claim_;

    // --- machine.cpp
    std::map<SignalId, z3::expr> signals_, last_;
    std::map<SignalId, Num> numbers_;

    // --- elements.cpp
    std::map<ElementId, z3::expr> elements_;
    std::map<ElementId, Num> number_elements_;

    // --- products.cpp
    std::vector<Core> cores_;
    std::map<std::pair<std::size_t, std::size_t>, Multiplied> products_;
};

}  // namespace lanyard
