#include "certify/complete.hpp"

#include <algorithm>
#include <deque>
#include <memory>

#include "encode/thresholds.hpp"
#include "sim/world.hpp"

namespace lanyard::certify {

namespace {

// What a delayed sensor may show: a value in the cell that the solver chose, within the accuracy of a value that the
// quantity had within the delay.
class DelayedReading {
 public:
    DelayedReading(const Model& m, SensorId sensor)
        : sensor_(m.sensors[sensor]), cuts_(cuts_of(m, sensor_.signal)), window_(scans_up(sensor_.delay, m.scan) + 1) {}

    Rational show(const Rational& quantity, const Rational& wanted) {
        past_.push_front(quantity);
        if (std::ssize(past_) > window_) past_.pop_back();
        if (last_ && cell(*last_) == cell(wanted) && close(*last_)) return *last_;
        for (const auto& q : past_) {
            if (cell(q) == cell(wanted)) return remember(q);
            const Rational nearest = into_cell(q, cell(wanted));
            if (cell(nearest) == cell(wanted) && abs(nearest - q) <= sensor_.accuracy) return remember(nearest);
        }
        return remember(wanted);
    }

 private:
    bool close(const Rational& r) const {
        return std::any_of(past_.begin(), past_.end(),
                           [&](const Rational& q) { return abs(r - q) <= sensor_.accuracy; });
    }
    std::size_t cell(const Rational& v) const {
        std::size_t n = 0;
        for (const auto& c : cuts_.list)
            if (c.above ? v > c.at : v >= c.at) ++n;
        return n;
    }
    // The value of the cell that is nearest to q, a little inside where the end does not belong to it.
    Rational into_cell(const Rational& q, std::size_t wanted) const {
        const bool has_low = wanted > 0, has_high = wanted < cuts_.list.size();
        const Rational low = has_low ? cuts_.list[wanted - 1].at : Rational(0);
        const Rational high = has_high ? cuts_.list[wanted].at : Rational(0);
        Rational inside = sensor_.accuracy / 16;
        if (has_low && has_high && high - low < inside * 2) inside = (high - low) / 2;
        if (has_low && (q < low || (q == low && cuts_.list[wanted - 1].above)))
            return cuts_.list[wanted - 1].above ? Rational(low + inside) : low;
        if (has_high) return cuts_.list[wanted].above ? high : Rational(high - inside);
        return q;
    }
    const Rational& remember(const Rational& r) {
        last_ = r;
        return *last_;
    }

    const Sensor& sensor_;
    Cuts cuts_;
    long window_;
    std::deque<Rational> past_;
    std::optional<Rational> last_;
};

template <class Thing, class T>
void fill(Indexed<Thing, T>& to, const Indexed<Thing, T>& from, const Indexed<Thing, bool>& chosen) {
    for (const Id<Thing> i : chosen.ids())
        if (!chosen[i]) to[i] = from[i];
}

Wish wish_for(const Model& m, const PartialRun& p, const Choices& c) {
    Wish wish(m);
    const auto take = [](auto& wishes, const auto& from, const auto& chosen) {
        for (const auto i : chosen.ids())
            if (chosen[i]) wishes[i] = from[i];
    };
    each_choice(take, wish, c, p);
    if (p.next_mode) wish.engine = c.next_mode;
    wish.booted = c.booted;
    wish.claim_moves_on = c.claim_moves_on;
    return wish;
}

// A proposal may have moved what the solver chose, where the rest of the model lets nothing else follow.
bool as_chosen(const PartialRun& p, const Choices& wanted, const Choices& c) {
    for (const SwitchId i : p.positions.ids())
        if (p.positions[i] && c.positions[i] != wanted.positions[i]) return false;
    for (const QuantityId i : p.quantities.ids())
        if (p.quantities[i] && c.quantities[i] != wanted.quantities[i]) return false;
    return !p.next_mode || c.next_mode == wanted.next_mode;
}

}  // namespace

std::optional<Run> complete(const Question& q, const PartialRun& partial, std::string& why) {
    const Model& m = *q.model;
    auto now = std::make_unique<Interpreter>(m, q.condition, q.claim);
    const World world(m, q.condition, q.claim);
    Indexed<Sensor, std::optional<DelayedReading>> delayed(like(m.sensors));
    for (const SensorId i : m.sensors.ids())
        if (partial.readings[i] && m.sensors[i].delay > 0) delayed[i].emplace(m, i);
    Run out = q.before;
    std::optional<Choices> before;
    const Scan last = play(*now, q.before, [&](const Choices& c, const Scan&) {
        for (const SensorId i : delayed.ids())
            if (delayed[i]) delayed[i]->show(c.quantities[m.sensors[i].quantity], c.readings[i]);
        before = c;
        return true;
    });
    why = last.broken_rule;
    if (!why.empty()) return std::nullopt;
    for (const auto& segment : partial.run.segments) {
        // Equal scans are put together within a leap only: the two ends of one are where something comes due.
        Run piece;
        for (long n = 0; n < segment.scans; ++n) {
            Choices c = choices_at(segment, n);
            for (const SensorId i : delayed.ids())
                if (delayed[i]) c.readings[i] = delayed[i]->show(c.quantities[m.sensors[i].quantity], c.readings[i]);
            const Choices wanted = c;
            if (before) {
                fill(c.quantities, before->quantities, partial.quantities);
                fill(c.positions, before->positions, partial.positions);
                fill(c.readings, before->readings, partial.readings);
                fill(c.contacts, before->contacts, partial.contacts);
                fill(c.free_loads, before->free_loads, partial.free_loads);
                fill(c.wiring, before->wiring, partial.wiring);
                if (!partial.next_mode) c.next_mode = before->next_mode;
            }
            auto after = std::make_unique<Interpreter>(*now);
            if (!before || !after->step(c).broken_rule.empty()) {
                const Proposal p = world.propose(*now, wish_for(m, partial, wanted), [&](const Choices& other) {
                    return as_chosen(partial, wanted, other);
                });
                if (p.choices) c = *p.choices;
                after = std::make_unique<Interpreter>(*now);
                why = after->step(c).broken_rule;
                if (!why.empty()) return std::nullopt;
            }
            now = std::move(after);
            append(piece, c);
            before = c;
        }
        for (auto& part : piece.segments) out.segments.push_back(std::move(part));
    }
    return out;
}

}  // namespace lanyard::certify
