// The reader of lemmas against Z3's own parser, which is the second implementation: where ours reads a text, both have
// the same term; what is no expression over known names is read by ours alone not at all.
#include "certify/lemma_text.hpp"

#include <catch2/catch.hpp>

using namespace lanyard::certify;

namespace {

struct Names {
    z3::context ctx;
    System system{ctx};
    Names() {
        add("s.a", ctx.bool_sort());
        add("s.b", ctx.bool_sort());
        add("s.n", ctx.int_sort());
        add("s.m", ctx.int_sort());
        add("s.x", ctx.real_sort());
        add("s.odd name", ctx.bool_sort());
        const z3::expr input = ctx.constant("i.x", ctx.real_sort());
        system.inputs.push_back({{}, input});
    }
    void add(const char* name, const z3::sort& sort) {
        const z3::expr v = ctx.constant(name, sort);
        system.state.push_back({{}, v, v, v, "", false, 0});
    }
    std::optional<z3::expr> ours(const std::string& text, const LemmaLimits& limits = {}) {
        const auto all = parse_lemmas(system, {text}, limits);
        if (!all) return std::nullopt;
        return all->front();
    }
    z3::expr theirs(const std::string& text) {
        z3::func_decl_vector names(ctx);
        for (const auto& v : system.state) names.push_back(v.cur.decl());
        names.push_back(system.inputs.front().var.decl());
        names.push_back(system.k.decl());
        return ctx.parse_string(("(assert " + text + ")").c_str(), z3::sort_vector(ctx), names)[0];
    }
};

}  // namespace

TEST_CASE("lemmas are read as a solver reads them") {
    Names n;
    for (const char* text : {"s.a",
                             "(not s.a)",
                             "(and s.a s.b)",
                             "(or s.a (not s.b) s.a)",
                             "(=> s.a s.b)",
                             "(xor s.a s.b)",
                             "(ite s.a s.b true)",
                             "(= s.a s.b)",
                             "(= s.n s.m)",
                             "(distinct s.n s.m k)",
                             "(<= s.n 12)",
                             "(< s.n s.m)",
                             "(>= (+ s.n s.m 3) (- 7))",
                             "(> (- s.n s.m) 0)",
                             "(<= (* 3 s.n) (* (- 2) s.m))",
                             "(<= s.x 2.5)",
                             "(>= (* (/ 1.0 3.0) s.x) (- 4.0))",
                             "(= s.x i.x)",
                             "(<= (to_real s.n) s.x)",
                             "(= (to_int s.x) s.n)",
                             "(= (mod s.n 4) 1)",
                             "(= (div s.n 4) s.m)",
                             "(let ((a!1 (and s.a s.b))) (or a!1 (not a!1)))",
                             "(let ((a!1 (+ s.n 1)))\n(let ((a!2 (<= a!1 s.m)) (a!3 (>= a!1 0)))\n  (and a!2 a!3)))",
                             "|s.odd name|",
                             "false",
                             "(let ((a!1 (ite s.a s.n s.m))) (< a!1 4))",
                             "(= (- s.x) 1.0)",
                             "(= (/ s.x 2.0) i.x)"}) {
        CAPTURE(text);
        const auto read = n.ours(text);
        REQUIRE(read);
        CHECK(z3::eq(read->simplify(), n.theirs(text).simplify()));
        // What we read and write, the same reader reads, and it is the same.
        const auto again = n.ours(read->to_string());
        REQUIRE(again);
        CHECK(again->to_string() == read->to_string());
    }
}

TEST_CASE("what is no lemma is not read") {
    Names n;
    for (const char* text : {"",
                             " ",
                             "(",
                             ")",
                             "()",
                             "(s.a)",
                             "s.a s.b",
                             "s.a)",
                             "(and s.a",
                             "(and)",
                             "(not s.a s.b)",
                             "true) (reset-assertions) (assert true",
                             "true) (exit",
                             "(echo \"x\")",
                             "\"x\"",
                             "s.c",
                             "s.a@0",
                             "(declare-fun p () Bool)",
                             "(and s.a 1)",
                             "(= s.a s.n)",
                             "(< s.a s.b)",
                             "(<= s.n 1.5)",
                             "(* s.n s.m)",
                             "(<= (* s.n s.m) 1)",
                             "(<= (/ s.x 0.0) 1.0)",
                             "(<= (/ s.x i.x) 1.0)",
                             "(= (mod s.n 0) 1)",
                             "(= (div s.n s.m) 1)",
                             "12",
                             "(+ s.n 1)",
                             "(let () s.a)",
                             "(let ((a!1 s.a)))",
                             "(let ((a!1 s.a)) a!1 a!1)",
                             "(let ((a!1 a!1)) a!1)",
                             "(let ((s.a s.b)) s.a)",
                             "(let ((true s.a)) true)",
                             "(let ((a!1 s.a) (a!1 s.b)) a!1)",
                             "(let ((a!1 s.a)) s.b) a!1",
                             "(and (let ((a!1 s.a)) a!1) a!1)",
                             "(forall ((x Int)) (< x s.n))",
                             "(exists ((x Int)) true)",
                             "(! s.a :named p)",
                             "(_ bv1 8)",
                             "(as s.a Bool)",
                             "#b1",
                             "#x0f",
                             "(<= s.n 1e5)",
                             "(<= s.n 1.)",
                             "(<= s.n -1)",
                             "; true",
                             "true ; s",
                             "true\t",
                             "|s.a",
                             "|s.a|b",
                             "(|and| s.a s.b)",
                             "(and . s.a)",
                             "(set-option :regular-output-channel \"f\")",
                             "\x80",
                             "s.a\r"}) {
        CAPTURE(text);
        CHECK_FALSE(n.ours(text));
    }
    CHECK_FALSE(n.ours(std::string("s.a\0", 4)));
}

TEST_CASE("depth and size of a lemma are bounded, and no nesting overflows") {
    Names n;
    const auto nested = [](std::size_t levels) {
        std::string text;
        for (std::size_t i = 0; i < levels; ++i) text += "(not ";
        return text + "s.a" + std::string(levels, ')');
    };
    const LemmaLimits limits{.depth = 100, .characters = 2'000, .number = 10};
    CHECK(n.ours(nested(90), limits));
    CHECK_FALSE(n.ours(nested(100), limits));
    CHECK_FALSE(n.ours(nested(1'000'000), {.depth = 1000}));
    CHECK_FALSE(n.ours(std::string(1'000'000, '('), {}));
    // Depth through names counts too.
    std::string text;
    for (int i = 0; i < 120; ++i)
        text += "(let ((b" + std::to_string(i) + " (not " + (i == 0 ? "s.a" : "b" + std::to_string(i - 1)) + "))) ";
    text += "b119" + std::string(120, ')');
    CHECK(n.ours(text));
    CHECK_FALSE(n.ours(text, {.depth = 110, .characters = 1'000'000}));
    CHECK_FALSE(n.ours("(<= s.n 12345678901)", limits));
    CHECK(n.ours("(<= s.n 1234567890)", limits));
    CHECK_FALSE(parse_lemmas(n.system, {std::string(1500, ' ') + "s.a", std::string(1500, ' ') + "s.a"}, limits));
}
