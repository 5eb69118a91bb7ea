#include "prove/templates.hpp"

#include <map>
#include <set>

#include "encode/evaluate.hpp"
#include "encode/unroll.hpp"
#include "sim/world.hpp"

namespace lanyard::prove {

namespace {

// Plays the interpreter's runs on the system, scan by scan.
class Sampler {
 public:
    Sampler(const System& s, const Question& q)
        : system_(s), model_(*q.model), constants_(constants_of(s)), program_(constants_, terms_of(s)) {
        for (std::size_t i = 0; i < constants_.size(); ++i) place_.emplace(constants_[i].id(), i);
    }

    void play(const Run& run) {
        state_.clear();
        for (const auto& v : system_.state) state_.push_back(initial(v));
        keep();
        bool quiet = false;
        for (const auto& segment : run.segments)
            for (long n = 0; n < segment.scans; ++n) {
                const std::vector<Rational> before = state_;
                scan(choices_at(segment, n));
                // Where only clocks run, a few of them tell as much as all.
                const bool same = only_clocks_changed(before);
                if (!same || !quiet || n % 37 == 0) keep();
                quiet = same;
            }
        keep();
    }
    std::vector<Sample> take() { return std::move(samples_); }

 private:
    static std::vector<z3::expr> constants_of(const System& s) {
        std::vector<z3::expr> out;
        for (const auto& v : s.state) out.push_back(v.cur);
        for (const auto& i : s.inputs) out.push_back(i.var);
        out.push_back(s.k);
        return out;
    }
    static std::vector<z3::expr> terms_of(const System& s) {
        std::vector<z3::expr> out;
        for (const auto& v : s.state) out.push_back(v.next);
        for (const auto& p : s.products) {
            out.push_back(p.u);
            out.push_back(p.v);
        }
        return out;
    }
    static Rational initial(const StateVar& v) {
        if (v.init.is_bool()) return v.init.is_true() ? 1 : 0;
        return exact(v.init.simplify());
    }

    void scan(const Choices& c) {
        for (std::size_t i = 0; i < state_.size(); ++i) program_.set(i, state_[i]);
        program_.set(constants_.size() - 1, 1L);
        set_inputs(c);
        multiply();
        program_.run();
        for (std::size_t i = 0; i < state_.size(); ++i)
            state_[i] = system_.state[i].cur.is_real() ? program_.number(i) : Rational(program_.whole(i));
    }
    // One round for each, as a table may look at what another says.
    void multiply() {
        const std::size_t first = state_.size();
        for (std::size_t round = 0; round < system_.products.size(); ++round) {
            program_.run();
            for (std::size_t i = 0; i < system_.products.size(); ++i)
                give(system_.products[i].uv, program_.number(first + 2 * i) * program_.number(first + 2 * i + 1));
        }
    }
    void give(const z3::expr& input, const Rational& value) {
        const auto found = place_.find(input.id());
        if (found != place_.end()) program_.set(found->second, value);
    }
    void set_inputs(const Choices& c) {
        const Readback& rb = system_.readback;
        const auto bits = [&](const auto& to, const auto& from) {
            for (const auto i : to.ids())
                if (to[i]) give(*to[i], from[i] ? 1 : 0);
        };
        bits(rb.positions, c.positions);
        bits(rb.missed, c.missed);
        bits(rb.free_loads, c.free_loads);
        bits(rb.wiring_choices, c.wiring);
        bits(rb.fault_begins, c.faults);
        const auto numbers = [&](const auto& to, const auto& from) {
            for (const auto i : to.ids()) {
                if (!to[i]) continue;
                give(to[i]->first, from[i]);
                give(to[i]->last, from[i]);
            }
        };
        numbers(rb.readings, c.readings);
        numbers(rb.quantities, c.quantities);
        if (rb.booted) give(*rb.booted, c.booted ? 1 : 0);
        if (rb.claim_moves_on) give(*rb.claim_moves_on, c.claim_moves_on ? 1 : 0);
        if (rb.next_mode) {
            give(rb.next_mode->first, (ordinal(c.next_mode) & 2) != 0 ? 1 : 0);
            give(rb.next_mode->second, (ordinal(c.next_mode) & 1) != 0 ? 1 : 0);
        }
        contacts(c);
    }
    // A relay moves in this scan when its contact is found elsewhere than before.
    void contacts(const Choices& c) {
        for (const RelayId i : model_.relays.ids()) {
            if (!system_.readback.contacts[i]) continue;
            const SignalId contact = model_.relays[i].contact;
            const auto closed = system_.place({StateRole::closed, contact});
            if (!closed) continue;
            const bool moves = (state_[*closed] != 0) != c.contacts[i];
            for (const auto& input : system_.inputs)
                if (input.key == StateKey{StateRole::moves, contact}) give(input.var, moves ? 1 : 0);
        }
    }
    bool only_clocks_changed(const std::vector<Rational>& before) const {
        for (std::size_t i = 0; i < state_.size(); ++i)
            if (!system_.state[i].is_clock && state_[i] != before[i]) return false;
        return true;
    }
    void keep() {
        Sample s;
        for (std::size_t i = 0; i < state_.size(); ++i)
            s.push_back(system_.state[i].cur.is_real() ? 0 : state_[i].get_num().get_si());
        if (seen_.insert(s).second) samples_.push_back(std::move(s));
    }

    const System& system_;
    const Model& model_;
    std::vector<z3::expr> constants_;
    encode::Evaluator program_;
    std::map<unsigned, std::size_t> place_;
    std::vector<Rational> state_;
    std::set<Sample> seen_;
    std::vector<Sample> samples_;
};

}  // namespace

std::vector<Sample> sample_states(const System& s, const Question& q, unsigned runs, long scans) {
    Sampler sampler(s, q);
    for (unsigned seed = 1; seed <= runs; ++seed)
        sampler.play(random_run(*q.model, q.condition, q.claim, seed, scans, q.before));
    return sampler.take();
}

}  // namespace lanyard::prove
