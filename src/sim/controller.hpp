// The controller as the wiring sees it: whether it has supply and runs, and what its outputs drive.
#pragma once

#include <string>

#include "sim/faults.hpp"
#include "sim/signals.hpp"

namespace lanyard::sim {

class Controller {
 public:
    explicit Controller(const Model& model) : m_(model), drives_(like(model.outputs)) {}

    // Until it has run at a scan, both are as the scan before has left them.
    bool is_up() const { return up_; }
    bool drives(OutputId output) const { return drives_[output]; }  // what hangs on it feels, faults included

    void supply(bool is_there) { supplied_ = is_there; }
    // At scan 0 it counts as booted.
    Permission may_be_up(bool first_scan) const {
        if (!supplied_) return {};
        if (up_ || first_scan) return {true, true};
        return after_delay(waiting_, m_.supply.boots_in.lo, m_.supply.boots_in.hi, m_.scan);
    }
    // `signals` hold what its logic commands.
    void run(bool up, const Signals& signals, const Faults& faults) {
        up_ = up;
        waiting_ = supplied_ && !up ? waiting_ + 1 : 0;
        for (const OutputId k : m_.outputs.ids()) {
            const Output& o = m_.outputs[k];
            const bool commanded = o.is_duty ? sgn(signals.number(o.signal)) > 0 : signals.on(o.signal);
            drives_[k] = faults.there(o.stuck_on_by) || (commanded && !faults.there(o.stuck_off_by));
        }
    }
    void append_text(std::string& text) const { text += (up_ ? '1' : '0') + std::to_string(waiting_); }

 private:
    const Model& m_;
    bool supplied_ = true;  // at this scan
    bool up_ = false;       // runs, and goes on until its supply is lost
    long waiting_ = 0;      // earlier scans with supply since it came back
    Indexed<Output, bool> drives_;
};

}  // namespace lanyard::sim
