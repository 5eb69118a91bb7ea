// A test bench: a model from its text, its choices set by name, one scan after the other.
#pragma once

#include <catch2/catch.hpp>
#include <memory>
#include <string>
#include <vector>

#include "../models.hpp"
#include "sim/interpreter.hpp"

namespace lanyard::test {

using namespace sim;

// `text` is the inside of the model's object, without "lanyard" and "name"; ' stands for ".
std::shared_ptr<const Model> shared_model(const std::string& text);

// The signal of a name; of two with one name that which a claim would mean.
SignalId signal(const Model& m, const std::string& name);
SignalId signal(const Model& m, const std::string& name, SignalKind kind);

// "12 psi" as the signal of that name understands it.
Rational number(const Model& m, const std::string& name, const std::string& text);

class Bench {
 public:
    explicit Bench(const std::string& text, const std::string& condition = "any", ClaimId claim = {});
    Bench(std::shared_ptr<const Model> model, const std::string& condition, ClaimId claim);

    const Model& model() const { return *model_; }
    Interpreter& interpreter() { return interpreter_; }

    // Switches, quantities ("12 psi"), free loads, contacts. Contacts that nobody set follow their coils as late as
    // possible, readings that nobody set are exact.
    Bench& set(const std::string& name, bool on);
    Bench& set(const std::string& name, const char* value);
    Bench& set(Mode next);
    Bench& miss(const std::string& name, bool missed = true);
    Bench& contact(const std::string& name, bool on);
    Bench& boot(bool up);
    Bench& move_on(bool yes);

    // Plays a scan; it must be legal.
    const Scan& step();
    const Scan& step(long scans);
    // The rule that the scan breaks; the bench stands still.
    std::string refusal();

    bool on(const std::string& name) const;
    bool seen(const std::string& name) const;
    // Value in SI of a numeric signal.
    Rational at(const std::string& name) const;

    // Input `in` through the sequence of 0 and 1, the answer of `out` likewise.
    std::string answer(const std::string& in, const std::string& sequence, const std::string& out);

 private:
    Choices choices() const;

    std::shared_ptr<const Model> model_;
    Interpreter interpreter_;
    Choices c_;
    Indexed<Sensor, bool> reading_set_;
    Indexed<Relay, bool> contact_set_;
    Scan last_;
};

// "s", "c", "r", "o" for every mode that may follow the scan as it is set; changes the mode that is set.
std::string followers(Bench& b);

}  // namespace lanyard::test
