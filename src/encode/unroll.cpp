#include "encode/unroll.hpp"

#include "base/overloaded.hpp"

namespace lanyard::encode {

Rational exact(const z3::expr& numeral) {
    if (!numeral.is_numeral()) throw Unsupported{"the solver's model has a number that is not a fraction"};
    Rational r(Z3_get_numeral_string(numeral.ctx(), numeral));
    r.canonicalize();
    return r;
}

Unrolling::Unrolling(const System& system, Solver& solver) : system_(&system), solver_(&solver) {}

void Unrolling::extend() {
    const System& s = *system_;
    const std::size_t n = steps_.size();
    steps_.emplace_back(s, std::to_string(n));
    const Renaming& now = steps_.back();
    if (n == 0)
        add_initial(*solver_, s, now);
    else
        add_next(*solver_, s, steps_[n - 1], now);
    add_rules(*solver_, s, now);
}

Choices Unrolling::read_choices(const Model& model, const Renaming& at) {
    const Readback& rb = system_->readback;
    Choices c;
    give_entries(c, Chosen(model));
    const auto value = Overloaded{
        [&](const z3::expr& truth) { return solver_->holds(at(truth)); },
        [&](const Num& number) { return exact(solver_->value(at(number.first))); },
    };
    const auto read = [&](auto& to, const auto& from) {
        for (const auto i : from.ids())
            if (from[i]) to[i] = value(*from[i]);
    };
    each_choice(read, c, rb);
    if (rb.booted) c.booted = solver_->holds(at(*rb.booted));
    if (rb.claim_moves_on) c.claim_moves_on = solver_->holds(at(*rb.claim_moves_on));
    if (rb.next_mode) {
        const int high = solver_->holds(at(rb.next_mode->first)) ? 2 : 0;
        const int low = solver_->holds(at(rb.next_mode->second)) ? 1 : 0;
        c.next_mode = static_cast<Mode>(high + low);
    }
    return c;
}

PartialRun Unrolling::read(const Model& model, std::size_t steps) {
    const Readback& rb = system_->readback;
    PartialRun out;
    const auto chosen = [](const auto& from, auto& is) {
        is.resize(from.size());
        for (const auto i : from.ids()) is[i] = from[i].has_value();
    };
    each_choice(chosen, rb, out);
    out.next_mode = rb.next_mode.has_value();
    for (std::size_t n = 0; n < steps; ++n) {
        const Renaming& at = steps_[n];
        Segment segment;
        segment.first = read_choices(model, at);
        segment.scans = n + 1 == steps ? 1 : exact(solver_->value(at.k())).get_num().get_si();
        bool moves = false;
        auto ends = segment.first.quantities;
        auto reading_ends = segment.first.readings;
        for (const QuantityId i : rb.quantities.ids())
            if (rb.quantities[i] && rb.quantities[i]->moving) {
                ends[i] = exact(solver_->value(at(rb.quantities[i]->last)));
                moves = true;
            }
        for (const SensorId i : rb.readings.ids())
            if (rb.readings[i] && rb.readings[i]->moving)
                reading_ends[i] = exact(solver_->value(at(rb.readings[i]->last)));
        if (moves && segment.scans > 1) {
            segment.last_quantities = ends;
            segment.last_readings = reading_ends;
        }
        out.run.segments.push_back(std::move(segment));
    }
    return out;
}

}  // namespace lanyard::encode
