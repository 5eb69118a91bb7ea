// Clocks count whole scans. X runs for less than 5, then Y for less than 5, while Z runs on: Z reaches 9 with clocks of
// real numbers (4.5 and 4.5), and 8 at the most with whole scans.
#include <catch2/catch.hpp>

#include "encode/unroll.hpp"
#include "prove/ask.hpp"
#include "sim/world.hpp"
#include "support.hpp"

namespace encode = lanyard::encode;
using namespace lanyard::prove;
using namespace lanyard::test;

namespace {

// `total`: for how long Z has to run.
Model gap(const std::string& total) {
    return model_of("'inputs': {'x': 'maintained', 'y': 'maintained'}, 'outputs': {'z': 'TON(x OR y, " + total +
                    ")'}, "
                    "'conditions': {'gap': {'holds': ['NOT TON(x, 40 ms)', 'NOT TON(y, 40 ms)', 'NOT (x AND y)', "
                    "'NOT (x AND SR(previous(y), FALSE))']}}, "
                    "'claims': {'c': {'possible': 'z', 'under': 'gap'}}");
}

Answered answer(const Model& m) {
    Question q;
    q.model = &m;
    q.condition = condition_named(m, "gap");
    q.claim = ClaimId(0);
    Timing timing;
    std::string engine;
    settle_leaps(q, {}, timing);
    CHECK(q.leaps);
    return ask(q, {}, timing, engine);
}

// Is the goal reached within so many steps if clocks and the length of a leap are real numbers?
Answer with_real_clocks(const Model& m, int steps) {
    z3::context ctx;
    const System s = encode::encode(ctx, m, condition_named(m, "gap"), ClaimId(0), {});
    z3::solver all(ctx);
    z3::expr_vector hits(ctx);
    for (int n = 0; n < steps; ++n) {
        const Renaming at(s, std::to_string(n));
        for (std::size_t i = 0; i < s.state.size(); ++i)
            all.add(at.state(i) == (n == 0 ? s.state[i].init : Renaming(s, std::to_string(n - 1))(s.state[i].next)));
        all.add(at(s.all_rules()));
        hits.push_back(at(s.bad));
    }
    all.add(z3::mk_or(hits));
    std::string text = all.to_smt2();
    for (std::size_t at = 0; (at = text.find("() Int)", at)) != std::string::npos;) text.replace(at, 7, "() Real)");
    z3::context other;
    Solver solver(other);
    for (const auto& e : other.parse_string(text.c_str())) solver.add(e);
    return solver.check();
}

}  // namespace

TEST_CASE("whole scans leave the gap of three clocks closed", "[short]") {
    const Model nine = gap("80 ms"), eight = gap("70 ms");  // a TON of 80 ms is on at its ninth scan
    CHECK(std::holds_alternative<Unreachable>(answer(nine)));
    CHECK(std::holds_alternative<Reachable>(answer(eight)));
    CHECK(with_real_clocks(nine, 6) == Answer::satisfiable);
    CHECK(with_real_clocks(gap("90 ms"), 6) == Answer::unsatisfiable);
}
