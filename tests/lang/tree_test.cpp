// What a text becomes.

#include <catch2/catch.hpp>

#include "car.hpp"

using namespace lanyard::lang;
using namespace lanyard::test;

namespace {

std::string tree(const std::string& text, std::optional<Type> wanted = std::nullopt) {
    Car car;
    const Compiled c = compile_in(car, text, wanted);
    return c.expr ? shape(*c.expr, car) : c.messages;
}

ExprPtr expr(const std::string& text, std::optional<Type> wanted = std::nullopt) {
    Car car;
    const Compiled c = compile_in(car, text, wanted);
    INFO(c.messages);
    REQUIRE(c.expr);
    return c.expr;
}

const Type absolute = Type::number(dimension("degC"), false);
const Type difference = Type::number(dimension("K"), true);

}  // namespace

// IEC 61131-3, edition 2, table of operators of Structured Text (order as remembered: NOT, * /, + -, comparisons,
// equality, AND, XOR, OR).
TEST_CASE("precedence") {
    CHECK(tree("key OR start AND trip") == "(OR key (AND start trip))");
    CHECK(tree("key AND start OR trip") == "(OR (AND key start) trip)");
    CHECK(tree("key OR start XOR trip") == "(OR key (XOR start trip))");
    CHECK(tree("key XOR start AND trip") == "(XOR key (AND start trip))");
    CHECK(tree("NOT key AND start") == "(AND (NOT key) start)");
    CHECK(tree("NOT key = start") == "(= (NOT key) start)");
    CHECK(tree("key = start AND trip") == "(AND (= key start) trip)");
    CHECK(tree("lambda < 1 = trip") == "(= (< lambda 1) trip)");
    CHECK(tree("trip <> lambda < 1") == "(<> trip (< lambda 1))");
    CHECK(tree("lambda + 2 * lambda < 3") == "(< (+ lambda (* 2 lambda)) 3)");
    CHECK(tree("lambda * 2 + lambda < 3") == "(< (+ (* lambda 2) lambda) 3)");
    CHECK(tree("-lambda * 2 < 3") == "(< (* (neg lambda) 2) 3)");
    CHECK(tree("trip -> key OR start") == "(-> trip (OR key start))");
    CHECK(tree("trip OR key -> start") == "(-> (OR trip key) start)");
    CHECK(tree("(key OR start) AND trip") == "(AND (OR key start) trip)");
}

TEST_CASE("grouping") {
    CHECK(tree("lambda - 1 - 2") == "(- (- lambda 1) 2)");
    CHECK(tree("lambda - (1 - 2)") == "(- lambda -1)");
    CHECK(tree("lambda / 2 * 3") == "(* (/ lambda 2) 3)");
    CHECK(tree("key XOR start XOR trip") == "(XOR (XOR key start) trip)");
    CHECK(tree("key = start = trip") == "(= (= key start) trip)");
    CHECK(tree("key -> start -> trip") == "(-> key (-> start trip))");
    CHECK(tree("(key -> start) -> trip") == "(-> (-> key start) trip)");
    CHECK(tree("NOT NOT key") == "(NOT (NOT key))");
    CHECK(tree("--lambda") == "(neg (neg lambda))");
}

TEST_CASE("conjunctions and disjunctions are flat unless somebody put parentheses") {
    CHECK(tree("key AND start AND trip AND pump") == "(AND key start trip pump)");
    CHECK(tree("key OR start OR trip") == "(OR key start trip)");
    CHECK(tree("(key AND start) AND trip") == "(AND (AND key start) trip)");
    CHECK(tree("key AND (start AND trip)") == "(AND key (AND start trip))");
    CHECK(tree("(key AND start AND trip)") == "(AND key start trip)");
}

TEST_CASE("units of literals") {
    CHECK(tree("oil > 2 bar") == "(> oil 200000)");
    CHECK(tree("oil > 2bar") == "(> oil 200000)");
    CHECK(tree("fan > 95 %") == "(> fan 95)");
    CHECK(tree("fan > 95%") == "(> fan 95)");
    CHECK(tree("speed > 600 rpm") == "(> speed 10)");
    CHECK(tree("batt > 2 V/bar * oil") == "(> batt (* 0.00002 oil))");
    CHECK(tree("batt > 2 V / bar * oil") == "(> batt (* 0.00002 oil))");
    CHECK(tree("rate(road_speed, 1 s) < -36 km/h/s") == "(< (rate @1 road_speed) -10)");
    CHECK(tree("batt / 2 > 6 V") == "(> (/ batt 2) 6)");
    CHECK(tree("rate(oil, 0.5 s) < -1 bar/s") == "(< (rate @0.5 oil) -100000)");
    CHECK(expr("oil > 2.50 bar")->args[1]->written == "2.50 bar");
    CHECK(expr("oil > -2 bar")->args[1]->written == "-2 bar");
    CHECK(expr("rate(road_speed, 1 s) > 1 km/h / s")->args[1]->written == "1 km/h/s");
}

