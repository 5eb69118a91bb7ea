// The values of all signals.
#pragma once

#include <utility>

#include "claims/run.hpp"
#include "model/model.hpp"

namespace lanyard::sim {

// Off, 0, stopped.
inline Value zero_of(const Type& t) {
    if (t.kind == TypeKind::number) return Rational(0);
    if (t.kind == TypeKind::mode) return Mode::stopped;
    return false;
}

struct Signals {
    explicit Signals(const Model& model) {
        for (const auto& s : model.signals) now.push_back(zero_of(s.type));
        last = now;
    }
    bool on(SignalId id) const { return std::get<bool>(now[id]); }
    const Rational& number(SignalId id) const { return std::get<Rational>(now[id]); }
    void end_scan() {
        std::swap(last, now);
        first = false;
    }

    bool first = true;            // scan 0 is yet to come, or going on
    Indexed<Signal, Value> now;   // as far as this scan has come
    Indexed<Signal, Value> last;  // of the scan before
};

}  // namespace lanyard::sim
