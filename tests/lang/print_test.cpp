// Printing, and that what is printed compiles to the same tree again: examples, then random trees with fixed seeds.

#include "lang/print.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "car.hpp"

using namespace lanyard::lang;
using namespace lanyard::test;

namespace {

std::string printed(const Expr& e, const Car& car) {
    return print(
        e, [&](SignalId s) { return car.name_of(s); }, [&](TableId t) { return car.table_name(t); });
}

std::string print_text(const std::string& text) {
    Car car;
    const Compiled c = compile_in(car, text);
    return c.expr ? printed(*c.expr, car) : c.messages;
}

// Well-formed random expressions, as text with more parentheses than needed.
class Author {
 public:
    explicit Author(unsigned seed) : random_(seed) {}

    std::string boolean(int depth) {
        if (depth <= 0) return pick({"key", "start", "trip", "pump", "TRUE", "FALSE"});
        const auto b = [&] { return "(" + boolean(depth - 1 - roll(2)) + ")"; };
        switch (roll(22)) {
            case 0:
                return "NOT " + b();
            case 1:
                return b() + " AND " + b() + (roll(2) ? " AND " + b() : "");
            case 2:
                return b() + " OR " + b() + (roll(2) ? " OR " + b() : "");
            case 3:
                return b() + " XOR " + b();
            case 4:
                return b() + " -> " + b();
            case 5:
                return std::to_string(1 + roll(3)) + " of (" + b() + ", " + b() + ", " + b() + ")";
            case 6:
                return b() + pick({" = ", " <> "}) + b();
            case 7:
                return "engine" + pick({" = ", " <> "}) + pick({"stopped", "cranking", "running", "coasting"});
            case 8:
                return pick({"TON(", "TOF(", "TP("}) + b() + ", " + time() + ")";
            case 9:
                return pick({"SR(", "RS("}) + b() + ", " + b() + ")";
            case 10:
                return pick({"R_TRIG(", "F_TRIG(", "previous("}) + b() + ")";
            case 11:
                return "CTU(" + b() + ", " + b() + ", " + std::to_string(1 + roll(9)) + ")";
            case 12:
                return band(depth);
            default:
                return comparison(depth);
        }
    }

 private:
    std::mt19937 random_;