TEST_CASE("constants are worked out") {
    CHECK(tree("oil > 1 bar + 50 kPa") == "(> oil 150000)");
    CHECK(expr("oil > 15 psi + 2 psi")->args[1]->value == to_si(17, find_unit("psi").value(), true));
    CHECK(expr("oil > 15 psi + 2 psi")->args[1]->written.empty());
    CHECK(tree("lambda > (1 + 2) * 3 - 4 / 8") == "(> lambda 8.5)");
    CHECK(tree("lambda > -(1 + 2)") == "(> lambda -3)");
    CHECK(tree("lambda > - -2") == "(> lambda 2)");
    CHECK(tree("lambda > -3") == "(> lambda -3)");
    CHECK(tree("warmer > -3 K") == "(> warmer -3)");
    CHECK(tree("TON(key, 1 s + 500 ms)") == "(TON @1.5 key)");
    CHECK(tree("TON(key, 2 * 3 s)") == "(TON @6 key)");
    CHECK(tree("batt > 3 V/bar * 2 bar") == "(> batt 6)");
    // not folded: it stands behind a signal
    CHECK(tree("lambda + 1 + 2") == "(+ (+ lambda 1) 2)");
}

TEST_CASE("a constant temperature is read as its neighbour wants it") {
    CHECK(tree("coolant > 90 degC") == "(> coolant 363.15abs)");
    CHECK(tree("coolant > 363.15 K") == "(> coolant 363.15abs)");
    CHECK(tree("coolant > 194 degF") == "(> coolant 363.15abs)");
    CHECK(tree("90 degC < coolant") == "(< 363.15abs coolant)");
    CHECK(tree("coolant - gearbox > 5 K") == "(> (- coolant gearbox) 5)");
    CHECK(tree("coolant - gearbox > 9 degF") == "(> (- coolant gearbox) 5)");
    CHECK(tree("coolant - gearbox > 5 degC") == "(> (- coolant gearbox) 5)");
    CHECK(tree("warmer > 5 K") == "(> warmer 5)");
    CHECK(tree("coolant + 5 K > 90 degC") == "(> (+ coolant 5) 363.15abs)");
    CHECK(tree("coolant + 9 degF > 90 degC") == "(> (+ coolant 5) 363.15abs)");
    CHECK(tree("9 degF + coolant > 90 degC") == "(> (+ 5 coolant) 363.15abs)");
    CHECK(tree("coolant - 5 K > gearbox") == "(> (- coolant 5) gearbox)");
    CHECK(tree("90 degC - coolant > 5 K") == "(> (- 363.15abs coolant) 5)");
    CHECK(tree("coolant > 90 degC + 5 K") == "(> coolant 368.15abs)");
    CHECK(tree("coolant > 5 K + 90 degC") == "(> coolant 368.15abs)");
    CHECK(tree("coolant > 90 degC - 5 K") == "(> coolant 358.15abs)");
    CHECK(tree("coolant - gearbox > 2 * 5 K") == "(> (- coolant gearbox) 10)");
    CHECK(tree("coolant - gearbox > -5 K") == "(> (- coolant gearbox) -5)");
    CHECK(tree("coolant > -5 degC") == "(> coolant 268.15abs)");
    CHECK(tree("90 degC + warmer > coolant") == "(> (+ 363.15abs warmer) coolant)");
    CHECK(tree("warmer + 90 degC > coolant") == "(> (+ warmer 363.15abs) coolant)");
    CHECK(tree("warmer + 5 K > 3 K") == "(> (+ warmer 5) 3)");
    CHECK(tree("band(coolant, on > 104 degC, off < 96 degC)") == "(band (> coolant 377.15abs) (< coolant 369.15abs))");
    CHECK(tree("rate(coolant, 1 s) > 0.5 degC/s") == "(> (rate @1 coolant) 0.5)");
    CHECK(tree("rate(coolant, 1 s) > 0.5 K/s") == "(> (rate @1 coolant) 0.5)");
}

