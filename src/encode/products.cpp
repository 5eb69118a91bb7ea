// Products of two numbers, for two-way tables: linear rules that hold of u * v, as fine as they have to be.
//
// What it decides: nothing; uv is a variable, and for chosen points (r, c) the plane that touches the product there,
// t = r v + c u - r c, bounds it: u v - t = (u - r)(v - c), so uv >= t where u - r and v - c have the same sign, and
// uv <= t where they have not. In a cell between the rows and columns of all tables that look at the same two numbers,
// the planes at its four corners count (McCormick's hull); elsewhere those at which a search has refined
// (prove/coarse.cpp).
//
// Why it is sound: the true product obeys every rule, whatever the points, so no run is lost and what is proved holds.
// On the lines u = r and v = c the rules leave uv no choice; refutations are searched there (System::grid) and
// replayed. In a cell the four planes at its corners are the convex hull of the product (McCormick). Hence what
// compares two sums of such tables - "duty never falls as it gets hotter": table(m, a + 5 K, b) >= table(m, a, b) - is
// decided without any refinement: its two sides are one linear form on each cell between the lines of both, lowest in a
// corner.
//
// When it gives up: a claim that binds several inequalities together, or cuts the cells slantwise, needs refinement,
// and one that is just so true along a curve is never fine enough.
//
// G. P. McCormick, "Computability of global solutions to factorable nonconvex programs: Part I", Math. Programming 10
// (1976) 147-175. Points taken from counterexamples: A. Cimatti, A. Griggio, A. Irfan, M. Roveri, R. Sebastiani,
// "Incremental linearization for satisfiability and verification modulo nonlinear arithmetic and transcendental
// functions", ACM Trans. Computational Logic 19 (2018).
// Tested by: tests/encode/differential_test.cpp
#include "encode/products.hpp"

#include <algorithm>
#include <array>