    int roll(int n) { return static_cast<int>(random_() % static_cast<unsigned>(n)); }
    std::string pick(const std::vector<std::string>& from) {
        return from[static_cast<std::size_t>(roll(static_cast<int>(from.size())))];
    }
    std::string digits() { return std::to_string(roll(200)) + (roll(2) ? "." + std::to_string(1 + roll(99)) : ""); }
    std::string time() { return pick({"0.5 s", "20 ms", "1 s / 3", "2 min", "(1 s + 250 ms)", "1 h / 7 + 1 s"}); }
    std::string band(int depth) {
        const bool above = roll(2) == 0;
        return "band(" + pressure(depth - 1) + ", on " + (above ? ">" : "<") + " " + (above ? "90" : "10") +
               " psi, off " + (above ? "<" : ">") + " " + digits() + " psi / 7 " + (above ? "- 30 psi" : "+ 30 psi") +
               ")";
    }
    std::string comparison(int depth) {
        const std::string sign = " " + pick({"<", "<=", ">", ">=", "=", "<>"}) + " ";
        switch (roll(4)) {
            case 0:
                return pressure(depth - 1) + sign + pressure(depth - 1);
            case 1:
                return absolute(depth - 1) + sign + absolute(depth - 1);
            case 2:
                return difference(depth - 1) + sign + difference(depth - 1);
            default:
                return rate(depth - 1) + sign + digits() + " " + pick({"K/s", "degC/s", "degF/min"});
        }
    }
    std::string pressure(int depth) {
        if (depth <= 0) return pick({"oil", "fuel", digits() + " psi", "-" + digits() + " bar", "(1 bar / 7)"});
        const auto p = [&] { return "(" + pressure(depth - 1) + ")"; };
        switch (roll(8)) {
            case 0:
                return p() + " + " + p();
            case 1:
                return p() + " - " + p();
            case 2:
                return "-" + p();
            case 3:
                return p() + " * " + digits();
            case 4:
                return "lambda * " + p();
            case 5:
                return p() + " / " + std::to_string(1 + roll(9));
            case 6:
                return "table(oil_map, speed, " + absolute(depth - 1) + ")";
            default:
                return pick({"batt * 25 psi/V", "previous(oil)", "(batt / (3 V/bar))", "(2 V * 3 A * oil / (1 W))"});
        }
    }
    std::string absolute(int depth) {
        if (depth <= 0) return pick({"coolant", "gearbox", digits() + " degC", "-" + digits() + " degF"});
        switch (roll(5)) {
            case 0:
                return "(" + absolute(depth - 1) + ") + (" + difference_for_sum(depth - 1) + ")";
            case 1:
                return "(" + absolute(depth - 1) + ") - (" + difference_for_sum(depth - 1) + ")";
            case 2:
                return "previous(" + absolute(depth - 1) + ")";
            case 3:
                return "table(set_map, speed)";
            default:
                return pick({"coolant", "(90 degC + 5 K / 9)"});
        }
    }
    std::string difference(int depth) {
        if (depth <= 0) return pick({"warmer", "(coolant - gearbox)", digits() + " K", "(2 * " + digits() + " K)"});
        return difference_for_sum(depth);
    }
    std::string difference_for_sum(int depth) {
        if (depth <= 0) return pick({"warmer", digits() + " K", "(5 K / 9)"});
        switch (roll(4)) {
            case 0:
                return "(coolant - (" + absolute_signal() + "))";
            case 1:
                return "-(" + difference_for_sum(depth - 1) + ")";
            case 2:
                return "(" + difference_for_sum(depth - 1) + ") * " + digits();
            default:
                return "(" + difference_for_sum(depth - 1) + ") + (" + difference_for_sum(depth - 1) + ")";
        }
    }
    std::string absolute_signal() {
        return pick({"gearbox", "previous(coolant)", "table(set_map, speed)", "(gearbox + 3 K)"});
    }
    std::string rate(int depth) { return "rate(" + absolute(depth - 1) + ", " + time() + ")"; }
};

}  // namespace

TEST_CASE("printing puts parentheses only where they are needed") {
    for (const char* text : {
             "key",
             "NOT key AND start",
             "key OR start AND trip",
             "(key OR start) AND trip",
             "key AND (start AND trip)",
             "key XOR start XOR trip",
             "key -> start -> trip",
             "(key -> start) -> trip",
             "NOT (key OR start)",
             "NOT NOT key",
             "NOT (key = start)",
             "key = (start = trip)",
             "key = start = trip",
             "lambda - (lambda + 2)",
             "lambda - lambda + 2",
             "(lambda + 2) * 3 < 4",
             "lambda + 2 * lambda < 4",
             "-(lambda + 2) < 4",
             "-lambda * 2 < -4",
             "lambda - -2 < 4",
             "oil < 15 psi",
             "batt * 25 psi/V < 0.5 bar",
             "TON(oil < 15 psi AND key, 500 ms)",
             "CTU(key, NOT key, 3)",
             "2 of (key, start, NOT trip)",
             "band(coolant, on > 104 degC, off < 96 degC)",
             "band(oil - fuel, on < 0 psi, off > 3 psi)",
             "rate(coolant, 1 s) > 0.5 degC/s",
             "table(fan_map, coolant) > 30 %",
             "table(oil_map, speed, coolant) + 2 psi < oil",
             "previous(pump) AND engine = running",
             "coolant + 9 degF > 90 degC",
             "coolant - gearbox > 5 degC",
             "SR(key, FALSE) OR TRUE",
         })
        CHECK(print_text(text) == text);
    CHECK(print_text("((key) AND ((start)))") == "key AND start");
    CHECK(print_text("band(oil, off > 2 bar, on < 1 bar)") == "band(oil, on < 1 bar, off > 2 bar)");
}

