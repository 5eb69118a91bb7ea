#include "physics.hpp"

#include <algorithm>
#include <cmath>

namespace lanyard::test {

namespace {

constexpr double conducts = 1e6, leaks = 1e-9, battery = 12, inside = 1e7, blows = 1e4;  // S, S, V, S, A

// G v = i by elimination with the largest pivot first; G is symmetric and, by the leaks, regular.
std::vector<double> solve(std::vector<std::vector<double>> g, std::vector<double> i) {
    const std::size_t n = i.size();
    for (std::size_t c = 0; c < n; ++c) {
        std::size_t best = c;
        for (std::size_t r = c + 1; r < n; ++r)
            if (std::abs(g[r][c]) > std::abs(g[best][c])) best = r;
        std::swap(g[c], g[best]);
        std::swap(i[c], i[best]);
        for (std::size_t r = c + 1; r < n; ++r) {
            const double f = g[r][c] / g[c][c];
            for (std::size_t k = c; k < n; ++k) g[r][k] -= f * g[c][k];
            i[r] -= f * i[c];
        }
    }
    for (std::size_t c = n; c-- > 0;) {
        for (std::size_t k = c + 1; k < n; ++k) i[c] -= g[c][k] * i[k];
        i[c] /= g[c][c];
    }
    return i;
}

class Network {
 public:
    Network(const Model& m, const Positions& where, sim::Dice& dice)
        : c_(m.circuit), closed_(where.closed(m)), both_ways_(where.both_ways(m)), live_(where.live(m)) {
        for (const auto& b : c_.branches) {
            const bool consumer = b.kind == BranchKind::load || b.kind == BranchKind::coil;
            g_.push_back(consumer ? 0.1 + static_cast<double>(dice.below(100)) / 10 : conducts);
            if (b.kind == BranchKind::diode && !both_ways_[g_.size() - 1]) diodes_.push_back(g_.size() - 1);
        }
    }

    std::optional<Voltages> settle() {
        for (std::size_t tries = 0; tries <= c_.branches.size(); ++tries) {
            if (!with_diodes()) return std::nullopt;
            std::optional<std::size_t> blown;
            bool shorted = false;
            for (std::size_t b = 0; b < g_.size(); ++b) {
                if (!closed_[b] || std::abs(across(b)) * g_[b] < blows) continue;
                shorted = true;
                if (c_.branches[b].kind == BranchKind::fuse && (!blown || low_end(b) < low_end(*blown))) blown = b;
            }
            if (blown) {
                closed_[*blown] = false;
                continue;
            }
            if (shorted) return std::nullopt;
            Voltages out{v_, {}};
            for (std::size_t b = 0; b < g_.size(); ++b) out.consumers.push_back(closed_[b] ? across(b) : 0);
            return out;
        }
        return std::nullopt;
    }

 private:
    double across(std::size_t b) const { return v_[at(c_.branches[b].from)] - v_[at(c_.branches[b].to)]; }

    double low_end(std::size_t b) const { return std::min(v_[at(c_.branches[b].from)], v_[at(c_.branches[b].to)]); }

    // A state of the diodes that fits the voltages.
    bool with_diodes() {
        for (unsigned on = 0; on < (1U << diodes_.size()); ++on) {
            std::vector<double> g = g_;
            for (std::size_t d = 0; d < diodes_.size(); ++d)
                g[diodes_[d]] = ((on >> d) & 1U) != 0 ? conducts : leaks / 1000;
            v_ = solve_with(g);
            bool fits = true;
            for (std::size_t d = 0; d < diodes_.size(); ++d) {
                if (!closed_[diodes_[d]]) continue;
                const double v = across(diodes_[d]);
                fits = fits && (((on >> d) & 1U) != 0 ? v > -1e-12 : v < 1e-9);
            }
            if (fits) return true;
        }
        return false;
    }

    std::vector<double> solve_with(const std::vector<double>& g) const {
        const std::size_t n = c_.nodes.size();
        std::vector<std::vector<double>> m(n, std::vector<double>(n));
        std::vector<double> i(n);
        const auto join = [&](std::size_t a, std::size_t b, double s) {
            m[a][a] += s;
            m[b][b] += s;
            m[a][b] -= s;
            m[b][a] -= s;
        };
        for (std::size_t k = 0; k < n; ++k) m[k][k] += leaks;
        m[0][0] += 1e12;  // the chassis is the zero
        for (std::size_t b = 0; b < g.size(); ++b)
            if (closed_[b]) join(at(c_.branches[b].from), at(c_.branches[b].to), g[b]);
        for (std::size_t s = 0; s < c_.sources.size(); ++s) {
            if (!live_[s]) continue;
            const std::size_t plus = at(c_.sources[s].plus), minus = at(c_.sources[s].minus);
            join(plus, minus, inside);
            i[plus] += battery * inside;
            i[minus] -= battery * inside;
        }
        return solve(std::move(m), std::move(i));
    }

    const Circuit& c_;
    std::vector<bool> closed_, both_ways_, live_;
    std::vector<double> g_, v_;
    std::vector<std::size_t> diodes_;
};

}  // namespace

std::optional<Voltages> voltages(const Model& m, const Positions& where, sim::Dice& dice) {
    return Network(m, where, dice).settle();
}

}  // namespace lanyard::test
