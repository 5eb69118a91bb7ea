#include "lang/print.hpp"

#include <vector>

#include "lang/syntax.hpp"
#include "lang/words.hpp"

namespace lanyard::lang {

namespace {

bool is_decimal(const Rational& value) { return exact_text(value).find('/') == std::string::npos; }

// A difference of 5 degC reads as a temperature; kelvins do not.
std::string shown_symbol(const Unit& unit, bool difference) {
    return difference && unit.symbol == "degC" ? "K" : unit.symbol;
}

std::string with_unit(const std::string& number, const std::string& symbol) {
    return symbol.empty() ? number : number + " " + symbol;
}

class Printer {
 public:
    Printer(const std::function<std::string(SignalId)>& name_of, const std::function<std::string(TableId)>& table_name)
        : name_of_(name_of), table_name_(table_name) {}

    std::string text(const Expr& e) const {
        switch (class_of(e.op)) {
            case OpClass::leaf:
                return leaf(e);
            case OpClass::logic:
            case OpClass::comparison:
            case OpClass::arithmetic:
                if (e.op == Op::vote) return std::to_string(e.count) + " " + op_word(e.op) + " (" + list(e) + ")";
                return precedence(e.op) == strength_of_prefix ? prefix(e) : infix(e);
            case OpClass::table:
                return call(e, table_name_(e.table) + ", " + list(e));
            case OpClass::band:
                return call(e, text(*e.args[0]->args[0]) + ", on " + point(*e.args[0]) + ", off " + point(*e.args[1]));
            case OpClass::clock:
            case OpClass::latch:
            case OpClass::edge:
            case OpClass::counter:
            case OpClass::rate:
            case OpClass::previous:
                return call(e, list(e) + (has_time(e.op) ? ", " + time(e) : "") +
                                   (takes(e.op, Operand::count) ? ", " + std::to_string(e.count) : ""));
        }
        return "";
    }

 private:
    const std::function<std::string(SignalId)>& name_of_;
    const std::function<std::string(TableId)>& table_name_;

    std::string leaf(const Expr& e) const {
        static_assert(size_of(OpClass::leaf) == 5);
        if (e.op == Op::truth) return e.flag ? "TRUE" : "FALSE";
        if (e.op == Op::number) return number(e);
        return e.op == Op::mode ? mode_name(e.mode) : name_of_(e.signal);
    }

    static std::string call(const Expr& e, const std::string& inputs) {
        return std::string(op_word(e.op)) + "(" + inputs + ")";
    }

    std::string list(const Expr& e) const {
        std::string out;
        for (const ExprPtr& a : e.args) out += (out.empty() ? "" : ", ") + text(*a);
        return out;
    }

    std::string point(const Expr& comparison) const {
        return std::string(op_word(comparison.op)) + " " + operand(*comparison.args[1], precedence(Op::add));
    }

    // In brackets unless it binds at least that strongly.
    std::string operand(const Expr& e, int least) const {
        const int strength = precedence(e.op);
        return strength != 0 && strength < least ? "(" + text(e) + ")" : text(e);
    }

    std::string prefix(const Expr& e) const {
        return op_word(e.op) + std::string(e.op == Op::not_ ? " " : "") + operand(*e.args[0], strength_of_prefix);
    }

    // Chains group to the left, except `->`. AND and OR hold all of their operands, so that one of the same kind inside
    // was in brackets.
    std::string infix(const Expr& e) const {
        const int strength = precedence(e.op);
        const bool flat = e.op == Op::and_ || e.op == Op::or_;
        std::string out;
        for (std::size_t i = 0; i < e.args.size(); ++i) {
            const bool first = i == 0;
            const bool may_repeat = !flat && first != (e.op == Op::implies);
            if (!first) out += std::string(" ") + op_word(e.op) + " ";
            out += operand(*e.args[i], may_repeat ? strength : strength + 1);
        }
        return out;
    }

    static std::string time(const Expr& e) {
        if (!e.written.empty()) return e.written;
        return is_decimal(e.value) ? exact_text(e.value) + " s" : fraction(e.value, "s");
    }

