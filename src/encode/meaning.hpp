// What the model's expressions, signals and probes mean in a step. Signals are made of expressions and of the wiring's
// answers, and these of signals again: here, and only here, those who make them meet.
#pragma once

#include <map>

#include "encode/builder.hpp"

namespace lanyard::encode {

// Who evaluates an expression: names its memory, and says whether it dies with the controller's power.
struct Owner {
    std::string name;
    bool controller = false;
};

class Meaning {
 public:
    virtual ~Meaning() = default;
    virtual z3::expr boolean(const Expr& e, const Owner& who) = 0;
    virtual Num number(const Expr& e, const Owner& who) = 0;
    virtual z3::expr signal(SignalId id) = 0;  // Booleans
    virtual Num signal_number(SignalId id) = 0;
    virtual z3::expr driving(SignalId id) = 0;  // what hangs on an output or contact feels
    virtual z3::expr last(SignalId id) = 0;     // Op::last, Booleans
    virtual z3::expr answer(ProbeId probe) = 0;
    virtual z3::expr asked(ProbeKind kind, AnyId index) = 0;  // false where nobody asks
};

// What every part of the encoding has: the system in the making, and the meaning of what the model says.
class EncoderPart {
 public:
    EncoderPart(SystemBuilder& s, Meaning& meaning) : s_(s), meaning_(meaning), ctx_(s.context()), m_(s.model()) {}

 protected:
    z3::expr truth(bool b) const { return s_.truth(b); }
    z3::expr integer(long n) const { return s_.integer(n); }
    z3::expr rational(const Rational& r) const { return s_.rational(r); }
    Num constant(const Rational& r) const { return {rational(r), rational(r), false}; }
    // What has been made before; null: nothing.
    template <class Key, class Made>
    static const Made* find(const std::map<Key, Made>& made, const Key& key) {
        const auto found = made.find(key);
        return found == made.end() ? nullptr : &found->second;
    }

    SystemBuilder& s_;
    Meaning& meaning_;
    z3::context& ctx_;
    const Model& m_;
};

}  // namespace lanyard::encode
