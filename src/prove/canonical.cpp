// What it decides: which of the many runs of least depth is shown.
// How: the target is asserted at the last step; then wishes are put to the solver one after the other, and each that
// can be met together with those before is kept. Wishes, in this order: loads that nothing in the model feeds have
// power; switches rest, and then stay as they were; quantities stay; readings are exact; relays and engine do not move
// early; waits are short; numbers are round. Sound, as wishes only choose among hits. A wish whose answer is unknown is
// dropped.
// Tested by: tests/cases_run/main.cpp, tests/lies/main.cpp
#include "prove/canonical.hpp"

#include <algorithm>

#include "certify/obligations.hpp"

namespace lanyard::prove {

namespace {

constexpr std::uint64_t wish_budget = 2'000'000;

class Wishes {
 public:
    Wishes(const Question& q, std::size_t depth)
        : model_(*q.model), system_(system_of(ctx_, q, false)), solver_(ctx_), unrolling_(system_, solver_) {
        for (std::size_t i = 0; i < depth; ++i) {
            unrolling_.extend();
            for (const auto& g : system_.grid) solver_.add(at(i)(g));
        }
        solver_.add(at(depth - 1)(target_of(system_, q)));
        solver_.add(at(depth - 1).k() == 1);
    }

    std::optional<PartialRun> first() {
        if (solver_.check() != Answer::satisfiable) return std::nullopt;
        return unrolling_.read(model_, unrolling_.depth());
    }
    std::optional<PartialRun> grant() {
        if (solver_.check() != Answer::satisfiable) return std::nullopt;
        quiet_free_loads();
        quiet_switches();
        quiet_quantities();
        quiet_machine();
        short_waits();
        round_numbers();
        return first();
    }

 private:
    const Renaming& at(std::size_t i) const { return unrolling_.step(i); }
    std::size_t depth() const { return unrolling_.depth(); }

    // Kept if it can be met together with all that was kept before.
    bool wish(const z3::expr& e) {
        if (e.is_true()) return true;
        if (solver_.holds(e)) {
            solver_.add(e);
            return true;
        }
        return solver_.add_if_possible(e, wish_budget);
    }
    // The same as one wish after the other, with fewer questions: all at once, and in halves where that cannot be.
    void wish_all(const std::vector<z3::expr>& wishes) {
        if (wishes.empty()) return;
        z3::expr_vector together(ctx_);
        for (const auto& w : wishes) together.push_back(w);
        if (wish(all_of(together)) || wishes.size() == 1) return;
        const auto middle = wishes.begin() + std::ssize(wishes) / 2;
        wish_all({wishes.begin(), middle});
        wish_all({middle, wishes.end()});
    }

