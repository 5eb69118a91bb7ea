#include "ohm_law.hpp"

#include <cmath>
#include <sstream>
#include <utility>

namespace lanyard::test::ohm {

namespace {

// More digits than a double: leaks of a giga-ohm stand beside wires of a micro-ohm.
using Real = long double;

class Matrix {
 public:
    explicit Matrix(std::size_t n) : n_(n), a_(n * (n + 1), 0) {}
    Real& at(std::size_t row, std::size_t column) { return a_[row * (n_ + 1) + column]; }
    Real& right(std::size_t row) { return at(row, n_); }

    // Gauss, pivot by column; false if it is singular.
    bool solve(std::vector<Real>& x) {
        for (std::size_t k = 0; k < n_; ++k) {
            std::size_t best = k;
            for (std::size_t r = k + 1; r < n_; ++r)
                if (std::fabs(at(r, k)) > std::fabs(at(best, k))) best = r;
            if (at(best, k) == 0) return false;
            if (best != k)
                for (std::size_t c = k; c <= n_; ++c) std::swap(at(best, c), at(k, c));
            for (std::size_t r = k + 1; r < n_; ++r) {
                if (at(r, k) == 0) continue;
                const Real f = at(r, k) / at(k, k);
                for (std::size_t c = k; c <= n_; ++c) at(r, c) -= f * at(k, c);
            }
        }
        x.assign(n_, 0);
        for (std::size_t k = n_; k-- > 0;) {
            Real sum = right(k);
            for (std::size_t c = k + 1; c < n_; ++c) sum -= at(k, c) * x[c];
            x[k] = sum / at(k, k);
        }
        return true;
    }

 private:
    std::size_t n_;
    std::vector<Real> a_;
};

// Node 0 has no row.
void stamp(Matrix& m, int a, int b, Real siemens) {
    for (const auto& [p, q] : {std::pair{a, b}, std::pair{b, a}}) {
        if (p == 0) continue;
        m.at(static_cast<std::size_t>(p - 1), static_cast<std::size_t>(p - 1)) += siemens;
        if (q != 0) m.at(static_cast<std::size_t>(p - 1), static_cast<std::size_t>(q - 1)) -= siemens;
    }
}

// plus - minus - ohm * current = volt, where the current flows through the battery from plus to minus.
void stamp(Matrix& m, std::size_t row, const Battery& b) {
    const auto end = [&](int node, Real sign) {
        if (node == 0) return;
        m.at(static_cast<std::size_t>(node - 1), row) += sign;
        m.at(row, static_cast<std::size_t>(node - 1)) += sign;
    };
    end(b.plus, 1);
    end(b.minus, -1);
    m.at(row, row) -= static_cast<Real>(b.ohm);
    m.right(row) = static_cast<Real>(b.volt);
}

bool solve(const Network& n, const std::vector<bool>& passing, std::vector<Real>& x) {
    const auto inner = static_cast<std::size_t>(n.nodes - 1);
    Matrix m(inner + n.batteries.size());
    for (std::size_t k = 0; k < inner; ++k) m.at(k, k) += Real(1) / leak;
    for (const auto& r : n.resistors)
        if (r.a != r.b) stamp(m, r.a, r.b, 1 / static_cast<Real>(r.ohm));
    for (std::size_t k = 0; k < n.diodes.size(); ++k)
        if (passing[k] && n.diodes[k].anode != n.diodes[k].cathode)
            stamp(m, n.diodes[k].anode, n.diodes[k].cathode, 1 / static_cast<Real>(n.diodes[k].ohm));
    for (std::size_t k = 0; k < n.batteries.size(); ++k) stamp(m, inner + k, n.batteries[k]);
    return m.solve(x);
}

}  // namespace

std::optional<std::vector<double>> voltages_of(const Network& n) {
    std::vector<bool> passing(n.diodes.size(), false);
    std::vector<Real> x;
    for (int tries = 0; tries < 5000; ++tries) {
        if (!solve(n, passing, x)) return std::nullopt;
        std::vector<double> v{0};
        for (int k = 0; k + 1 < n.nodes; ++k) v.push_back(static_cast<double>(x[static_cast<std::size_t>(k)]));
        const auto volt = [&](int node) { return node == 0 ? Real(0) : x[static_cast<std::size_t>(node - 1)]; };
        std::size_t wrong = 0;
        for (; wrong < n.diodes.size(); ++wrong) {
            const Real drop = volt(n.diodes[wrong].anode) - volt(n.diodes[wrong].cathode);
            if (passing[wrong] ? drop < -1e-12L : drop > 1e-9L) break;
        }
        if (wrong == n.diodes.size()) return v;
        passing[wrong] = !passing[wrong];
    }
    return std::nullopt;
}

std::string spice_of(const Network& n, const std::string& title) {
    std::ostringstream out;
    out.precision(17);
    out << "* " << title << "\n";
    for (std::size_t k = 0; k < n.resistors.size(); ++k)
        out << "R" << k << " " << n.resistors[k].a << " " << n.resistors[k].b << " " << n.resistors[k].ohm << "\n";
    for (std::size_t k = 0; k < n.batteries.size(); ++k) {
        const Battery& b = n.batteries[k];
        out << "V" << k << " inside" << k << " " << b.minus << " " << b.volt << "\n";
        out << "RV" << k << " inside" << k << " " << b.plus << " " << b.ohm << "\n";
    }
    // A switch that the voltage across itself closes: an ideal diode with a resistance.
    for (std::size_t k = 0; k < n.diodes.size(); ++k) {
        const Diode& d = n.diodes[k];
        out << "B" << k << " " << d.anode << " " << d.cathode << " I=max(V(" << d.anode << "," << d.cathode << "),0)/"
            << d.ohm << "\n";
    }
    for (int k = 1; k < n.nodes; ++k) out << "RL" << k << " " << k << " 0 " << leak << "\n";
    out << ".options reltol=1e-9 abstol=1e-9 vntol=1e-9 itl1=1000 gmin=1e-15\n.control\nset numdgt=12\nop\n";
    for (int k = 1; k < n.nodes; ++k) out << "print v(" << k << ")\n";
    out << "quit 0\n.endc\n.end\n";
    return out.str();
}

}  // namespace lanyard::test::ohm
