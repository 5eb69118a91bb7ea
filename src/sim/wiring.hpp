// The wiring in a scan: what conducts, and what the rest of the model is told.
#pragma once

#include <array>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "circuit/flow.hpp"
#include "model/model.hpp"
#include "sim/controller.hpp"
#include "sim/programs.hpp"
#include "sim/relays.hpp"

namespace lanyard::sim {

// When the wiring is looked at in a scan: with which contacts and outputs.
enum class Look {
    before_controller,  // both of the scan before
    coils,              // contacts of the scan before
    rest,               // all as it is now
};

// How everything that switches stood in a look: what a Flow is made of.
struct Standing {
    Indexed<Branch, bool> closed, both_ways;
    Indexed<Source, bool> live;
    friend bool operator==(const Standing&, const Standing&) = default;
};

// What was seen of the wiring in the last scan that was played.
struct Looks {
    std::array<Standing, 3> standing;  // per Look
    Indexed<Probe, Fed> fed;           // between what the world chose
    friend bool operator==(const Looks&, const Looks&) = default;
};

// Takes an answer of a probe between what must be and what may be.
using Pick = std::function<bool(ProbeId probe, Fed)>;

class Wires {
 public:
    explicit Wires(const Plan& plan);

    // What the wiring hangs on, as it is when it is looked at.
    struct Ends {
        const Signals& signals;
        const Faults& faults;
        const Programs& programs;
        const Controller& controller;
        const Relays& relays;
    };
    // The three looks: what each tells, taken by `pick`.
    void feed_controller(const Ends& ends, const Pick& pick);
    void energise_coils(const Ends& ends, const Pick& pick);
    void feed_the_rest(const Ends& ends, const Pick& pick);

    // What the world has chosen, at this scan or, until it was asked, at the one before.
    bool answer(ProbeId probe) const { return answers_[probe]; }
    bool answer(ProbeKind kind, AnyId index) const;  // false where nobody asks
    const Looks& looks() const { return looks_; }
    void append_text(std::string& text) const;

 private:
    // What faults make of the branches, as long as they stay the same ones.
    struct Whole {
        Indexed<Fault, bool> faults;
        Standing standing;               // `live` is empty
        std::vector<BranchId> changing;  // that may stand otherwise in another look
    };
    const Whole& whole(const Faults& faults);
    const Flow& flow(Look look, const Ends& ends);
    bool closes(const Branch& b, const Ends& ends) const;
    Fed fed(const Probe& probe, const Flow* flow, const Ends& ends) const;
    void ask(std::initializer_list<ProbeKind> kinds, const Flow* flow, const Ends& ends, const Pick& pick);

    const Plan& plan_;
    Indexed<Probe, bool> answers_;
    Looks looks_;
    // Per look, of what stands in looks_: most scans leave all switches as they are.
    std::array<std::shared_ptr<const Flow>, 3> flows_;
    std::shared_ptr<const Whole> whole_;
};

}  // namespace lanyard::sim
