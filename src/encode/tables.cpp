// Look-up tables: exact at their points, linear between, clamped outside.
//
// One way: piecewise linear, exact. Two ways: bilinear inside a cell, that is a linear form in x, y and the product
// x*y. The product is a variable of its own, held by McCormick's four inequalities in each cell. That is the convex
// hull of the graph over the cell, so proofs are sound, and exact where one axis stands on a grid line; refutations are
// searched there (System::grid) and replayed exactly. Between the two a verdict can stay undecided.
// G. P. McCormick, "Computability of global solutions to factorable nonconvex programs: Part I", Math. Programming 10
// (1976) 147-175.
#include "encode/encoder.hpp"
#include "encode/linear.hpp"

namespace lanyard {

// Not exact between grid lines; see the head of this file.
z3::expr Encoder::product(const Expr& x, const Expr& y, const Num& nx, const Num& ny, const Table& t) {
    const auto lx = linear(x, m_, !m_.supply.on);
    const auto ly = linear(y, m_, !m_.supply.on);
    std::optional<z3::expr> xy;
    if (lx && ly && lx->leaf >= 0 && ly->leaf >= 0 && lx->leaf != ly->leaf) {
        // (a u + b)(c v + d) with one variable for u v, shared by all tables that look at u and v.
        const auto key = std::make_pair(lx->leaf, ly->leaf);
        auto found = products_.find(key);
        if (found == products_.end()) {
            const std::string name = "product." + m_.name_of(key.first) + "." + m_.name_of(key.second);
            found = products_.emplace(key, input(name, ctx_.real_sort())).first;
        }
        const z3::expr u = signal_number(lx->leaf).first;
        const z3::expr v = signal_number(ly->leaf).first;
        xy = rational(lx->coefficient * ly->coefficient) * found->second +
             rational(lx->coefficient * ly->constant) * u + rational(lx->constant * ly->coefficient) * v +
             rational(lx->constant * ly->constant);
    } else {
        xy = input("product." + t.name + "." + std::to_string(++name_counts_["product." + t.name]), ctx_.real_sort());
    }
    z3::expr_vector on_grid(ctx_);
    on_grid.push_back(nx.first <= rational(t.rows.front()) || nx.first >= rational(t.rows.back()));
    on_grid.push_back(ny.first <= rational(t.columns.front()) || ny.first >= rational(t.columns.back()));
    for (const auto& r : t.rows) on_grid.push_back(nx.first == rational(r));
    for (const auto& c : t.columns) on_grid.push_back(ny.first == rational(c));
    s_.grid.push_back(any_of(on_grid));
    for (std::size_t i = 0; i + 1 < t.rows.size(); ++i)
        for (std::size_t j = 0; j + 1 < t.columns.size(); ++j) {
            const z3::expr a = rational(t.rows[i]), b = rational(t.rows[i + 1]);
            const z3::expr c = rational(t.columns[j]), d = rational(t.columns[j + 1]);
            const z3::expr& u = nx.first;
            const z3::expr& v = ny.first;
            const z3::expr in_cell = u >= a && u <= b && v >= c && v <= d;
            rule("table " + t.name,
                 z3::implies(in_cell, *xy >= a * v + c * u - a * c && *xy >= b * v + d * u - b * d &&
                                          *xy <= b * v + c * u - b * c && *xy <= a * v + d * u - a * d));
        }
    return *xy;
}

namespace {

// Piecewise linear through (at[i], cells[i]), clamped.
z3::expr one_way(z3::context& ctx, const std::vector<Rational>& at, const std::vector<Rational>& cells,
                 const z3::expr& x) {
    const auto num = [&](const Rational& r) { return ctx.real_val(r.get_str().c_str()); };
    z3::expr out = num(cells.back());
    for (std::size_t i = at.size() - 1; i-- > 0;) {
        const Rational slope = (cells[i + 1] - cells[i]) / (at[i + 1] - at[i]);
        out = z3::ite(x <= num(at[i + 1]), num(cells[i]) + num(slope) * (x - num(at[i])), out);
    }
    return z3::ite(x <= num(at.front()), num(cells.front()), out);
}

}  // namespace

Num Encoder::table(const Expr& e, const Owner& who) {
    const Table& t = m_.tables[static_cast<std::size_t>(e.table)];
    const Num x = number(*e.args[0], who);
    std::vector<Rational> first_column;
    for (const auto& row : t.cells) first_column.push_back(row[0]);
    if (t.columns.empty()) {
        if (x.moving) {
            s_.paths.push_back(x);
            for (const auto& r : t.rows) same(x.first <= rational(r), x.last <= rational(r));
        }
        return {one_way(ctx_, t.rows, first_column, x.first), one_way(ctx_, t.rows, first_column, x.last), x.moving};
    }
    const Num y = number(*e.args[1], who);
    standing(x);
    standing(y);
    const z3::expr xy = product(*e.args[0], *e.args[1], x, y, t);
    // Rows from the last to the first: beyond the last row its own one-way table, then cell by cell.
    z3::expr out = one_way(ctx_, t.columns, t.cells.back(), y.first);
    for (std::size_t i = t.rows.size() - 1; i-- > 0;) {
        const Rational w = t.rows[i + 1] - t.rows[i];
        const z3::expr fx = (x.first - rational(t.rows[i])) / rational(w);
        const auto between = [&](const Rational& low, const Rational& high) {
            return rational(low) + rational(high - low) * fx;
        };
        z3::expr row = between(t.cells[i].back(), t.cells[i + 1].back());
        for (std::size_t j = t.columns.size() - 1; j-- > 0;) {
            const Rational h = t.columns[j + 1] - t.columns[j];
            const Rational v00 = t.cells[i][j], v01 = t.cells[i][j + 1];
            const Rational v10 = t.cells[i + 1][j], v11 = t.cells[i + 1][j + 1];
            const Rational cross = (v00 - v10 - v01 + v11) / (w * h);
            const Rational dx = (v10 - v00) / w - cross * t.columns[j];
            const Rational dy = (v01 - v00) / h - cross * t.rows[i];
            const Rational base =
                v00 - (v10 - v00) / w * t.rows[i] - (v01 - v00) / h * t.columns[j] + cross * t.rows[i] * t.columns[j];
            const z3::expr inside =
                rational(base) + rational(dx) * x.first + rational(dy) * y.first + rational(cross) * xy;
            row = z3::ite(y.first <= rational(t.columns[j + 1]), inside, row);
        }
        row = z3::ite(y.first <= rational(t.columns.front()), between(t.cells[i].front(), t.cells[i + 1].front()), row);
        out = z3::ite(x.first <= rational(t.rows[i + 1]), row, out);
    }
    out = z3::ite(x.first <= rational(t.rows.front()), one_way(ctx_, t.columns, t.cells.front(), y.first), out);
    return {out, out, false};
}

}  // namespace lanyard