TEST_CASE("a constant temperature is read as its place wants it") {
    CHECK(tree("90 degC", absolute) == "363.15abs");
    CHECK(tree("363.15 K", absolute) == "363.15abs");
    CHECK(tree("5 degC", difference) == "5");
    CHECK(tree("5 K", difference) == "5");
    CHECK(tree("90 degC") == "363.15abs");
    CHECK(tree("5 K") == "5");
    CHECK(tree("table(fan_map, 90 degC)") == "(table fan_map 363.15abs)");
    CHECK(tree("table(fan_map, 363.15 K)") == "(table fan_map 363.15abs)");
    CHECK(tree("table(sag_map, 5 degC)") == "(table sag_map 5)");
    CHECK(tree("table(sag_map, coolant - gearbox)") == "(table sag_map (- coolant gearbox))");
}

TEST_CASE("types of results") {
    CHECK(expr("coolant - gearbox")->type == difference);
    CHECK(expr("coolant + 5 K")->type == absolute);
    CHECK(expr("90 degC - coolant")->type == difference);
    CHECK(expr("oil * 25 V/bar")->type == Type::number(dimension("V"), true));
    CHECK(expr("rate(coolant, 1 s)")->type == Type::number(dimension("K/s"), true));
    CHECK(expr("previous(coolant)")->type == absolute);
    CHECK(expr("previous(key)")->type == Type::boolean());
    CHECK(expr("table(set_map, speed)")->type == absolute);
    CHECK(expr("oil < 1 bar")->type == Type::boolean());
    CHECK(expr("engine = running")->type == Type::boolean());
}

TEST_CASE("elements") {
    CHECK(tree("TON(key, 0 s)") == "(TON key)");
    CHECK(tree("TOF(key, 500 ms)") == "(TOF @0.5 key)");
    CHECK(tree("TP(key, 2 min)") == "(TP @120 key)");
    CHECK(tree("SR(start, trip)") == "(SR start trip)");
    CHECK(tree("RS(start, trip)") == "(RS start trip)");
    CHECK(tree("R_TRIG(key)") == "(R_TRIG key)");
    CHECK(tree("F_TRIG(NOT key)") == "(F_TRIG (NOT key))");
    CHECK(tree("CTU(key, start, 3)") == "(CTU #3 key start)");
    CHECK(tree("CTU(key, start, 1 + 2)") == "(CTU #3 key start)");
    CHECK(tree("2 of (key, start, trip)") == "(of #2 key start trip)");
    CHECK(tree("1 of (key)") == "(of #1 key)");
    CHECK(tree("band(oil, on < 1 bar, off > 2 bar)") == "(band (< oil 100000) (> oil 200000))");
    CHECK(tree("band(oil, off > 2 bar, on < 1 bar)") == "(band (< oil 100000) (> oil 200000))");
    CHECK(tree("band(oil + 1 bar, on > 2 bar, off < 2 bar)") ==
          "(band (> (+ oil 100000) 200000) (< (+ oil 100000) 200000))");
    CHECK(tree("band(oil - fuel, on < -1 psi + 1 psi, off > 3 bar)") ==
          "(band (< (- oil fuel) 0) (> (- oil fuel) 300000))");
    CHECK(tree("table(oil_map, speed, coolant) > oil") == "(> (table oil_map speed coolant) oil)");
    CHECK(tree("engine <> coasting") == "(<> engine coasting)");
    CHECK(tree("running = engine") == "(= running engine)");
    CHECK(tree("TRUE AND NOT FALSE") == "(AND TRUE (NOT FALSE))");
    CHECK(tree("(((key)))") == "key");
    CHECK(tree("key\tAND\n start ") == "(AND key start)");
}

TEST_CASE("each memory element is asked for once, inner ones first") {
    Car car;
    const Compiled c = compile_in(
        car, "TON(R_TRIG(key) OR band(rate(oil, 1 s), on > 1 bar/s, off < 0 bar/s), 1 s) AND previous(trip)");
    REQUIRE(c.expr);
    CHECK(car.elements() == std::vector<Op>{Op::r_trig, Op::rate, Op::band, Op::ton, Op::previous});
    // both comparisons of a comparator look at one and the same value
    const ExprPtr band = c.expr->args[0]->args[0]->args[1];
    REQUIRE(band->op == Op::band);
    CHECK(band->args[0]->args[0] == band->args[1]->args[0]);
    CHECK(band->args[0]->args[0]->element == ElementId(1));
}

