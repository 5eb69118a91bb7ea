// The meaning written twice: random models, random runs, interpreter and encoding side by side, both ways.
#include <algorithm>
#include <catch2/catch.hpp>

#include "certify/complete.hpp"
#include "claims/binding.hpp"
#include "encode/unroll.hpp"
#include "maker.hpp"
#include "shrink.hpp"
#include "sim/world.hpp"
#include "support.hpp"

namespace encode = lanyard::encode;
using namespace lanyard::certify;
using namespace lanyard::test;

namespace {

std::optional<Model> read_quietly(const std::string& text) {
    ReadResult r = read_model("random.json", text);
    return std::move(r.model);
}

System named_system(z3::context& ctx, const Model& m, ConditionId condition, ClaimId claim, bool wide = false) {
    EncodeOptions options;
    options.named = true;
    if (wide) options.with = binding_quantities(m, condition, claim);
    return encode::encode(ctx, m, condition, claim, options);
}

// Something else at one place; only where the encoding knows of it.
Choices mutated(const Model& m, const World& world, const Readback& rb, Choices c, Dice& dice) {
    const auto flip = [&]<class Thing>(Indexed<Thing, bool>& v, const Readback::Terms<Thing>& known) {
        if (v.empty()) return;
        const Id<Thing> i(dice.below(v.size()));
        if (known[i]) v[i] = !v[i];
    };
    switch (m.engine && dice.one_in(4) ? 4 : dice.below(10)) {
        case 0:
            flip(c.positions, rb.positions);
            break;
        case 1:
            flip(c.missed, rb.missed);
            break;
        case 2:
            flip(c.contacts, rb.contacts);
            break;
        case 3:
            flip(c.free_loads, rb.free_loads);
            break;
        case 8:
            flip(c.wiring, rb.wiring);
            break;
        case 9:
            flip(c.faults, rb.faults);
            break;
        case 4:
            if (rb.next_mode) c.next_mode = all_modes[dice.below(mode_count)];
            break;
        case 5:
        case 6: {
            if (m.quantities.empty()) break;
            const QuantityId q(dice.below(m.quantities.size()));
            if (!rb.quantities[q]) break;
            const auto& range = m.quantities[q].range;
            const auto& points = world.points()[q];
            c.quantities[q] = points.empty() || dice.one_in(3) ? dice.between(range.lo, range.hi) : dice.pick(points);
            for (const SensorId s : m.sensors.ids())
                if (m.sensors[s].quantity == q && dice.one_in(2)) c.readings[s] = c.quantities[q];
            break;
        }
        default: {
            if (m.sensors.empty()) break;
            const SensorId s(dice.below(m.sensors.size()));
            if (rb.readings[s]) c.readings[s] += Rational(static_cast<long>(dice.below(9)) - 4) / 4;
            break;
        }
    }
    // The encoding of a switch that cannot be missed, of a contact or load that follows, knows no such choice.
    for (const SwitchId i : m.switches.ids()) c.missed[i] = c.missed[i] && m.switches[i].may_be_missed;
    return c;
}

// Faults that the claim does not depend on never happen in the encoding: here they shall not either, as they count.
Model without_others(Model m, const Readback& rb) {
    for (auto& c : m.conditions) std::erase_if(c.faults, [&](FaultId f) { return !rb.faults[f]; });
    return m;
}

// Some sets of two faults that are never there together.
Model with_exclusions(Model m, unsigned seed) {
    Dice dice(seed);
    for (auto& c : m.conditions) {
        if (c.at_most < 2 || c.faults.size() < 2 || dice.one_in(2)) continue;
        const auto n = 1 + dice.below(4);
        for (std::uint64_t k = 0; k < n; ++k) {
            const FaultId a = dice.pick(c.faults), b = dice.pick(c.faults);
            if (a != b) c.excluded.push_back({std::min(a, b), std::max(a, b)});
        }
    }
    return m;
}

// The interpreter's runs in the encoding. Empty: they agree; otherwise what differs, and `run` is cut there.
std::string forward(const Model& whole, ConditionId condition, ClaimId claim, unsigned seed, long scans, bool mutations,
                    Run& run) {
    z3::context ctx;
    const System s = named_system(ctx, whole, condition, claim);
    const Model m = without_others(whole, s.readback);
    Stepper stepper(s, m, claim);
    Interpreter now(m, condition, claim);
    const World world(m, condition, claim);
    Dice dice(seed);
    const Run planned = random_run(m, condition, claim, seed, scans);
    // Of a delayed reading only the cell between two thresholds matters to the encoding, not its value.
    bool delays = false;
    for (const auto& sensor : m.sensors) delays = delays || sensor.delay > 0;
    long n = 0;
    for (const auto& segment : planned.segments) {
        for (long i = 0; i < segment.scans; ++i, ++n) {
            const Choices c = choices_at(segment, i);
            for (int tries = mutations && s.grid.empty() ? 2 : 0; tries > 0; --tries) {
                const Choices other = mutated(m, world, s.readback, c, dice);
                const std::string broken = now.check(other);
                const auto legal = stepper.legal(other);
                if (!legal || *legal == broken.empty() || (delays && broken.starts_with("sensor:"))) continue;
                append(run, other);
                return "scan " + std::to_string(n) + " is legal " +
                       (*legal ? "in the encoding only: " + broken : "for the interpreter only");
            }
            append(run, c);
            const Scan scan = now.step(c);
            if (!scan.broken_rule.empty()) return "random run is illegal: " + scan.broken_rule;
            const std::string wrong = stepper.step(c, scan);
            if (!wrong.empty()) return "scan " + std::to_string(n) + ": " + wrong;
        }
    }
    return {};
}

// A wish that the solver may drop, as a literal.
class Wishes {
 public:
    Wishes(z3::context& ctx, Solver& solver) : ctx_(ctx), solver_(solver) {}
    void add(const z3::expr& e) {
        const z3::expr p = ctx_.bool_const(("wish" + std::to_string(literals_.size() + dropped_)).c_str());
        solver_.add(z3::implies(p, e));
        literals_.push_back(p);
    }
    // As many as go together, nothing if not even none does or the solver gives up.
    bool satisfy(Dice& dice) {
        for (int n = 0; n < 200; ++n) {
            const Answer a = solver_.check(literals_, 20'000'000);
            if (a == Answer::satisfiable) return true;
            if (a == Answer::unknown || literals_.empty()) return false;
            const auto core = solver_.core();
            if (core.empty()) return false;
            const z3::expr out = core[dice.below(core.size())];
            for (std::size_t i = 0; i < literals_.size(); ++i) {
                if (!z3::eq(literals_[i], out)) continue;
                literals_.erase(literals_.begin() + static_cast<long>(i));
                ++dropped_;
                break;
            }
        }
        return false;
    }

