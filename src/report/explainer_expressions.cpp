// Why a Boolean expression is what it is, and where numbers come from.
#include <algorithm>

#include "report/explainer.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

constexpr std::size_t longest_name = 44;
constexpr int usual_places = 3;
constexpr int most_places = 9;

// What a true and a false comparison say.
std::string comparison_words(Op op, bool truth) {
    if (op == Op::lt) return truth ? " is below " : " is not below ";
    if (op == Op::le) return truth ? " is at most " : " is above ";
    if (op == Op::gt) return truth ? " is above " : " is not above ";
    if (op == Op::ge) return truth ? " is at least " : " is below ";
    return truth == (op == Op::eq) ? " is " : " is not ";
}

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

    // Where the numbers come from. What stands alone in a comparison has been told by it.
    void numbers(const Expr& e, long scan, List& out) {
        if (told_.budget_exhausted()) return;
        if (e.op == Op::signal) {
            if (!tell(e.signal, scan)) return;
            for (auto& r : ask_.why(e.signal, scan)) out.push_back(std::move(r));
            return;
        }
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

    List comparison(const Expr& e, long scan) {
        const Expr& left = *e.args[0];
        const Expr& right = *e.args[1];
        if (left.type.kind == TypeKind::boolean) return operands(e, scan, true, true);
        if (left.type.kind == TypeKind::mode) return {signal(left.op == Op::signal ? left.signal : right.signal, scan)};
        const bool value = film_.truth(e, film_.at(scan));
        Reason r;
        r.scan = film_.since(e, scan);
        r.text = side(left, right, scan) + comparison_words(e.op, value) + side(right, left, scan) + when_so(e, scan);
        const Deeper deeper(told_);
        for (const Expr* s : {&left, &right}) numbers(*s, scan, r.because);
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
