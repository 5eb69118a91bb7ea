// Look-up tables: exact at their points, linear between, clamped outside.
//
// One way: piecewise linear, exact. Two ways: bilinear inside a cell, that is a linear form in x, y and the product
// x * y, which is a variable of its own and relaxed (products.cpp).
#include "encode/expressions.hpp"

namespace lanyard::encode {

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

Num Expressions::table(const Expr& e, const Owner& who) {
    const Table& t = m_.tables[e.table];
    const Num x = number(*e.args[0], who);
    std::vector<Rational> first_column;
    for (const auto& row : t.cells) first_column.push_back(row[0]);
    if (t.columns.empty()) {
        if (x.moving) {
            s_.add_path(x);
            for (const auto& r : t.rows) s_.same(x.first <= rational(r), x.last <= rational(r));
        }
        return {one_way(ctx_, t.rows, first_column, x.first), one_way(ctx_, t.rows, first_column, x.last), x.moving};
    }
    const Num y = number(*e.args[1], who);
    s_.standing(x);
    s_.standing(y);
    const z3::expr xy = products_.product(*e.args[0], *e.args[1], t, who);
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

}  // namespace lanyard::encode
