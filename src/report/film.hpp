// A run played once, with the scans kept at which something happens. Between two kept scans nothing changes but
// clocks and quantities that move.
//
// What an expression is worth at a kept scan is asked of the interpreter's own evaluator, put back into the state that
// its memory elements had before that scan: no operator has a second meaning here.
//
// Several threads may look at one film.
// Tested by: tests/report/story_test.cpp, tests/explain/why_test.cpp
#pragma once

#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "claims/causes.hpp"
#include "claims/cone.hpp"
#include "claims/run.hpp"
#include "model/model.hpp"
#include "sim/element.hpp"
#include "sim/evaluate.hpp"
#include "sim/interpreter.hpp"
#include "sim/monitor.hpp"
#include "sim/program.hpp"
#include "sim/wiring.hpp"

namespace lanyard::report {

struct Frame {
    long scan = 0;
    Indexed<Signal, Value> signals;
    Indexed<Signal, Value> last;                       // signals of the scan before
    Indexed<Element, sim::ElementState> elements;      // before this scan
    Indexed<Element, sim::ElementState> elements_now;  // after it
    long phase = 0;                                    // procedure
    sim::MonitorState claim;                           // before this scan
    sim::MonitorState claim_now;                       // after it
    sim::Looks looks;                                  // at the wiring
    bool segment_begins = false;
    bool violated = false;
};

// How late the answer to a response is: the run goes on with everything as it is, as far as the world lets it be, until
// the answer comes. For always: how long the claim goes on to be broken.
struct Late {
    std::optional<long> scans;  // behind the scan at which it was due; none: it did not come
    long looked = 0;            // scans after the run that are known; 3 min, less where that is too many scans
    bool over = false;          // the condition of the claim did not last, or the run cannot go on
};

class Film {
 public:
    Film(const Model& model, const Run& run, ConditionId condition, ClaimId claim);
    ~Film();
    Film(const Film&) = delete;
    Film& operator=(const Film&) = delete;

    ConditionId condition() const { return condition_; }
    const Claim* claim() const { return claim_ ? &model_.claims[claim_] : nullptr; }  // null: none
    ClaimId claim_id() const { return claim_; }
    // What can have a say in the claim.
    const Cone& cone() const { return cone_; }
    void tell_all() { cone_ = whole_model(model_); }
    // How many steps the claim's driver has; 0 if the claim is no procedure.
    long steps() const { return steps_; }
    // Whose marks the run is told with; null: none. They have to outlive the film.
    void mark(const Causes* causes) { causes_ = causes; }
    const Causes* causes() const { return causes_; }
    // Empty, or the rule that the run broke; there are no frames behind it.
    const std::string& broken_rule() const { return broken_rule_; }
    bool is_complete() const { return !frames_.empty() && broken_rule_.empty(); }
    const Model& model() const { return model_; }
    const Run& run() const { return run_; }
    const std::vector<Frame>& frames() const { return frames_; }
    const Frame& end() const { return frames_.back(); }
    const Late& late() const;  // made when it is first asked for
    // The last kept scan that is not after `scan`.
    std::size_t index_at(long scan) const;
    const Frame& at(long scan) const { return frames_[index_at(scan)]; }
    // The scan at which the claim's second part or window begins; -1: it does not.
    long begins() const;
    // The first scan at which the driver is at that step, or past it; -1: none.
    long step_begins(long step) const;
    const Segment& segment_at(long scan) const;
    Rational quantity(QuantityId quantity, long scan) const;
    Rational reading(SensorId sensor, long scan) const;

    bool fault(FaultId fault, long scan) const;         // is there
    bool answer(ProbeId probe, long scan) const;        // what the world chose
    long fault_since(FaultId fault, long scan) const;   // has been as it is at `scan`
    long answer_since(ProbeId probe, long scan) const;  //
    // What the wiring led where in that look of the scan.
    const sim::Standing& standing(long scan, sim::Look look) const;
    Flow flow(long scan, sim::Look look) const;

    Value value(const Expr& e, const Frame& frame) const;
    bool truth(const Expr& e, const Frame& frame) const { return std::get<bool>(value(e, frame)); }
    // The output of a Boolean memory element; without the controller's power it is off.
    bool is_on(const Expr& element, const Frame& frame) const;
    bool controller_runs(const Frame& frame) const;
    const sim::ElementState& state_of(const Expr& element, const Frame& frame) const;
    // The expression that stands for an element; null if nothing in logic or claim uses it.
    const Expr* element(ElementId id) const;
    // The scan since which the Boolean or mode signal has had the value it has at `scan`.
    long since(SignalId id, long scan) const;
    // The scan since which the Boolean expression has been on (or off).
    long since(const Expr& e, long scan) const;

 private:
    struct Seen;
    struct Camera;
    void add_expressions();
    void play();
    std::shared_ptr<const Seen> seen(const Frame& frame) const;
    sim::OperationId operation(const Expr& e) const;
    template <class F>
    long since_segment(long scan, const F& value) const;

    const Model& model_;
    const Run& run_;
    const ConditionId condition_;
    const ClaimId claim_;
    Cone cone_;
    Interpreter interpreter_;
    sim::Program program_;
    std::map<const Expr*, sim::OperationId> operations_;
    std::map<ElementId, sim::OperationId> element_operations_;
    std::vector<Frame> frames_;
    long steps_ = 0;
    std::string broken_rule_;
    const Causes* causes_ = nullptr;
    mutable std::mutex seen_by_one_;
    mutable std::map<long, std::shared_ptr<Seen>> seen_;
    mutable std::once_flag late_once_;
    mutable Late late_;
};

}  // namespace lanyard::report
