// What the wiring does with at most one fault in it, case by case.
//
// What it decides: for a question to the wiring its answer in the sound circuit, and for each fault that changes it the
// answer with that fault; faults with the same answer are one case.
//
// Why it is sound: each case is the circuit with that fault (circuit/levels.hpp), as a function of what switches. A
// function has one decision diagram, so that equal answers are seen to be equal.
//
// When it gives up: TooLarge, where a diagram outgrows its limit.
// Tested by: tests/circuit/levels_test.cpp
#pragma once

#include <memory>
#include <optional>

#include "base/diagrams.hpp"
#include "circuit/levels.hpp"

namespace lanyard::circuit {

class Switching {
 public:
    class Gates {
     public:
        using Term = Function;
        Gates(Switching& owner, FaultId fault) : owner_(&owner), d_(owner.diagrams_.get()), fault_(fault) {}

        Term constant(bool b) const { return d_->constant(b); }
        Term both(Term a, Term b) { return d_->if_then_else(a, b, constant(false)); }
        Term either(Term a, Term b) { return d_->if_then_else(a, constant(true), b); }
        Term negation(Term a) { return d_->negation(a); }
        bool is(Term a, bool b) const { return a == constant(b); }
        Term happens(const WiringEvent& e);

     private:
        Switching* owner_;
        Diagrams* d_;
        FaultId fault_;  // that is there
    };
    using Circuitry = Levels<Gates>;
    using Answer = Circuitry::Answer;
    struct Case {
        std::vector<FaultId> faults;
        Answer answer;
    };
    struct Answers {
        Answer sound;
        std::vector<Case> with_fault;  // those that differ from it
    };

    // may_come: the faults that may be there, one at a time. always: those that are there throughout.
    Switching(const Circuit& circuit, const std::vector<FaultId>& may_come, Indexed<Fault, bool> always);

    // What the diagrams' events are; never a fault.
    const WiringEvent& event(std::size_t number) const { return events_.at(number); }
    const Diagrams& diagrams() const { return *diagrams_; }

    // ask: Circuitry& -> Answer
    template <class Ask>
    Answers answers(const Ask& ask) {
        Answers out{ask(circuitry({})), {}};
        for (const FaultId f : may_come_) {
            const Answer a = ask(circuitry(f));
            if (!same(a, out.sound)) add(out, f, a);
        }
        return out;
    }

 private:
    static bool same(const Answer& a, const Answer& b) { return a.must == b.must && a.may == b.may; }
    static void add(Answers& to, FaultId fault, const Answer& answer);
    Circuitry& circuitry(FaultId fault);
    void name_events();

    const Circuit& circuit_;
    std::vector<FaultId> may_come_;  // and touch the wiring
    Indexed<Fault, bool> always_;
    std::vector<WiringEvent> events_;
    std::map<WiringEvent, std::size_t> numbers_;
    std::unique_ptr<Diagrams> diagrams_;
    std::map<FaultId, Circuitry> with_;
};

}  // namespace lanyard::circuit
