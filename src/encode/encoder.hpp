// The encoding itself, split by what it encodes: expressions.cpp, elements.cpp, world.cpp, machine.cpp, monitors.cpp,
// faults.cpp, wiring.cpp, parts.cpp, products.cpp. Everything is made on demand and once. Each keeps what it has made
// in members of its own, below; the system, its clocks and its rule of leaps are the builder's alone (builder.hpp).
#pragma once

#include "encode/expressions.hpp"
#include "encode/wiring_answers.hpp"
#include "encode/world.hpp"

namespace lanyard {

class Encoder : private SystemBuilder, private Meaning {
 public:
    Encoder(z3::context& ctx, const Model& model, ConditionId condition, ClaimId claim, const EncodeOptions& options);
    System build();

 private:
    z3::expr boolean(const Expr& e, const Owner& who) override { return expressions_.boolean(e, who); }
    Num number(const Expr& e, const Owner& who) override { return expressions_.number(e, who); }

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
    Elements elements_;
    TableProducts products_;
    Expressions expressions_;
    ConditionId condition_;  // the last of them
    ClaimId claim_;

    // --- machine.cpp
    std::map<SignalId, z3::expr> signals_, last_;
    std::map<SignalId, Num> numbers_;
};

}  // namespace lanyard