 private:
    z3::context& ctx_;
    Solver& solver_;
    std::vector<z3::expr> literals_;
    std::size_t dropped_ = 0;
};

void wish(Wishes& wishes, const System& s, const Renaming& at, Dice& dice) {
    z3::context& ctx = *s.ctx;
    wishes.add(at.k() >= ctx.int_val(static_cast<int>(1 + dice.below(6))));
    wishes.add(at.k() <= ctx.int_val(static_cast<int>(2 + dice.below(12))));
    for (std::size_t i = 0; i < s.inputs.size(); ++i) {
        const z3::expr v = at.input(i);
        if (dice.one_in(3)) continue;
        if (v.is_bool())
            wishes.add(dice.one_in(2) ? v : !v);
        else
            wishes.add(dice.one_in(2) ? v >= ctx.real_val(static_cast<int>(dice.below(9)))
                                      : v <= ctx.real_val(static_cast<int>(1 + dice.below(9))));
    }
    for (const auto& d : s.definitions)
        if (d.constant.is_bool() && dice.one_in(3)) wishes.add(dice.one_in(2) ? at(d.constant) : at(!d.constant));
    if (dice.one_in(3)) wishes.add(at(s.bad));
}

struct Backward {
    bool played = false;
    long leaps = 0;  // steps of more than one scan
    std::string wrong;
};

// The solver's runs, with leaps, played by the interpreter. Where a quantity beyond the claim's cone forbids what was
// chosen, once more with all of those (`wide`): then nothing may.
Backward backward(const Model& m, ConditionId condition, ClaimId claim, unsigned seed, std::size_t steps, Run& run,
                  bool wide = false) {
    Backward out;
    z3::context ctx;
    const System s = named_system(ctx, m, condition, claim, wide);
    Solver solver(ctx);
    Unrolling u(s, solver);
    Wishes wishes(ctx, solver);
    Dice dice(seed);
    for (std::size_t n = 0; n < steps; ++n) {
        u.extend();
        for (const auto& g : s.grid) solver.add(u.step(n)(g));
        wish(wishes, s, u.step(n), dice);
    }
    solver.add(u.step(steps - 1).k() == 1);
    if (!wishes.satisfy(dice)) return out;
    Question q;
    q.model = &m;
    q.condition = condition;
    q.claim = claim;
    const PartialRun partial = u.read(m, steps);
    std::string why;
    const auto whole = complete(q, partial, why);
    if (!whole && !wide && !binding_quantities(m, condition, claim).empty())
        return backward(m, condition, claim, seed, steps, run, true);
    if (!whole) {
        run = partial.run;
        out.wrong = "a run of the solver is none of the interpreter: " + why;
        return out;
    }
    run = *whole;
    out.played = true;
    const Replay r = replay(m, run, condition, claim);
    if (!r.legal) out.wrong = "a completed run is illegal: " + r.broken;
    std::size_t scan = 0;
    for (std::size_t n = 0; n < steps && r.legal; ++n) {
        const long k = partial.run.segments[n].scans;
        out.leaps += k > 1 ? 1 : 0;
        for (const auto& d : s.definitions) {
            if (!d.constant.is_bool()) continue;
            SignalId id;
            for (const SignalId o : m.order)
                if (m.name_of(o) == d.label.name) id = o;
            if (may_differ_from_command(m, id)) continue;
            const bool wanted = solver.holds(u.step(n)(d.constant));
            for (long i = 0; i < k; ++i) {
                if (std::get<bool>(r.scans[scan + static_cast<std::size_t>(i)].signals[id]) == wanted) continue;
                out.wrong += d.label.name + " is not " + (wanted ? "on" : "off") + " at scan " + std::to_string(i) +
                             " of leap " + std::to_string(n) + "; ";
                break;
            }
        }
        scan += static_cast<std::size_t>(k);
    }
    if (!r.legal) return out;
    const bool bad = solver.holds(u.step(steps - 1)(s.bad));
    const auto& body = m.claims[claim].body;
    const bool procedure = std::holds_alternative<Procedure>(body);
    const bool seen = std::holds_alternative<Possible>(body) ? r.goal_at_end : r.violated_at_end;
    if (procedure ? seen && !bad : seen != bad) out.wrong += "the claim's end differs; ";
    return out;
}

// The parity of everything under some condition, or another claim under its own. By name: a smaller model has other
// numbers.
struct Asked {
    std::string condition, claim;
    ConditionId condition_in(const Model& m) const {
        for (const ConditionId k : m.conditions.ids())
            if (m.conditions[k].name == condition) return k;
        return {};
    }
    ClaimId claim_in(const Model& m) const {
        for (const ClaimId k : m.claims.ids())
            if (m.claims[k].id == claim) return k;
        return {};
    }
    bool fits(const Model& m) const { return condition_in(m) && claim_in(m); }
};
Asked asked(const Model& m, unsigned seed, bool parity) {
    if (parity) return {m.conditions[ConditionId(seed % m.conditions.size())].name, m.claims.front().id};
    const Claim& claim = m.claims[ClaimId(1 + seed % (m.claims.size() - 1))];
    return {m.conditions[claim.condition].name, claim.id};
}

struct Count {
    long models = 0, scans = 0, failures = 0, played = 0, leaps = 0;
    long broken = 0;  // scans at which some part is
};

void tried(const std::string& name, const Parts& parts, const Model& m, const Asked& a, const Trial& trial, long length,
           Count& count) {
    try {
        Run run;
        const std::string wrong = trial(m, length, run);
        count.scans += run.scans();
        each_scan(run, [&count](const Choices& c) {
            count.broken += std::find(c.faults.begin(), c.faults.end(), true) != c.faults.end() ? 1 : 0;
            return true;
        });
        if (wrong.empty()) return;
        ++count.failures;
        FAIL_CHECK(name << ", " << a.claim << " under " << a.condition << ": " << wrong << "\n"
                        << report_shrunk(name, parts, trial, length));
    } catch (const Unsupported& u) {
        FAIL_CHECK(name << ": " << u.what());
    }
}

// The interpreter's runs, the parity's first, then another claim's.
Count forwards(const Seeds& s) {
    Count count;
    for (unsigned seed = s.first; seed < s.first + s.count && count.failures == 0; ++seed) {
        const Parts parts = random_parts(seed);
        const auto m = read_quietly(parts.text());
        if (!m) continue;
        ++count.models;
        for (const bool parity : {true, false}) {
            const Asked a = asked(*m, seed, parity);
            const Trial trial = [a, parity, seed](const Model& model, long length, Run& run) {
                if (!a.fits(model)) return std::string();
                return forward(with_exclusions(model, seed), a.condition_in(model), a.claim_in(model), seed, length,
                               parity, run);
            };
            tried("forward-" + std::to_string(seed), parts, *m, a, trial, 50, count);
        }
    }
    return count;
}

// The solver's runs, a claim of each model.
Count backwards(const Seeds& s) {
    Count count;
    for (unsigned seed = s.first; seed < s.first + s.count && count.failures == 0; ++seed) {
        const Parts parts = random_parts(seed);
        const auto m = read_quietly(parts.text());
        if (!m) continue;
        ++count.models;
        const Asked a = asked(*m, seed, seed % 3 == 0);
        const Trial trial = [a, seed, &count](const Model& read, long length, Run& run) {
            if (!a.fits(read)) return std::string();
            const Model model = with_exclusions(read, seed);
            const Backward b =
                backward(model, a.condition_in(model), a.claim_in(model), seed, static_cast<std::size_t>(length), run);
            count.played += b.played ? 1 : 0;
            count.leaps += b.leaps;
            return b.wrong;
        };
        tried("backward-" + std::to_string(seed), parts, *m, a, trial, 6, count);
    }
    return count;
}

}  // namespace

TEST_CASE("random runs of random models mean the same in the encoding", "[runs]") {
    const Seeds s = seeds({101, 30});
    const Count count = forwards(s);
    CHECK(count.models == s.count);
    CHECK(count.scans > count.models * 80);
    CHECK(count.broken > count.models);
}

TEST_CASE("random runs of the encoding, with leaps, are runs of the interpreter", "[runs]") {
    const Seeds s = seeds({101, 75});
    const Count count = backwards(s);
    CHECK(count.models == s.count);
    CHECK(count.played * 10 > count.models * 8);
    CHECK(count.leaps > count.models);
}

TEST_CASE("random models both ways, a few", "[short]") {
    const Seeds s{1, 12};
    CHECK(forwards(s).models == s.count);
    CHECK(backwards(s).played > 8);
}