TEST_CASE("worked-out constants are printed in the unit that suits them") {
    CHECK(print_text("oil > 15 psi + 2 psi") == "oil > 17 psi");
    CHECK(print_text("oil > 1 bar + 50 kPa") == "oil > 1.5 bar");
    CHECK(print_text("oil > 1 bar / 3") == "oil > (1 bar / 3)");
    CHECK(print_text("TON(key, 1 s + 500 ms)") == "TON(key, 1.5 s)");
    CHECK(print_text("TON(key, 1 s / 3)") == "TON(key, (1 s / 3))");
    CHECK(print_text("coolant > 90 degC + 5 K") == "coolant > 95 degC");
    CHECK(print_text("coolant - gearbox > 2 * 5 K") == "coolant - gearbox > 10 K");
    CHECK(print_text("coolant > 90 degC + 5 K / 7") == "coolant > (0 degC + (635 K / 7))");
    CHECK(print_text("2 V * 3 V * lambda") ==
          "(6 * 1 m * 1 m * 1 m * 1 m * 1 kg * 1 kg / (1 s) / (1 s) / (1 s) / (1 s) / (1 "
          "s) / (1 s) / (1 A) / (1 A)) * lambda");
}

TEST_CASE("random trees survive printing") {
    int compiled = 0;
    for (unsigned seed = 1; seed <= 3000; ++seed) {
        Author author(seed);
        const std::string text = author.boolean(static_cast<int>(seed % 7));
        INFO("seed " << seed << ": " << text);
        Car first;
        const Compiled a = compile_in(first, text);
        REQUIRE(a.messages.empty());
        const std::string again = printed(*a.expr, first);
        INFO(again);
        Car second;
        const Compiled b = compile_in(second, again);
        REQUIRE(b.messages.empty());
        REQUIRE(same_tree(a.expr, b.expr));
        // and what is printed is printed the same again
        REQUIRE(printed(*b.expr, second) == again);
        ++compiled;
    }
    CHECK(compiled == 3000);
}

TEST_CASE("values for reading") {
    const auto unit = [](const char* symbol) { return find_unit(symbol).value(); };
    CHECK(print_value(350000, unit("bar"), true) == "3.5 bar");
    CHECK(print_value(parse_decimal("377.15").value(), unit("degC"), false) == "104 degC");
    CHECK(print_value(5, unit("degC"), true) == "5 K");
    CHECK(print_value(Rational(50, 9), unit("degF"), true) == "10 degF");
    CHECK(print_value(Rational(50, 9), unit("degC"), true) == "5.556 K");
    CHECK(print_value(Rational(50, 9), unit("K"), true, 1) == "5.6 K");
    CHECK(print_value(95, unit("%"), true) == "95 %");
    CHECK(print_value(Rational(1, 3), default_unit({}), true) == "0.333");
    CHECK(print_value(Rational(1, 2), unit("degC/s"), true) == "0.5 degC/s");
    CHECK(print_value_exact(Rational(50, 9), unit("K"), true) == "50/9 K");
    CHECK(print_value_exact(to_si(15, unit("psi"), true), unit("psi"), true) == "15 psi");
    CHECK(print_value_exact(Rational(1, 16), default_unit({}), true) == "0.0625");
}

TEST_CASE("times for stories") {
    CHECK(print_time(0) == "0.00 s");
    CHECK(print_time(Rational(1, 2)) == "0.50 s");
    CHECK(print_time(Rational(1, 1000)) == "0.001 s");
    CHECK(print_time(Rational(1205, 1000)) == "1.205 s");
    CHECK(print_time(75) == "75.00 s");
    CHECK(print_time(120) == "2 min");
    CHECK(print_time(720) == "12 min");
    CHECK(print_time(Rational(1451, 2)) == "12 min 5.50 s");
    CHECK(print_time(3600) == "1 h");
    CHECK(print_time(3660) == "1 h 1 min");
    CHECK(print_time(3605) == "1 h 5.00 s");
    CHECK(print_time(Rational(-1, 2)) == "-0.50 s");
}
