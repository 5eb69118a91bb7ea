// Why a Boolean expression is what it is, and where numbers come from.
#include <algorithm>

#include "report/explainer.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

constexpr std::size_t longest_name = 44;
constexpr int usual_places = 3;
constexpr int most_places = 9;

struct ExpressionWalker : Walker {
    List truth(const Expr& e, long scan, const std::string& own_name = "") {
        if (told_.budget_exhausted()) return {};
        if (changes_) scan = film_.since(e, scan);
        const bool value = film_.truth(e, film_.at(scan));
        switch (class_of(e.op)) {
            case OpClass::leaf:
                if (e.op == Op::last && scan > 0) --scan;
                return e.op == Op::signal || e.op == Op::last ? List{signal(e.signal, scan)} : List{};
            case OpClass::logic:
                return logic(e, scan, value);
            case OpClass::comparison:
                return comparison(e, scan);
            case OpClass::clock:
            case OpClass::latch:
            case OpClass::edge:
            case OpClass::counter:
            case OpClass::band:
            case OpClass::previous:
                return ask_.element(e, scan, own_name.empty() ? short_text(m_, e, longest_name) : own_name);
            case OpClass::arithmetic:
            case OpClass::table:
            case OpClass::rate:
                return {};
        }
        return {};
    }

    // "100 degC", or the two points of an axis between which the value lies.
    static std::vector<std::size_t> points_at(const std::vector<Rational>& axis, const Rational& at) {
        const auto next = std::lower_bound(axis.begin(), axis.end(), at);
        if (next == axis.end()) return {axis.size() - 1};
        const auto k = static_cast<std::size_t>(next - axis.begin());
        return k == 0 || *next == at ? std::vector{k} : std::vector{k - 1, k};
    }

    // The cells that a table is read from: "fan_map: 100 degC, 40 km/h is 10 %".
    std::string cells_text(const Expr& e, long scan) const {
        const Table& t = m_.tables[e.table];
        const auto points = [&](std::size_t axis, const std::vector<Rational>& values) {
            return points_at(values, std::get<Rational>(film_.value(*e.args[axis], film_.at(scan))));
        };
        const auto text = [&](std::size_t axis, const Rational& at) {
            return operand_value(m_, *e.args[axis], *e.args[axis], at, usual_places);
        };
        std::vector<std::string> cells;
        for (const std::size_t r : points(0, t.rows))
            for (const std::size_t c : t.columns.empty() ? std::vector<std::size_t>{0} : points(1, t.columns))
                cells.push_back(text(0, t.rows[r]) + (t.columns.empty() ? "" : ", " + text(1, t.columns[c])) + " is " +
                                operand_value(m_, e, e, t.cells[r][c], usual_places));
        return t.name + " says: " + joined(cells, "; ");
    }

    // Where the numbers come from. What stands alone in a comparison has been told by it.
    void numbers(const Expr& e, long scan, List& out) {
        if (told_.budget_exhausted()) return;
        if (e.op == Op::table) {
            Reason r{cells_text(e, scan), {}};
            const Deeper deeper(told_);
            operand_numbers(e, scan, r.because);
            out.push_back(std::move(r));
            return;
        }
        if (e.op == Op::signal) {
            if (!tell(e.signal, scan)) return;
            for (auto& r : ask_.why(e.signal, scan)) out.push_back(std::move(r));
            return;
        }
        operand_numbers(e, scan, out);
    }

    void operand_numbers(const Expr& e, long scan, List& out) {
        for (const auto& a : e.args) {
            if (a->op == Op::signal && !is_told(a->signal, scan))
                out.push_back(signal(a->signal, scan));
            else if (a->op != Op::signal && a->type.kind == TypeKind::number)
                numbers(*a, scan, out);
        }
    }

    List logic(const Expr& e, long scan, bool value) {
        static_assert(size_of(OpClass::logic) == 6);
        if (e.op == Op::not_) return truth(*e.args[0], scan);
        if (e.op == Op::and_) return operands(e, scan, value, false);
        if (e.op == Op::or_) return operands(e, scan, !value, true);
        if (e.op == Op::vote) return operands(e, scan, false, value);
        return e.op == Op::implies ? implication(e, scan) : operands(e, scan, true, true);
    }

