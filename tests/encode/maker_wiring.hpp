// The wired part of a random model: what hangs between a handful of splices, so that everything meets everything.
#pragma once

#include <string>
#include <vector>

#include "maker.hpp"
#include "sim/dice.hpp"

namespace lanyard::test {

using namespace sim;

class WiringMaker {
 public:
    using Names = std::vector<std::string>;

    WiringMaker(Dice& dice, Parts& parts) : dice_(dice), parts_(parts) {}

    // Battery, hand switches, relays, loads, wired inputs. `voltage`: a quantity, or empty.
    void begin(const std::string& voltage);
    // "drives": a pin for the output, and something that hangs on it.
    std::string drive(const std::string& output);
    // What may ask for the names of the whole model: alternator.
    void finish(const Names& truths);

    Names inputs, positions, loads, contacts, splices, faults;

 private:
    bool chance(std::uint64_t n) { return dice_.one_in(n); }
    const std::string& any(const Names& n) { return dice_.pick(n); }
    void part(const std::string& name, const std::string& is) { parts_.list.push_back({"circuit/parts", name, is}); }
    void wire(const std::string& path);
    std::string splice();
    std::string end();                      // a splice, the chassis, the battery
    void between(const std::string& what);  // two ends
    void hand_switch(const std::string& name);
    void relay(const std::string& name, bool has_voltage);
    void seal(const std::string& relay);
    void load(const std::string& name);
    void small_part(const std::string& name);
    std::string time();

    Dice& dice_;
    Parts& parts_;
    int wires_ = 0;
    bool supplied_ = false;
};

}  // namespace lanyard::test