    // Nobody can say why such a load should lose its power, so whatever else can happen is told rather than that.
    void quiet_free_loads() {
        std::vector<z3::expr> wishes;
        for (const auto& c : system_.readback.free_loads) {
            if (!c) continue;
            wishes.push_back(at(0)(*c));
            for (std::size_t n = 1; n < depth(); ++n) wishes.push_back(at(n)(*c) == at(n - 1)(*c));
        }
        wish_all(wishes);
    }
    void quiet_switches() {
        const Readback& rb = system_.readback;
        std::vector<z3::expr> wishes;
        for (const SwitchId i : rb.positions.ids()) {
            if (!rb.positions[i]) continue;
            const z3::expr& p = *rb.positions[i];
            if (rb.missed[i])
                for (std::size_t n = 0; n < depth(); ++n) wishes.push_back(!at(n)(*rb.missed[i]));
            wishes.push_back(at(0)(p) == ctx_.bool_val(model_.switches[i].rests_on));
            for (std::size_t n = 1; n < depth(); ++n) wishes.push_back(at(n)(p) == at(n - 1)(p));
        }
        wish_all(wishes);
    }
    void quiet_quantities() {
        const Readback& rb = system_.readback;
        std::vector<z3::expr> wishes;
        for (const auto& q : rb.quantities) {
            if (!q) continue;
            for (std::size_t n = 0; n < depth(); ++n) {
                if (n > 0) wishes.push_back(at(n)(q->first) == at(n - 1)(q->last));
                if (q->moving) wishes.push_back(at(n)(q->last) == at(n)(q->first));
            }
        }
        for (const SensorId i : rb.readings.ids()) {
            if (!rb.readings[i]) continue;
            const auto& q = rb.quantities[model_.sensors[i].quantity];
            for (std::size_t n = 0; n < depth(); ++n) wishes.push_back(at(n)(rb.readings[i]->first) == at(n)(q->first));
            for (std::size_t n = 1; n < depth(); ++n)
                wishes.push_back(at(n)(rb.readings[i]->first) == at(n - 1)(rb.readings[i]->last));
        }
        wish_all(wishes);
    }
    void quiet_machine() {
        const Readback& rb = system_.readback;
        std::vector<z3::expr> wishes;
        for (const auto& choices : {&rb.fault_begins.values(), &rb.wiring_choices.values()})
            for (const auto& c : *choices)
                if (c)
                    for (std::size_t n = 0; n < depth(); ++n) wishes.push_back(!at(n)(*c));
        if (rb.next_mode) {
            // As few mode changes as the hit allows.
            for (std::size_t n = 1; n < depth(); ++n)
                wishes.push_back(at(n)(rb.next_mode->first) == at(n - 1)(rb.next_mode->first) &&
                                 at(n)(rb.next_mode->second) == at(n - 1)(rb.next_mode->second));
        }
        for (const auto& i : {rb.booted, rb.claim_moves_on})
            if (i)
                for (std::size_t n = 0; n < depth(); ++n) wishes.push_back(at(n)(*i));
        wish_all(wishes);
    }
    // The smallest k of each step, by halving.
    void short_waits() {
        for (std::size_t n = 0; n + 1 < depth(); ++n) {
            const z3::expr k = at(n).k();
            if (wish(k == 1)) continue;
            long high = exact(solver_.value(k)).get_num().get_si(), low = 1;
            while (high - low > 1) {
                const long middle = low + (high - low) / 2;
                if (wish(k <= ctx_.int_val(static_cast<int64_t>(middle))))
                    high = exact(solver_.value(k)).get_num().get_si();
                else
                    low = middle;
            }
            wish(k == ctx_.int_val(static_cast<int64_t>(high)));
        }
    }

    void round_numbers() {
        const Readback& rb = system_.readback;
        for (const QuantityId i : rb.quantities.ids())
            if (rb.quantities[i]) round_all(*rb.quantities[i], model_.quantities[i].signal, model_.quantities[i].range);
        for (const SensorId i : rb.readings.ids())
            if (rb.readings[i]) {
                const Quantity& q = model_.quantities[model_.sensors[i].quantity];
                round_all(*rb.readings[i], model_.sensors[i].signal, q.range);
            }
    }
    void round_all(const Num& q, SignalId signal, const Interval& range) {
        const Signal& s = model_.signal(signal);
        const Unit unit = s.unit ? *s.unit : default_unit(s.type.dimension);
        // From coarse to fine: 1, 1/2 and 1/5 of the powers of ten below the range's width.
        const Rational width = from_si(range.hi, unit, false) - from_si(range.lo, unit, false);
        Rational power = 1;
        while (power * 10 <= width) power *= 10;
        while (power > width && power > Rational(1, 1000000)) power /= 10;
        std::vector<Rational> grains;
        for (int i = 0; i < 5; ++i, power /= 10) {
            grains.push_back(power);
            grains.push_back(power / 2);
            grains.push_back(power / 5);
        }
        for (std::size_t n = 0; n < depth(); ++n) {
            round_one(at(n)(q.first), unit, grains);
            if (q.moving) round_one(at(n)(q.last), unit, grains);
        }
    }
    void round_one(const z3::expr& v, const Unit& unit, const std::vector<Rational>& grains) {
        const Rational now = from_si(exact(solver_.value(v)), unit, false);
        for (const auto& g : grains) {
            const Rational scaled = now / g;
            const Rational down = Rational(floor_of(scaled)) * g, up = Rational(ceil_of(scaled)) * g;
            const bool nearer_down = now - down <= up - now;
            for (const Rational& candidate : {nearer_down ? down : up, nearer_down ? up : down}) {
                const Rational si = to_si(candidate, unit, false);
                if (wish(v == ctx_.real_val(si.get_str().c_str()))) return;
            }
        }
    }

    const Model& model_;
    z3::context ctx_;
    System system_;
    Solver solver_;
    Unrolling unrolling_;
};

}  // namespace

std::optional<PartialRun> canonical_run(const Question& q, std::size_t depth) { return Wishes(q, depth).grant(); }

std::optional<PartialRun> any_run(const Question& q, std::size_t depth) { return Wishes(q, depth).first(); }

}  // namespace lanyard::prove
