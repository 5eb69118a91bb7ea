#include "prove/templates.hpp"

#include <algorithm>
#include <functional>
#include <set>

namespace lanyard::prove {

namespace {

// A truth of the state that may guard a lemma: a memory bit, an engine mode, a step of the driver.
struct Literal {
    z3::expr e;
    std::vector<bool> holds;  // per sample
    bool step = false;        // "the driver is at this step"
    bool of_clock = false;    // says something of a clock: left of an implication and as a guard it is worth little
    bool always() const {
        for (bool b : holds)
            if (!b) return false;
        return true;
    }
    bool never() const {
        for (bool b : holds)
            if (b) return false;
        return true;
    }
};

class Templates {
 public:
    Templates(const System& s, const std::vector<Sample>& samples) : system_(s), ctx_(*s.ctx), samples_(samples) {
        for (std::size_t i = 0; i < s.state.size(); ++i) {
            const StateVar& v = s.state[i];
            if (v.cur.is_bool())
                bits_.push_back(i);
            else if (v.cur.is_int())
                clocks_.push_back(i);
        }
        make_literals();
    }

    std::vector<Candidate> all() {
        for (std::size_t i : clocks_) {
            add(clock(i) >= 0);
            add(clock(i) <= number(system_.state[i].bound));
        }
        for (const auto& l : literals_)
            if (l.always()) add(l.e);
        implications();
        guarded_bounds();
        differences();
        return std::move(out_);
    }

 private:
    using Guards = std::vector<const Literal*>;
    z3::expr clock(std::size_t i) const { return system_.state[i].cur; }
    z3::expr number(long n) { return ctx_.int_val(static_cast<int64_t>(n)); }
    long value(std::size_t sample, std::size_t i) const { return samples_[sample][i]; }
    void add(const z3::expr& e) {
        if (seen_.insert(e.id()).second) out_.push_back({e});
    }
    void literal(const z3::expr& e, const std::function<bool(const Sample&)>& holds, bool of_clock = false) {
        Literal l{e, {}, false, of_clock};
        for (const auto& s : samples_) l.holds.push_back(holds(s));
        if (!l.never()) literals_.push_back(std::move(l));
    }
    void make_literals() {
        for (std::size_t i : bits_) {
            literal(clock(i), [i](const Sample& s) { return s[i] != 0; });
            literal(!clock(i), [i](const Sample& s) { return s[i] == 0; });
        }
        const auto high = system_.place({StateRole::high, Whole::engine});
        const auto low = system_.place({StateRole::low, Whole::engine});
        if (high && low) {
            mode_bits_ = {*high, *low};
            for (const Mode m : all_modes) {
                const std::size_t h = *high, w = *low;
                const bool up = (ordinal(m) & 2) != 0, odd = (ordinal(m) & 1) != 0;
                literal((up ? clock(h) : !clock(h)) && (odd ? clock(w) : !clock(w)),
                        [=](const Sample& s) { return (s[h] != 0) == up && (s[w] != 0) == odd; });
            }
        }
        for (std::size_t i : clocks_) {
            const StateVar& v = system_.state[i];
            if (!v.is_clock) {
                steps(i);
                continue;
            }
            const long full = v.bound;
            literal(
                clock(i) == 0, [i](const Sample& s) { return s[i] == 0; }, true);
            literal(
                clock(i) >= 1, [i](const Sample& s) { return s[i] >= 1; }, true);
            literal(
                clock(i) >= number(full), [i, full](const Sample& s) { return s[i] >= full; }, true);
            literal(
                clock(i) < number(full), [i, full](const Sample& s) { return s[i] < full; }, true);
        }
    }
    // Counts, and the driver's steps: each value, and each value together with each engine mode.
    void steps(std::size_t i) {
        const bool of_driver = system_.state[i].key == StateKey{StateRole::step, Whole::claim};
        for (long n = 0; n <= std::min(system_.state[i].bound, 12L); ++n) {
            const z3::expr here = clock(i) == number(n);
            const std::size_t known = literals_.size();
            literal(here, [i, n](const Sample& s) { return s[i] == n; });
            if (literals_.size() > known) literals_.back().step = of_driver;
            if (!mode_bits_ || !of_driver) continue;
            const auto [h, w] = *mode_bits_;
            for (const Mode m : all_modes) {
                const bool up = (ordinal(m) & 2) != 0, odd = (ordinal(m) & 1) != 0;
                literal(here && (up ? clock(h) : !clock(h)) && (odd ? clock(w) : !clock(w)),
                        [=, h = h, w = w](const Sample& s) {
                            return s[i] == n && (s[h] != 0) == up && (s[w] != 0) == odd;
                        });
            }
        }
    }

