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

Player::Player(const Model& model, std::vector<SignalId> watched, const StopFlag& stop)
    : model_(model),
      world_(model, any_condition, {}),
      watched_(std::move(watched)),
      stop_(stop),
      longest_(patience(model)) {}

Rest Player::power_up(const Settings& set) const {
    return go(std::make_shared<Interpreter>(model_, any_condition, ClaimId{}), nullptr, set);
}

Rest Player::play(const Rest& from, const Settings& set) const { return go(from.now, &from, set); }

Rest Player::play_turned(const Rest& from, const Settings& set, SwitchId turned, long at, long until) const {
    const Turn turn{turned, at, until};
    return go(from.now, &from, set, &turn);
}

namespace {

// One setting being played. While nothing changes the choices of the scan before are taken again, many scans at once;
// where that breaks a rule (a relay has to move, a controller is up) those scans are played anew and somebody chooses.
class Playing {
 public:
    Playing(const World& world, const std::vector<SignalId>& watched, Wish wish, Rest& out)
        : world_(world), watched_(watched), wish_(std::move(wish)), out_(out) {}

    // The next scan; false: no legal scan follows.
    bool choose() {
        Proposal p = world_.propose(*out_.now, wish_);
        if (!p.choices) return false;
        choices_ = std::move(p.choices);
        out_.now = std::move(p.after);
        take(p.scan);
        return true;
    }

    // Up to `most` scans like the one before, until something changes.
    void go_on(long most) {
        auto ahead = std::make_shared<Interpreter>(*out_.now);
        for (long n = 0; n < most; ++n) {
            Scan scan = ahead->step(*choices_);
            if (!scan.broken_rule.empty()) {
                ahead = std::make_shared<Interpreter>(*out_.now);
                for (long k = 0; k < n; ++k) ahead->step(*choices_);
                stuck_ = true;
                break;
            }
            take(scan);
            if (!quiet_) break;
        }
        out_.now = std::move(ahead);
    }

    // One scan more changes nothing that matters. That scan is not taken in.
    bool rests() const {
        Interpreter later(*out_.now);
        const Scan scan = later.step(*choices_);
        return scan.broken_rule.empty() && scan.signals == out_.signals && later.state_text() == out_.now->state_text();
    }

    bool may_go_on() const { return quiet_ && !stuck_; }
    bool quiet() const { return quiet_; }
    long scan() const { return scan_; }
    void turn(SwitchId position, bool on) {
        wish_.positions[position] = on;
        out_.set.positions[position] = on;
        stuck_ = true;
    }

 private:
    void take(Scan& scan) {
        for (const SignalId id : watched_)
            if (!out_.signals.empty() && scan.signals[id] != out_.signals[id])
                out_.changes.push_back({scan_, id, scan.signals[id]});
        quiet_ = scan_ > 0 && scan.signals == out_.signals;
        if (!quiet_) out_.scans = scan_;
        out_.signals = std::move(scan.signals);
        stuck_ = false;
        ++scan_;
    }

    const World& world_;
    const std::vector<SignalId>& watched_;
    Wish wish_;
    Rest& out_;
    std::optional<Choices> choices_;
    long scan_ = 0;  // the next one
    bool quiet_ = false, stuck_ = false;
};

}  // namespace

void Player::remember_power(const Rest* before, Rest& out) const {
    if (!before || out.is_on(model_.powered)) return;
    out.lost_with = before->is_on(model_.powered) ? std::make_shared<const Indexed<Signal, Value>>(before->signals)
                                                  : before->lost_with;
}

Rest Player::go(std::shared_ptr<const Interpreter> now, const Rest* before, const Settings& set,
                const Turn* turn) const {
    constexpr long at_once = 40;
    Wish wish(model_);
    for (const SwitchId k : set.positions.ids()) wish.positions[k] = set.positions[k];
    for (const QuantityId k : set.quantities.ids()) wish.quantities[k] = set.quantities[k];
    Rest out;
    out.set = set;
    out.now = std::move(now);
    if (before) out.signals = before->signals;
    Playing playing(world_, watched_, std::move(wish), out);
    long counted = 0;
    bool looked = false;  // at this quiet stretch, and it was no rest
    // One scan is played whatever stops: a rest without one would have no signals.
    while (playing.scan() < longest_ && (playing.scan() == 0 || !is_stopped())) {
        long left = at_once;
        if (turn)
            for (const long at : {turn->at, turn->until})
                if (at >= playing.scan()) left = std::min(left, at - playing.scan());
        if (left == 0) playing.turn(turn->position, playing.scan() == turn->at);
        if (playing.may_go_on() && left > 0 && looked) {
            playing.go_on(left);
        } else if (!playing.choose()) {
            out.legal = false;
            return out;
        }
        scans_played_ += playing.scan() - counted;
        counted = playing.scan();
        if (!playing.quiet()) {
            looked = false;
            continue;
        }
        // At rest one scan more changes nothing that matters.
        const bool turned = !turn || playing.scan() > std::max(turn->at, turn->until) + 1;
        if (turned && playing.rests()) {
            remember_power(before, out);
            return out;
        }
        looked = true;
    }
    out.rests = false;
    return out;
}

Settings at_rest(const Model& m, const Indexed<BenchInput>& inputs) {
    Settings out;
    for (const auto& s : m.switches) out.positions.push_back(s.rests_on);
    for (const auto& q : m.quantities) out.quantities.push_back(std::clamp(Rational(0), q.range.lo, q.range.hi));
    for (const auto& in : inputs)
        if (in.is_number()) out.quantities[in.index] = in.rests_at;
    return out;
}

Model hurried(const Model& m) {
    std::set<Rational> times;
    for (const SignalId id : m.order)
        visit(definition(m, id), [&](const Expr& e) {
            if (is_clock(e.op)) times.insert(e.value);
        });
    std::map<Rational, Rational> shorter;
    long rank = 2;
    for (const auto& t : times) shorter[t] = std::min(t, Rational(rank++ * m.scan));
    Model out = m;
    for (const SignalId id : m.order) {
        const std::function<ExprPtr(const Expr&)> shorten = [&](const Expr& e) -> ExprPtr {
            if (!is_clock(e.op)) return nullptr;
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
