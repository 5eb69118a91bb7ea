// The model as it stands on the bench: the engine never turns, somebody sets the switches, a box or a potentiometer
// stands in for each sensor, and the plug of each wire that the controller reads back can be pulled off or fed.
//
// Sensors are cut off from the world: each shows what the box shows, exactly, and may show whatever the true one can
// (its quantity's range, and as much more as its accuracy allows). So without faults the controller sees on the bench
// all that it can see in the car, except what a turning engine does to the wiring; a combination that cannot be set
// here is said to be impossible on the bench, and of this model that is proved.
// Tested by: tests/card/card_test.cpp
#pragma once

#include "model/model.hpp"

namespace lanyard::card {

enum class InputKind {
    hand_switch,  // `index` in Model::switches
    sensor,       // what its box shows, `index` in Model::quantities
    quantity,     // something of the world that the wiring or the supply feels
    unplugged,    // the plug of a wire back to the controller is pulled off, `index` in Model::switches
    fed,          // that plug is fed with what it waits for
};

struct BenchInput;
using InputId = Id<BenchInput>;  // in Bench::inputs

struct BenchInput {
    InputKind kind = InputKind::hand_switch;
    AnyId index;
    SignalId of;            // position, reading, quantity, or what the plug brings: a signal of the user's model
    bool rests_on = false;  // switches and plugs
    Rational rests_at;      // sensors and quantities
    Rational step;          // a little: what is above and below a threshold by a hand's measure
    bool is_number() const { return kind == InputKind::sensor || kind == InputKind::quantity; }
};

struct Bench {
    Model model;  // signals of the user's model keep their numbers; claims and rules are gone
    Indexed<BenchInput> inputs;
};

Bench on_the_bench(const Model& model);

// A number with few digits near the middle between two; `lo` where they are equal.
Rational round_number(const Model& model, SignalId id, const Rational& lo, const Rational& hi);

}  // namespace lanyard::card
