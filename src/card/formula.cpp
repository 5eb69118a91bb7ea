#include "card/formula.hpp"

#include <algorithm>
#include <set>

#include "card/expressions.hpp"

namespace lanyard::card {

namespace {

constexpr long most_steps = 200'000;

class SetSearch {
 public:
    SetSearch(const TruthTable& table, const std::function<bool(Combination)>& allowed,
              const std::function<bool(Combination)>& liked)
        : table_(table), pairs_(table.conditions()) {
        for (std::size_t c = 0; c < table.conditions(); ++c) collect(c, allowed);
        for (auto& pairs : pairs_) {
            std::stable_sort(pairs.begin(), pairs.end(), [&](const Pair& a, const Pair& b) {
                return liked(a.first) + liked(a.second) > liked(b.first) + liked(b.second);
            });
        }
    }

    TestSet run() {
        TestSet out;
        for (std::size_t c = 0; c < pairs_.size(); ++c) {
            if (pairs_[c].empty())
                out.not_shown.push_back(c);
            else
                wanted_.push_back(c);
        }
        // Few pairs first: they leave the least choice.
        std::stable_sort(wanted_.begin(), wanted_.end(),
                         [this](std::size_t a, std::size_t b) { return pairs_[a].size() < pairs_[b].size(); });
        for (limit_ = wanted_.empty() ? 0 : 2; !go_on(0); ++limit_) {
            if (steps_ > most_steps) out.least = false;
        }
        out.tests.assign(chosen_.begin(), chosen_.end());
        return out;
    }

 private:
    using Pair = std::pair<Combination, Combination>;

    void collect(std::size_t c, const std::function<bool(Combination)>& allowed) {
        std::vector<Combination> on[2], off[2];  // by outcome
        for (Combination v = 0; v < (1U << table_.conditions()); ++v) {
            if (!table_.decides(c, v) || !allowed(v)) continue;
            ((v >> c & 1U) ? on : off)[table_(v)].push_back(v);
        }
        for (int outcome = 0; outcome < 2; ++outcome)
            for (const Combination v : on[outcome])
                for (const Combination w : off[1 - outcome]) pairs_[c].emplace_back(v, w);
    }

    // Those that add least are tried first. Behind the limit of steps the first way that is found is taken.
    bool go_on(std::size_t at) {
        if (at == wanted_.size()) return true;
        ++steps_;
        for (std::size_t more = 0; more <= 2 && chosen_.size() + more <= limit_; ++more) {
            for (const Pair& p : pairs_[wanted_[at]]) {
                const bool first = !chosen_.contains(p.first), second = !chosen_.contains(p.second);
                if (std::size_t{first} + std::size_t{second} != more) continue;
                chosen_.insert(p.first);
                chosen_.insert(p.second);
                if (go_on(at + 1)) return true;
                if (first) chosen_.erase(p.first);
                if (second) chosen_.erase(p.second);
                if (more == 0 || steps_ > most_steps) return false;
            }
        }
        return false;
    }

    const TruthTable& table_;
    std::vector<std::vector<Pair>> pairs_;
    std::vector<std::size_t> wanted_;
    std::set<Combination> chosen_;
    std::size_t limit_ = 0;
    long steps_ = 0;
};

}  // namespace

TruthTable::TruthTable(const ExprPtr& formula, const std::vector<SignalId>& conditions)
    : TruthTable(conditions.size(), [&](Combination v) {
          return value_of(*formula, [&](const Expr& e) {
              const auto condition = std::find(conditions.begin(), conditions.end(), e.signal) - conditions.begin();
              return (v >> condition & 1U) != 0;
          });
      }) {}

TruthTable::TruthTable(std::size_t n, const std::function<bool(Combination)>& f) : n_(n), value_(1U << n) {
    for (Combination v = 0; v < value_.size(); ++v) value_[v] = f(v);
}

TestSet smallest_tests(const TruthTable& table, const std::function<bool(Combination)>& allowed,
                       const std::function<bool(Combination)>& liked) {
    return SetSearch(table, allowed, liked).run();
}

}  // namespace lanyard::card