TEST_CASE("a preset keeps its words") {
    CHECK(expr("TON(key, 500 ms)")->written == "500 ms");
    CHECK(expr("TON(key, 1 s / 2)")->written.empty());
}

TEST_CASE("every part knows its place in the file") {
    Car car;
    Diagnostics out;
    const LocatedText text{"key AND (oil < 15 psi OR TON(trip, 1 s))", {7, 20, 42}, false, "/logic/x"};
    const ExprPtr e = compile(text, car, Type::boolean(), out);
    REQUIRE(e);
    CHECK(e->place == Place{7, 20, 40});
    CHECK(e->args[0]->place == Place{7, 20, 3});
    const ExprPtr either = e->args[1];
    CHECK(either->place == Place{7, 28, 32});
    CHECK(either->args[0]->place == Place{7, 29, 12});
    CHECK(either->args[0]->args[1]->place == Place{7, 35, 6});
    CHECK(either->args[1]->place == Place{7, 45, 14});
    CHECK(either->args[1]->args[0]->place == Place{7, 49, 4});
}

TEST_CASE("in a text with escapes everything is said of its beginning") {
    Car car;
    Diagnostics out;
    const LocatedText text{"key AND oli", {7, 20, 15}, true, "/logic/x"};
    CHECK_FALSE(compile(text, car, Type::boolean(), out));
    REQUIRE(out.list().size() == 1);
    CHECK(out.list()[0].place == Place{7, 20, 15});
    CHECK(out.list()[0].pointer == "/logic/x");
}

TEST_CASE("all independent problems are told") {
    Car car(View::logic);
    const Compiled c = compile_in(
        car, "oli > 15 AND oil > 5 V OR TON(ky, 3) AND (start AND) OR engine = running OR table(nomap, x) > 1 %",
        Type::boolean());
    std::vector<std::string> codes;
    for (const auto& d : c.list) codes.push_back(d.code);
    CHECK(codes == std::vector<std::string>{"unknown-name", "wrong-unit", "unknown-name", "unit-missing",
                                            "syntax-expression", "not-visible", "unknown-table", "unknown-name"});
}

TEST_CASE("problems of one text are limited in number") {
    std::string text = "x1";
    for (int i = 0; i < 1000; ++i) text += " AND x";
    Car car;
    CHECK(compile_in(car, text).list.size() == 20);
}

TEST_CASE("two hundred levels are allowed") {
    const auto levels = [](int n) {
        return std::string(static_cast<std::size_t>(n), '(') + "key" + std::string(static_cast<std::size_t>(n), ')');
    };
    CHECK(tree(levels(200)) == "key");
    CHECK(tree(levels(201)).find("too-deep") != std::string::npos);
    std::string sum = "lambda";
    for (int i = 0; i < 199; ++i) sum += " + lambda";
    CHECK(tree(sum).find("too-deep") == std::string::npos);
    CHECK(tree(sum + " + lambda").find("too-deep") != std::string::npos);
    std::string all = "key";
    for (int i = 0; i < 5000; ++i) all += " OR key";
    CHECK(tree(all).find("too-deep") == std::string::npos);
}

TEST_CASE("a heap of brackets does not use up the stack") {
    constexpr std::size_t n = 200000;
    CHECK(tree(std::string(n, '(')).find("too-deep") != std::string::npos);
    CHECK(tree(std::string(n, ')')).find("syntax-expression") != std::string::npos);
    CHECK(tree(std::string(n, '-') + "lambda").find("too-deep") != std::string::npos);
    std::string text;
    for (std::size_t i = 0; i < n / 5; ++i) text += "NOT (";
    CHECK(tree(text).find("too-deep") != std::string::npos);
    text.clear();
    for (std::size_t i = 0; i < n / 5; ++i) text += "+ x - ";
    CHECK_FALSE(tree(text).empty());
    text.clear();
    for (std::size_t i = 0; i < n / 5; ++i) text += "key key ";
    CHECK_FALSE(tree(text).empty());
    text.clear();
    for (std::size_t i = 0; i < n / 5; ++i) text += "key, ";
    CHECK_FALSE(tree(text).empty());
    text.clear();
    for (std::size_t i = 0; i < n / 5; ++i) text += "TON(key ";
    CHECK_FALSE(tree(text).empty());
    text.clear();
    for (std::size_t i = 0; i < n / 5; ++i) text += ") OR key ";
    CHECK_FALSE(tree(text).empty());
}
