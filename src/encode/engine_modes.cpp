#include "encode/engine_modes.hpp"

#include <algorithm>

namespace lanyard::encode {

const EngineModes::Bits& EngineModes::bits() {
    if (bits_) return *bits_;
    if (!m_.engine) throw Unsupported{"the model has no engine"};
    const z3::expr high = s_.state({StateRole::high, Whole::engine}, truth(false), "engine");
    const z3::expr low = s_.state({StateRole::low, Whole::engine}, truth(false), "engine");
    const z3::expr next_high = s_.choice({StateRole::next_high, Whole::engine});
    const z3::expr next_low = s_.choice({StateRole::next_low, Whole::engine});
    s_.state_next(high, next_high);
    s_.state_next(low, next_low);
    s_.readback().next_mode = {next_high, next_low};
    s_.later([this] { moves(); });
    return bits_.emplace(high, low);
}

const EngineModes::Bits& EngineModes::next_bits() {
    bits();
    return *s_.readback().next_mode;
}

z3::expr EngineModes::in_mode(Mode m) {
    const auto& [is_high, is_low] = bits();
    const std::size_t wanted = ordinal(m);
    const z3::expr high = (wanted & 2) != 0 ? is_high : !is_high;
    const z3::expr low = (wanted & 1) != 0 ? is_low : !is_low;
    return high && low;
}

z3::expr EngineModes::has_its_loads() {
    z3::expr_vector loads(ctx_);
    for (const LoadId l : m_.engine->fires_with) loads.push_back(meaning_.signal(m_.loads[l].signal));
    return all_of(loads);
}

void EngineModes::moves() {
    const Engine& e = *m_.engine;
    const bool healthy = conditions_.ever_healthy();
    const auto& [next_high, next_low] = next_bits();
    const z3::expr to_stopped = !next_high && !next_low, to_cranking = !next_high && next_low;
    const z3::expr to_running = next_high && !next_low, to_coasting = next_high && next_low;
    const z3::expr cranking = in_mode(Mode::cranking), running = in_mode(Mode::running);
    const z3::expr coasting = in_mode(Mode::coasting);

    const z3::expr fed = has_its_loads();
    const auto after = [this](RunClock& c, const Rational& t) { return s_.at_least(c, std::max(1L, s_.up(t))); };
    const bool free_starter = !e.cranks_with;
    const z3::expr starter = free_starter ? truth(true) : meaning_.signal(m_.loads[e.cranks_with].signal);

    RunClock& firing = clock(StateRole::firing, cranking && fed);
    const z3::expr fire_may = after(firing, e.firing_time.lo);
    const z3::expr fire_must = healthy ? after(firing, e.firing_time.hi) : truth(false);

    // stopped
    const z3::expr crank = starter || truth(e.push_start);
    const z3::expr crank_must = healthy && !free_starter ? starter : truth(false);
    s_.rule("world: engine leaves stopped by cranking only",
            z3::implies(in_mode(Mode::stopped), to_stopped || (to_cranking && crank)));
    conditions_.healthy_rule("healthy: engine turns with the starter",
                             z3::implies(in_mode(Mode::stopped) && crank_must, to_cranking));

    // cranking
    const z3::expr stay = free_starter || e.push_start ? truth(true) : starter;
    const z3::expr stop = free_starter ? truth(true) : !starter;
    s_.rule("world: engine fires only with all its loads for the shortest firing time",
            z3::implies(cranking, (to_running && fire_may) || (to_cranking && stay) || (to_stopped && stop)));
    conditions_.healthy_rule("healthy: engine fires at the latest after the longest firing time",
                             z3::implies(cranking && fire_must, to_running));

    // running
    RunClock& lost = clock(StateRole::lost, running && !fed);
    const z3::expr coast_may = healthy ? after(lost, e.run_on.lo) : truth(true);
    const z3::expr coast_must = after(lost, e.run_on.hi);
    s_.rule("world: engine runs on only with its loads",
            z3::implies(running, (to_running && !coast_must) || to_coasting));
    conditions_.healthy_rule("healthy: engine does not stall",
                             z3::implies(running && to_coasting, coast_may || coast_must));

    // coasting
    RunClock& coast = clock(StateRole::coast, coasting);
    const z3::expr stop_may = healthy ? after(coast, e.coast_down.lo) : truth(true);
    z3::expr catches = fed;
    if (e.speed) {
        const Num speed = meaning_.signal_number(m_.quantities[e.speed].signal);
        catches = fed && s_.compare(Op::gt, speed, constant(e.catches_above));
    }
    s_.rule("world: engine leaves coasting by stopping, catching or cranking",
            z3::implies(coasting, to_coasting || to_stopped || (to_running && catches) || (to_cranking && starter)));
    conditions_.healthy_rule("healthy: coast-down is not shorter than its shortest time",
                             z3::implies(coasting && to_stopped, stop_may));
    if (healthy)
        conditions_.healthy_rule("healthy: coast-down ends at the latest after its longest time",
                                 z3::implies(coasting && after(coast, e.coast_down.hi), !to_coasting));
}

z3::expr EngineModes::since_fired(const Rational& t) {
    if (!fired_) fired_ = &clock(StateRole::since_firing, in_mode(Mode::running) || in_mode(Mode::coasting));
    return s_.at_least(*fired_, s_.up(t) + 1);
}

z3::expr EngineModes::since_turned(const Rational& t) {
    if (!turned_) turned_ = &clock(StateRole::since_running, in_mode(Mode::stopped) || in_mode(Mode::cranking), true);
    return s_.at_least(*turned_, s_.up(t));
}

}  // namespace lanyard::encode
