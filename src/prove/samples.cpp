#include "prove/samples.hpp"

#include <map>
#include <random>

#include "encode/unroll.hpp"

namespace lanyard {

namespace {

class Walker {
   public:
    Walker(const System& s, unsigned seed) : system_(s), ctx_(*s.ctx), solver_(ctx_), dice_(seed) {
        solver_.add(s.all_rules());
        for (const auto& v : s.state) bounds_.push_back(v.is_clock ? v.bound : 0);
    }

    Sample initial() {
        Sample out;
        solver_.check();
        for (const auto& v : system_.state) out.push_back(read(v.init));
        return out;
    }

    // A random step from `from`; false where there is none.
    bool step(Sample& state, std::vector<Sample>& out) {
        std::vector<z3::expr> here = at(state), wishes = here;
        add_wishes(wishes);
        Answer a = solver_.check(wishes, step_budget);
        spent_ += solver_.work() + 500;
        while (a == Answer::unsatisfiable && wishes.size() > here.size()) {
            wishes.erase(wishes.begin() + static_cast<long>(here.size() + (wishes.size() - here.size()) / 2), wishes.end());
            a = solver_.check(wishes, step_budget);
            spent_ += solver_.work() + 500;
        }
        if (a != Answer::satisfiable) return false;
        for (std::size_t i = 0; i < state.size(); ++i) state[i] = read(system_.state[i].next);
        out.push_back(state);
        return true;
    }
    std::uint64_t spent() const { return spent_; }

   private:
    static constexpr std::uint64_t step_budget = 300'000;

    std::uint64_t roll(std::uint64_t n) { return dice_() % n; }
    Rational read(const z3::expr& e) {
        const z3::expr v = solver_.value(e);
        if (v.is_bool()) return v.is_true() ? 1 : 0;
        return exact(v);
    }
    z3::expr value(std::size_t i, const Rational& r) {
        const z3::sort sort = system_.state[i].cur.get_sort();
        if (sort.is_bool()) return ctx_.bool_val(r != 0);
        if (sort.is_int()) return ctx_.int_val(r.get_num().get_str().c_str());
        return ctx_.real_val(r.get_str().c_str());
    }
    std::vector<z3::expr> at(const Sample& state) {
        // Through one constant an assumption, so that the assumptions are literals.
        std::vector<z3::expr> out;
        for (std::size_t i = 0; i < state.size(); ++i) out.push_back(literal(system_.state[i].cur == value(i, state[i])));
        return out;
    }
    z3::expr literal(const z3::expr& e) {
        const auto found = literals_.find(e.id());
        if (found != literals_.end()) return found->second.second;
        const z3::expr name = ctx_.bool_const(("walk!" + std::to_string(literals_.size())).c_str());
        solver_.add(z3::implies(name, e));
        literals_.emplace(e.id(), std::make_pair(e, name));
        return name;
    }
    // The most wanted first; the second half is dropped when they cannot all be met.
    void add_wishes(std::vector<z3::expr>& wishes) {
        std::vector<z3::expr> some;
        static constexpr long leaps[] = {1, 1, 2, 10, 50, 100, 300, 1000};
        const long k = leaps[roll(8)];
        some.push_back(literal(k == 1 ? system_.k == 1 : system_.k >= ctx_.int_val(static_cast<int64_t>(k))));
        for (const auto& i : system_.inputs)
            if (i.var.is_bool() && roll(2) == 0) some.push_back(literal(roll(2) == 0 ? i.var : !i.var));
        for (const auto& v : system_.state)
            if (v.cur.is_bool() && roll(4) == 0) some.push_back(literal(roll(2) == 0 ? v.next : !v.next));
        for (std::size_t n = some.size(); n > 1; --n) std::swap(some[n - 1], some[roll(n)]);
        for (const auto& w : some) wishes.push_back(w);
    }

    const System& system_;
    z3::context& ctx_;
    Solver solver_;
    std::mt19937_64 dice_;
    std::vector<long> bounds_;
    std::map<unsigned, std::pair<z3::expr, z3::expr>> literals_;
    std::uint64_t spent_ = 0;
};

}  // namespace

std::vector<Sample> sample_states(const System& s, unsigned seed, int walks, int length, std::uint64_t budget,
                                  std::uint64_t* spent) {
    Walker walker(s, seed);
    std::vector<Sample> out{walker.initial()};
    const Sample start = out.front();
    for (int w = 0; w < walks; ++w) {
        Sample state = start;
        for (int n = 0; n < length && walker.spent() < budget; ++n)
            if (!walker.step(state, out)) break;
    }
    if (spent) *spent = walker.spent();
    return out;
}

}  // namespace lanyard