    // As a quotient, which compiles to one constant again.
    static std::string fraction(const Rational& value, const std::string& symbol) {
        return "(" + with_unit(value.get_num().get_str(), symbol) + " / " + value.get_den().get_str() + ")";
    }

    static std::string number(const Expr& e) {
        if (!e.written.empty()) return e.written;
        const bool absolute = e.type.dimension.is_temperature() && !e.type.difference;
        const auto exact = shortest(e, absolute);
        if (exact) return *exact;
        if (absolute) return "(0 degC + " + fraction(from_si(e.value, *find_unit("degC"), false), "K") + ")";
        const Unit unit = default_unit(e.type.dimension);
        const std::string symbol = shown_symbol(unit, true);
        if (symbol.empty() || find_unit(symbol)) return fraction(from_si(e.value, unit, true), symbol);
        return product(e);
    }

    // In the unit of its dimension in which it is a decimal with the fewest characters.
    static std::optional<std::string> shortest(const Expr& e, bool absolute) {
        std::vector<Unit> units{default_unit(e.type.dimension)};
        for (const Unit& u : unit_table())
            if (u.dimension == e.type.dimension) units.push_back(u);
        std::optional<std::string> best;
        for (const Unit& u : units) {
            if (!u.symbol.empty() && !find_unit(u.symbol)) continue;
            // Where either kind could stand, kelvins are read as a difference and nothing else is.
            if (u.dimension.is_temperature() && absolute == (u.offset == 0)) continue;
            const Rational value = from_si(e.value, u, !absolute);
            if (!is_decimal(value)) continue;
            const std::string text = with_unit(exact_text(value), u.symbol);
            if (!best || text.size() < best->size()) best = text;
        }
        return best;
    }

    // A value of a kind for which no unit can be written: base units multiplied out.
    static std::string product(const Expr& e) {
        static const std::array<const char*, 7> base{"m", "kg", "s", "A", "K", "rev", "%"};
        std::string out = "(" + e.value.get_num().get_str();
        for (std::size_t i = 0; i < base.size(); ++i)
            for (int n = e.type.dimension.exponent[i]; n != 0; n += n > 0 ? -1 : 1)
                out += (n > 0 ? " * 1 " : " / (1 ") + std::string(base[i]) + (n > 0 ? "" : ")");
        if (e.value.get_den() != 1) out += " / " + e.value.get_den().get_str();
        return out + ")";
    }
};

std::string value_text(const Rational& si, const Unit& unit, bool difference, int places, bool exact) {
    const Rational value = from_si(si, unit, difference);
    return with_unit(exact ? exact_text(value) : rounded_text(value, places), shown_symbol(unit, difference));
}

// With two digits behind the point, three where they are needed.
std::string seconds_text(const Rational& seconds) {
    std::string text = rounded_text(seconds, 3);
    std::size_t point = text.find('.');
    if (point == std::string::npos) {
        point = text.size();
        text += ".";
    }
    while (text.size() < point + 3) text += "0";
    return text + " s";
}

}  // namespace

std::string print(const Expr& e, const std::function<std::string(SignalId)>& name_of,
                  const std::function<std::string(TableId)>& table_name) {
    return Printer(name_of, table_name).text(e);
}

std::string print_value(const Rational& si, const Unit& unit, bool difference, int places) {
    return value_text(si, unit, difference, places, false);
}

std::string print_value_exact(const Rational& si, const Unit& unit, bool difference) {
    return value_text(si, unit, difference, 0, true);
}

std::string print_time(const Rational& seconds) {
    if (abs(seconds) < 120) return seconds_text(seconds);
    const bool negative = seconds < 0;
    const Rational length = abs(seconds);
    const Integer minutes = floor_of(length / 60);
    const Rational rest = length - Rational(minutes) * 60;
    const Integer hours = minutes / 60;
    std::string text = negative ? "-" : "";
    if (hours > 0) text += hours.get_str() + " h";
    const Integer odd_minutes = minutes % 60;
    if (odd_minutes > 0) text += (hours > 0 ? " " : "") + odd_minutes.get_str() + " min";
    if (rest > 0) text += " " + seconds_text(rest);
    return text;
}

}  // namespace lanyard::lang