namespace lanyard::encode {

namespace {

// Is `a` a multiple of the sum `of`?
bool multiple(const std::vector<Affine::Term>& of, const Affine& a) {
    if (of.size() != a.terms.size()) return false;
    std::optional<Rational> scale;
    for (const auto& t : a.terms) {
        const auto same = std::find_if(of.begin(), of.end(),
                                       [&](const Affine::Term& o) { return same_expression(*o.what, *t.what); });
        if (same == of.end()) return false;
        const Rational s = t.coefficient / same->coefficient;
        if (scale && *scale != s) return false;
        scale = s;
    }
    return true;
}

std::string label_of(std::set<std::string> tables, const std::set<std::string>& others) {
    tables.insert(others.begin(), others.end());
    std::string label;
    for (const auto& t : tables) label += (label.empty() ? "table " : ", table ") + t;
    return label;
}

}  // namespace

// Numbered as they are met, which is the same order whenever the same question is encoded.
std::size_t TableProducts::core(const Affine& a, const Owner& who) {
    for (std::size_t i = 0; i < cores_.size(); ++i)
        if (multiple(cores_[i].terms, a)) return i;
    const Rational scale = a.terms.front().coefficient;
    Core out{{}, rational(0), "number" + std::to_string(cores_.size())};
    z3::expr_vector parts(ctx_);
    for (const auto& t : a.terms) {
        out.terms.push_back({t.what, t.coefficient / scale});
        const z3::expr value = meaning_.number(*t.what, who).first;
        parts.push_back(t.coefficient == scale ? value : rational(t.coefficient / scale) * value);
    }
    out.value = parts.size() == 1 ? parts[0] : z3::sum(parts);
    if (a.terms.size() == 1 && a.terms.front().what->op == Op::signal)
        out.name = m_.name_of(a.terms.front().what->signal);
    cores_.push_back(std::move(out));
    return cores_.size() - 1;
}

TableProducts::Factor TableProducts::factor(const Expr& e, const Owner& who) {
    const Affine a = affine(e, m_, !power_.may_be_lost());
    if (a.terms.empty()) return {std::nullopt, 0, a.constant};
    const std::size_t i = core(a, who);
    for (const auto& t : a.terms)
        if (same_expression(*t.what, *cores_[i].terms.front().what)) return {i, t.coefficient, a.constant};
    return {i, 1, a.constant};  // not met: the core holds every term
}

TableProducts::Multiplied& TableProducts::multiplied(std::size_t u, std::size_t v) {
    const auto found = products_.find({u, v});
    if (found != products_.end()) return found->second;
    const std::string factors = cores_[u].name + "." + cores_[v].name;
    const z3::expr uv = s_.input({StateRole::product, Whole::run, products_.size()}, ctx_.real_sort(), factors);
    Product p{"product." + factors, cores_[u].value, cores_[v].value, uv, truth(false), {}, {}};
    return products_.emplace(std::pair{u, v}, Multiplied{std::move(p), {}, {}, z3::expr_vector(ctx_), {}})
        .first->second;
}

z3::expr TableProducts::product(const Expr& x, const Expr& y, const Table& t, const Owner& who) {
    const z3::expr nx = meaning_.number(x, who).first, ny = meaning_.number(y, who).first;
    Factor fx = factor(x, who), fy = factor(y, who);
    if (!fx.core) return rational(fx.shift) * ny;
    if (!fy.core) return rational(fy.shift) * nx;
    const bool swapped = *fx.core > *fy.core;
    Multiplied& both = swapped ? multiplied(*fy.core, *fx.core) : multiplied(*fx.core, *fy.core);
    auto& rows = swapped ? both.vs : both.us;
    auto& columns = swapped ? both.us : both.vs;
    for (const auto& r : t.rows) rows.insert((r - fx.shift) / fx.scale);
    for (const auto& c : t.columns) columns.insert((c - fy.shift) / fy.scale);
    both.tables.insert(t.name);
    // A cell that is not bent needs no product.
    for (std::size_t i = 0; i + 1 < t.rows.size(); ++i)
        for (std::size_t j = 0; j + 1 < t.columns.size(); ++j)
            if (t.cells[i][j] + t.cells[i + 1][j + 1] != t.cells[i + 1][j] + t.cells[i][j + 1])
                both.used.push_back(nx > rational(t.rows[i]) && nx < rational(t.rows[i + 1]) &&
                                    ny > rational(t.columns[j]) && ny < rational(t.columns[j + 1]));
    const Core& cx = cores_[*fx.core];
    const Core& cy = cores_[*fy.core];
    return rational(fx.scale * fy.scale) * both.product.uv + rational(fx.scale * fy.shift) * cx.value +
           rational(fx.shift * fy.scale) * cy.value + rational(fx.shift * fy.shift);
}

void TableProducts::touch(const std::string& label, const Product& p, const Rational& u, const Rational& v) {
    const z3::expr r = rational(u), c = rational(v);
    const z3::expr plane = r * p.v + c * p.u - rational(u * v);
    s_.rule(label, z3::implies(p.u >= r && p.v >= c, p.uv >= plane));
    s_.rule(label, z3::implies(p.u <= r && p.v <= c, p.uv >= plane));
    s_.rule(label, z3::implies(p.u >= r && p.v <= c, p.uv <= plane));
    s_.rule(label, z3::implies(p.u <= r && p.v >= c, p.uv <= plane));
}

// The same four planes for a cell and nothing else: far fewer are in force at once than if each touched everywhere.
void TableProducts::hull(const std::string& label, const Product& p, const Interval& u, const Interval& v) {
    const z3::expr a = rational(u.lo), b = rational(u.hi), c = rational(v.lo), d = rational(v.hi);
    const z3::expr inside = p.u >= a && p.u <= b && p.v >= c && p.v <= d;
    const auto plane = [&](const Rational& r, const Rational& s) {
        return rational(r) * p.v + rational(s) * p.u - rational(r * s);
    };
    s_.rule(label, z3::implies(inside, p.uv >= plane(u.lo, v.lo) && p.uv >= plane(u.hi, v.hi) &&
                                           p.uv <= plane(u.hi, v.lo) && p.uv <= plane(u.lo, v.hi)));
}

void TableProducts::finish() {
    for (auto& [factors, m] : products_) {
        Product& p = m.product;
        const std::string label = label_of(m.tables, {});
        for (auto b = m.us.begin(), a = b++; b != m.us.end(); a = b++)
            for (auto d = m.vs.begin(), c = d++; d != m.vs.end(); c = d++) hull(label, p, {*a, *b}, {*c, *d});
        for (const auto& t : s_.options().tangents) {
            if (t.product != p.name) continue;
            touch(label, p, t.u, t.v);
            m.us.insert(t.u);
            m.vs.insert(t.v);
        }
        p.used = any_of(m.used);
        p.us.assign(m.us.begin(), m.us.end());
        p.vs.assign(m.vs.begin(), m.vs.end());
        z3::expr_vector on_line(ctx_);
        on_line.push_back(!p.used);
        for (const auto& u : p.us) on_line.push_back(p.u == rational(u));
        for (const auto& v : p.vs) on_line.push_back(p.v == rational(v));
        s_.add_product(p, any_of(on_line));
    }
    for (auto a = products_.begin(); a != products_.end(); ++a)
        for (auto b = products_.begin(); b != a; ++b) differences(*a, *b);
}

// u v - u' v = (u - u') v is a product too, and its line u = u' lies slantwise in the cells of both: "hotter never
// means less" of any two temperatures.
void TableProducts::differences(const Factored& a, const Factored& b) {
    const auto sides = [](const Factored& f) {
        return std::array{std::pair{f.first.first, f.first.second}, std::pair{f.first.second, f.first.first}};
    };
    for (const auto& [u, v] : sides(a))
        for (const auto& [w, same] : sides(b)) {
            const auto& [x, y] = std::pair{cores_[u], cores_[w]};
            if (v != same || x.terms.front().what->type.dimension != y.terms.front().what->type.dimension) continue;
            const Product d{
                "", x.value - y.value, cores_[v].value, a.second.product.uv - b.second.product.uv, truth(true), {}, {}};
            std::set<Rational> lines = v == a.first.second ? a.second.vs : a.second.us;
            lines.insert((v == b.first.second ? b.second.vs : b.second.us).begin(),
                         (v == b.first.second ? b.second.vs : b.second.us).end());
            for (const auto& c : lines) touch(label_of(a.second.tables, b.second.tables), d, 0, c);
        }
}

}  // namespace lanyard::encode