    // All operands, or those only that have the wanted value. Of changes those that came about now, if any did: the
    // others have been so before without it.
    List operands(const Expr& e, long scan, bool all, bool wanted) {
        List out;
        const auto counts = [&](const ExprPtr& a) { return all || film_.truth(*a, film_.at(scan)) == wanted; };
        const auto is_new = [&](const ExprPtr& a) { return counts(a) && film_.since(*a, scan) == scan; };
        const bool new_ones = changes_ && std::any_of(e.args.begin(), e.args.end(), is_new);
        for (const auto& a : e.args) {
            if (new_ones ? !is_new(a) : !counts(a)) continue;
            for (auto& r : truth(*a, scan)) out.push_back(std::move(r));
        }
        return out;
    }

    List implication(const Expr& e, long scan) {
        const Frame& frame = film_.at(scan);
        if (!film_.truth(*e.args[0], frame)) return truth(*e.args[0], scan);
        if (film_.truth(*e.args[1], frame)) return truth(*e.args[1], scan);
        return operands(e, scan, true, true);
    }

    std::string side(const Expr& e, const Expr& other, long scan) const {
        const auto number = [&](const Expr& x) { return std::get<Rational>(film_.value(x, film_.at(scan))); };
        const Rational mine = number(e);
        std::string text = operand_value(m_, e, other, mine, usual_places);
        // What differs by less than is usually shown must not look equal.
        const bool looks_equal = text == operand_value(m_, other, e, number(other), usual_places);
        if (looks_equal && mine != number(other)) text = operand_value(m_, e, other, mine, most_places);
        if (e.op == Op::number) return text;
        return (e.op == Op::signal ? m_.name_of(e.signal) + " " : text_of(m_, e) + " = ") + text;
    }

    // Says nothing if the same has been so ever since.
    std::string when_so(const Expr& e, long scan) const {
        if (changes_) return when(scan);
        const auto& frames = film_.frames();
        const bool value = film_.truth(e, film_.at(scan));
        for (std::size_t k = film_.index_at(scan); k < frames.size() && frames[k].scan <= now_; ++k)
            if (film_.truth(e, frames[k]) != value) return when(scan);
        return side(*e.args[0], *e.args[1], scan) == side(*e.args[0], *e.args[1], now_) ? "" : when(scan);
    }

    // What moves on a line is on one side of a number throughout if it is so at both ends.
    bool turns_at_ends(const Expr& e) const {
        const auto is_plain = [this](const ExprPtr& a) {
            if (a->op != Op::signal) return a->op == Op::number;
            const SignalKind kind = m_.signal(a->signal).kind;
            return kind == SignalKind::quantity || kind == SignalKind::reading;
        };
        return e.op != Op::eq && e.op != Op::ne && std::all_of(e.args.begin(), e.args.end(), is_plain);
    }

    List comparison(const Expr& e, long scan) {
        const Expr& left = *e.args[0];
        const Expr& right = *e.args[1];
        if (left.type.kind == TypeKind::boolean) return operands(e, scan, true, true);
        const bool value = film_.truth(e, film_.at(scan));
        if (left.type.kind == TypeKind::mode) {
            const bool running = (left.op == Op::signal ? right : left).mode == Mode::running;
            if (running && value == (e.op == Op::ne)) return ask_.why_not_running(scan);
            return ask_.why_turning(scan);
        }
        Reason r;
        r.scan = film_.since(e, scan);
        const std::string when = when_so(e, scan);
        // "t is 20 degC", and not "t 20 degC is 20 degC".
        const bool equal = value == (e.op == Op::eq) && (e.op == Op::eq || e.op == Op::ne);
        const bool is_plain = equal && left.op == Op::signal && right.op == Op::number;
        r.text = (is_plain ? m_.name_of(left.signal) : side(left, right, scan)) + " is " +
                 comparison_words(e.op, value) + side(right, left, scan) + when;
        const Deeper deeper(told_);
        const int said = told_.since_begun;
        for (const Expr* s : {&left, &right}) numbers(*s, scan, r.because);
        if (when.empty() && turns_at_ends(e) && never_came(e, value, said)) {
            ++told_.since_begun;
            // "oil 3 psi, not above 15 psi since the run began"
            r.text = side(left, right, scan) + ", " + comparison_words(e.op, value) + side(right, left, scan) +
                     " since the run began";
        }
        return {r};
    }
};

}  // namespace

std::vector<Reason> Explainer::truth(const Expr& e, long scan, const std::string& own_name) {
    return ExpressionWalker{walker_}.truth(e, scan, own_name);
}

std::vector<Reason> Explainer::numbers(const Expr& e, long scan) {
    std::vector<Reason> out;
    ExpressionWalker{walker_}.numbers(e, scan, out);
    return out;
}

}  // namespace lanyard::report