    void implications() {
        for (std::size_t a = 0; a < literals_.size(); ++a) {
            if (literals_[a].always() || literals_[a].of_clock) continue;
            for (std::size_t b = 0; b < literals_.size(); ++b) {
                if (a == b || literals_[b].always()) continue;
                bool holds = true;
                for (std::size_t n = 0; n < samples_.size() && holds; ++n)
                    holds = !literals_[a].holds[n] || literals_[b].holds[n];
                if (holds) add(!literals_[a].e || literals_[b].e);
            }
        }
    }

    void guarded_bounds() {
        for (const auto& l : literals_) {
            if (l.of_clock) continue;
            for (std::size_t i : clocks_)
                if (system_.state[i].is_clock) bounds(i, {&l});
        }
        within_steps();
    }
    // How long a step of the driver can have lasted while something is, or is not yet, the case.
    void within_steps() {
        const auto time = system_.place({StateRole::in_step, Whole::claim});
        if (!time || !system_.place({StateRole::step, Whole::claim})) return;
        for (const auto& here : literals_)
            for (const auto& l : literals_)
                if (here.step && !l.step && !l.of_clock && !l.always()) {
                    bounds(*time, {&here, &l});
                    for (std::size_t j : clocks_)
                        if (j != *time && system_.state[j].is_clock) difference(*time, j, {&here, &l}, std::nullopt);
                }
    }
    void bounds(std::size_t i, const Guards& guards) {
        long least = system_.state[i].bound, most = 0;
        for (std::size_t n = 0; n < samples_.size(); ++n) {
            if (!all_hold(guards, n)) continue;
            least = std::min(least, value(n, i));
            most = std::max(most, value(n, i));
        }
        if (least > most) return;
        if (least > 0) add(unless(guards, clock(i) >= number(least)));
        if (most < system_.state[i].bound) add(unless(guards, clock(i) <= number(most)));
    }
    static bool all_hold(const Guards& guards, std::size_t sample) {
        for (const auto* g : guards)
            if (!g->holds[sample]) return false;
        return true;
    }
    z3::expr unless(const Guards& guards, const z3::expr& body) {
        z3::expr_vector any(ctx_);
        for (const auto* g : guards) any.push_back(!g->e);
        any.push_back(body);
        return any_of(any);
    }

    // One clock is ahead of another by at most so much, unless the other is full.
    void differences() {
        for (std::size_t i : clocks_)
            for (std::size_t j : clocks_) {
                if (i == j || !system_.state[i].is_clock || !system_.state[j].is_clock) continue;
                const std::optional<long> most = difference(i, j, {}, std::nullopt);
                for (const auto& l : literals_)
                    if (!l.always() && !l.of_clock) difference(i, j, {&l}, most);
            }
    }
    // The greatest difference; a guarded one is worth a lemma only if it is smaller than without the guard.
    std::optional<long> difference(std::size_t i, std::size_t j, const Guards& guards, std::optional<long> beat) {
        const long full = system_.state[j].bound;
        std::optional<long> most;
        for (std::size_t n = 0; n < samples_.size(); ++n) {
            if (value(n, j) >= full || !all_hold(guards, n)) continue;
            const long d = value(n, i) - value(n, j);
            most = most ? std::max(*most, d) : d;
        }
        if (!most || *most >= system_.state[i].bound || (beat && *most >= *beat)) return most;
        add(unless(guards, clock(j) >= number(full) || clock(i) <= clock(j) + number(*most)));
        return most;
    }

    const System& system_;
    z3::context& ctx_;
    const std::vector<Sample>& samples_;
    std::vector<std::size_t> bits_, clocks_;
    std::optional<std::pair<std::size_t, std::size_t>> mode_bits_;
    std::vector<Literal> literals_;
    std::set<unsigned> seen_;
    std::vector<Candidate> out_;
};

}  // namespace

std::vector<Candidate> candidates(const System& s, const std::vector<Sample>& samples) {
    return Templates(s, samples).all();
}

}  // namespace lanyard::prove
