#include "card/player.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "card/expressions.hpp"
#include "sim/landmarks.hpp"

namespace lanyard::card {

namespace {

// Longer than the longest chain of clocks is waited for nothing.
long patience(const Model& m) {
    long all = 200;
    for (const long t : sim::clock_times(m)) all += 2 * t;
    return all;
}

}  // namespace

Player::Player(const Model& model, std::vector<SignalId> watched)
    : model_(model), world_(model, 0, -1), watched_(std::move(watched)), longest_(patience(model)) {}

Rest Player::power_up(const Settings& set) const {
    return go(std::make_shared<Interpreter>(model_, 0, -1), nullptr, set);
}

Rest Player::play(const Rest& from, const Settings& set) const { return go(from.now, &from.signals, set); }

Rest Player::play_turned(const Rest& from, const Settings& set, int turned, long at) const {
    const Turn turn{turned, at};
    return go(from.now, &from.signals, set, &turn);
}

Rest Player::go(std::shared_ptr<const Interpreter> now, const std::vector<Value>* before, const Settings& set,
                const Turn* turn) const {
    Wish wish(model_);
    for (std::size_t k = 0; k < set.positions.size(); ++k) wish.positions[k] = set.positions[k];
    for (std::size_t k = 0; k < set.quantities.size(); ++k) wish.quantities[k] = set.quantities[k];
    Rest out;
    out.set = set;
    if (before) out.signals = *before;
    std::string state;
    for (long scan = 0; scan < longest_; ++scan) {
        if (turn && scan == turn->at) {
            wish.positions[static_cast<std::size_t>(turn->position)] = true;
            out.set.positions[static_cast<std::size_t>(turn->position)] = true;
        }
        Proposal p = world_.propose(*now, wish);
        if (!p.choices) {
            out.legal = false;
            return out;
        }
        const bool quiet = scan > 0 && p.scan.signals == out.signals;
        for (const SignalId id : watched_) {
            const auto k = static_cast<std::size_t>(id);
            if (!out.signals.empty() && p.scan.signals[k] != out.signals[k])
                out.changes.push_back({scan, id, p.scan.signals[k]});
        }
        if (!quiet) out.scans = scan;
        out.signals = std::move(p.scan.signals);
        now = std::move(p.after);
        out.now = now;
        // Looking at the state costs as much as a scan.
        if (!quiet || (scan > 40 && scan % 10 > 1)) continue;
        std::string text = now->state_text();
        if (text == state && (!turn || scan > turn->at)) return out;
        state = std::move(text);
    }
    out.rests = false;
    return out;
}

Settings at_rest(const Model& m, const std::vector<BenchInput>& inputs) {
    Settings out;
    for (const auto& s : m.switches) out.positions.push_back(s.rests_on);
    for (const auto& q : m.quantities) out.quantities.push_back(std::clamp(Rational(0), q.range.lo, q.range.hi));
    for (const auto& in : inputs)
        if (in.is_number()) out.quantities[static_cast<std::size_t>(in.index)] = in.rests_at;
    return out;
}

Model hurried(const Model& m) {
    std::set<Rational> times;
    const auto is_clock = [](const Expr& e) { return e.op == Op::ton || e.op == Op::tof || e.op == Op::tp; };
    for (const SignalId id : m.order)
        visit(definition(m, id), [&](const Expr& e) {
            if (is_clock(e)) times.insert(e.value);
        });
    std::map<Rational, Rational> shorter;
    long rank = 2;
    for (const auto& t : times) shorter[t] = std::min(t, Rational(rank++ * m.scan));
    Model out = m;
    for (const SignalId id : m.order) {
        const std::function<ExprPtr(const Expr&)> shorten = [&](const Expr& e) -> ExprPtr {
            if (!is_clock(e)) return nullptr;
            auto made = std::make_shared<Expr>(e);
            made->value = shorter.at(e.value);
            for (auto& a : made->args) a = replaced(a, shorten);
            return made;
        };
        define(out, id, replaced(definition(m, id), shorten));
    }
    return out;
}

}  // namespace lanyard::card
