// What it decides: of which logic, outputs, parts and assumptions a proof makes use.
//
// Why it is sound. Every definition, next-state equation, rule and part of the car (encode/parts.cpp) is asserted under
// a switch of its own. The obligations of the certificate (step, safe, base) are asked with all switches on; the core
// names those that were needed. Without the others' equations the obligations are still unsatisfiable: what is not
// named may do anything at each scan, one or all of it at once, and the same invariant still excludes the target. So it
// may be changed in any way that joins nothing that was not joined before.
//
// A proof also owes an example: a run in which the claim demands something. With its choices fixed, that it is legal
// and demands has to follow from what is named; a core says again from what. The example's assumptions are not named:
// an assumption that is dropped forbids no run. A claim that nothing can violate, whatever anything does, owes none:
// it says nothing.
//
// How: a core need not be minimal; each name is tried without it afterwards (of assumptions only where that is wanted:
// deletion, the plainest way to an irreducible unsatisfiable core: J. Marques-Silva, "Minimal Unsatisfiability: Models,
// Algorithms and Applications", ISMVL 2010, from memory).
//
// When it gives up: where the solver ends without an answer or is not to be asked, or the wiring has no formula. Then
// everything that the claim may depend on (claims/cone.hpp) is named, and all parts.
// Tested by: tests/certify/rests_on_test.py
#include "certify/rests_on.hpp"

#include <algorithm>
#include <functional>
#include <map>
#include <set>

#include "base/log.hpp"
#include "certify/obligations.hpp"
#include "circuit/influence.hpp"
#include "encode/terms.hpp"

namespace lanyard::certify {

namespace {

constexpr long longest_example = 400;  // steps
// Steps times the terms of one step. An example of more is not gone through, and everything that it may depend on
// named.
constexpr std::size_t most_terms = 2'000'000;
// Scans up to which the example is gone through one by one. A leap is none where any memory changes, whatever it
// belongs to; so leaps name more.
constexpr long longest_by_scans = 60;
// A name stays where to take it out costs more.
constexpr std::uint64_t spare_budget = 2'000'000;

class Dependence {
 public:
    Dependence(const Question& q, const Certificate& c, std::uint64_t budget, bool one_by_one)
        : question_(q), given_(c), budget_(budget), one_by_one_(one_by_one), system_(system_in_parts(ctx_, q)) {}

    // The labels of what is needed; nothing where the solver gave up. `may_be_needed`: tried before anything else.
    std::optional<std::set<Label>> labels(const Run* example, const std::function<bool(const Label&)>& may_be_needed) {
        const auto lemmas = parse_lemmas(system_, given_.lemmas);
        if (!lemmas) return std::nullopt;
        lemmas_ = *lemmas;
        step();
        safe();
        for (int n = 1; n < given_.induction; ++n) base(n);
        if (enough({})) return used_;
        if (example != nullptr && !demand(*example)) return std::nullopt;
        if (may_be_needed) {
            std::set<Label> these;
            for (const auto& [label, on] : switches_)
                if (may_be_needed(label)) these.insert(label);
            if (enough(these)) return these;
        }
        for (const auto& asked : questions_)
            if (!collect(*asked)) return std::nullopt;
        spare();
        return used_;
    }

 private:
    // A question that has no answer as long as enough of `on` holds.
    struct Asked {
        explicit Asked(z3::context& ctx) : solver(ctx) {}
        Solver solver;
        std::vector<z3::expr> on;
    };

    Asked& question() { return *questions_.emplace_back(std::make_unique<Asked>(ctx_)); }

    // Labels are told apart by their switches; one label has one switch in all questions.
    z3::expr switch_of(const Label& label) {
        const auto found = switches_.find(label);
        if (found != switches_.end()) return found->second;
        const z3::expr on = ctx_.bool_const(("on!" + std::to_string(switches_.size())).c_str());
        labels_.emplace(on.id(), label);
        return switches_.emplace(label, on).first->second;
    }
    void guard(Asked& a, const z3::expr& e, const Label& label) {
        const z3::expr on = switch_of(label);
        a.solver.add(z3::implies(on, e));
        if (std::none_of(a.on.begin(), a.on.end(), [&](const z3::expr& x) { return z3::eq(x, on); }))
            a.on.push_back(on);
    }
    void guard_definitions(Asked& a, const Renaming& at) {
        for (const auto& d : system_.definitions) guard(a, at(d.constant == d.value), d.label);
    }
    void guard_rules(Asked& a, const Renaming& at) {
        for (const auto& r : system_.rules) guard(a, at(r.holds), {LabelKind::rule, r.label});
    }
    void guard_next(Asked& a, const Renaming& from, const Renaming& then) {
        for (std::size_t i = 0; i < system_.state.size(); ++i)
            guard(a, then.state(i) == from(system_.state[i].next), system_.state[i].label());
    }
    z3::expr hit(const Renaming& at) { return at(target_of(system_, question_)); }

    void step() {
        Asked& a = question();
        const Renaming now(system_, "0"), then(system_, "1");
        z3::expr_vector after(ctx_);
        for (const auto& l : lemmas_) {
            a.solver.add(now(l));
            after.push_back(then(l));
        }
        guard_definitions(a, now);
        guard_rules(a, now);
        guard_next(a, now, then);
        a.solver.add(!all_of(after));
    }
    void path(Asked& a, int count, bool from_start) {
        for (int n = 0; n < count; ++n) {
            const Renaming at(system_, std::to_string(n));
            if (from_start) {
                if (n == 0) add_initial(a.solver, system_, at);
            } else {
                for (const auto& l : lemmas_) a.solver.add(at(l));
            }
            guard_definitions(a, at);
            guard_rules(a, at);
            if (n > 0) guard_next(a, Renaming(system_, std::to_string(n - 1)), at);
            a.solver.add(n + 1 == count ? hit(at) : !hit(at));
        }
    }
    void safe() { path(question(), given_.induction, false); }
    void base(int count) { path(question(), count, true); }

    // The example's choices as this system has them.
    struct Chosen {
        std::vector<z3::expr> values;  // a step's: k, then the inputs
    };
    std::optional<std::vector<Chosen>> choices_of(const Run& run) {
        Solver solver(ctx_);
        add_run(solver, system_, run);
        const std::size_t last = run.segments.size() - 1;
        solver.add(Renaming(system_, std::to_string(last))(system_.demand));
        if (solver.check({}, budget_) != Answer::satisfiable) return std::nullopt;
        std::vector<Chosen> out;
        for (std::size_t n = 0; n <= last; ++n) {
            const Renaming at(system_, std::to_string(n));
            Chosen c;
            c.values.push_back(solver.value(at.k()));
            for (std::size_t i = 0; i < system_.inputs.size(); ++i) c.values.push_back(solver.value(at.input(i)));
            out.push_back(std::move(c));
        }
        return out;
    }

    // Renaming a step goes through each of its formulas by itself.
    std::size_t terms_of_step() const {
        std::size_t out = 0;
        const auto count = [&out](const z3::expr& e) {
            std::set<unsigned> seen;
            each_part(e, seen, [](const z3::expr&) {});
            out += seen.size();
        };
        for (const auto& r : system_.rules) count(r.holds);
        for (const auto& d : system_.definitions) count(d.value);
        for (const auto& s : system_.state) count(s.next);
        return out;
    }
    bool demand(const Run& example) {
        const std::size_t terms = std::max<std::size_t>(1, terms_of_step());
        LANYARD_LOG(debug, "{} terms a step, {} steps, {} scans", terms, example.segments.size(), example.scans());
        const auto may_be_gone_through = [&](long steps) {
            return steps > 0 && steps <= longest_example && static_cast<std::size_t>(steps) <= most_terms / terms;
        };
        if (!may_be_gone_through(std::ssize(example.segments))) return false;
        const bool by_scans = may_be_gone_through(example.scans());
        const bool is_short = by_scans && example.scans() <= longest_by_scans;
        auto chosen = choices_of(is_short ? scan_by_scan(example) : example);
        if (!chosen && !is_short && by_scans) chosen = choices_of(scan_by_scan(example));
        if (!chosen) return false;
        Asked& a = question();
        z3::expr_vector legal(ctx_);
        for (std::size_t n = 0; n < chosen->size(); ++n) {
            const Renaming at(system_, std::to_string(n));
            if (n == 0)
                add_initial(a.solver, system_, at);
            else
                guard_next(a, Renaming(system_, std::to_string(n - 1)), at);
            guard_definitions(a, at);
            const auto& values = (*chosen)[n].values;
            a.solver.add(at.k() == values[0]);
            for (std::size_t i = 0; i < system_.inputs.size(); ++i) a.solver.add(at.input(i) == values[i + 1]);
            for (const auto& r : system_.rules) legal.push_back(at(r.holds));
            if (n + 1 == chosen->size()) legal.push_back(at(system_.demand));
        }
        a.solver.add(!all_of(legal));
        return true;
    }

    // From what is used already, so that the set stays small; else from everything. Twice: the core of a core is
    // smaller.
    bool collect(Asked& a) {
        if (a.solver.check(among(a, used_), budget_) == Answer::unsatisfiable) return true;
        std::vector<z3::expr> on = a.on;
        for (int round = 0; round < 2; ++round) {
            if (a.solver.check(on, budget_) != Answer::unsatisfiable) {
                if (round == 0) return false;
                break;
            }
            on = a.solver.core();
        }
        for (const auto& e : on) used_.insert(labels_.at(e.id()));
        return true;
    }
    std::vector<z3::expr> among(const Asked& a, const std::set<Label>& these) const {
        std::vector<z3::expr> out;
        for (const auto& e : a.on)
            if (these.contains(labels_.at(e.id()))) out.push_back(e);
        return out;
    }

    // Takes one name after the other away, wherever it stands, as long as all questions stay without an answer.
    void spare() {
        for (const Label& label : std::vector<Label>(used_.begin(), used_.end())) {
            if (!one_by_one_ && label.kind == LabelKind::rule) continue;
            std::set<Label> fewer = used_;
            fewer.erase(label);
            if (enough(fewer)) used_ = std::move(fewer);
        }
    }
    bool enough(const std::set<Label>& these) {
        return std::all_of(questions_.begin(), questions_.end(), [&](const auto& a) {
            return a->solver.check(among(*a, these), one_by_one_ ? budget_ : spare_budget) == Answer::unsatisfiable;
        });
    }

    const Question& question_;
    const Certificate& given_;
    std::uint64_t budget_;
    bool one_by_one_;
    z3::context ctx_;
    System system_;
    std::vector<z3::expr> lemmas_;
    std::vector<std::unique_ptr<Asked>> questions_;
    std::map<Label, z3::expr> switches_;
    std::map<unsigned, Label> labels_;
    std::set<Label> used_;
};

// Labels as names, sorted into logic and outputs, parts, and assumptions.
class Names {
 public:
    explicit Names(const Model& m) {
        for (const SignalId id : m.order) logic_.insert(m.name_of(id));
        for (const Signal& s : m.signals) {
            const bool is_part = s.kind == SignalKind::seen || s.kind == SignalKind::reading ||
                                 s.kind == SignalKind::contact || s.kind == SignalKind::loop ||
                                 s.kind == SignalKind::load || s.kind == SignalKind::wired;
            if (is_part) parts_.insert(s.name);
        }
        if (m.may_lose_power()) parts_.insert("supply");
    }
    // Would it be named?
    bool is_told(const Label& label) const {
        if (label.kind == LabelKind::rule) return label.name != leap_rule;
        return logic_.contains(label.name) || label.kind == LabelKind::part || parts_.contains(label.name);
    }
    void add(const Label& label) {
        if (!is_told(label)) return;
        if (label.kind == LabelKind::rule)
            assumptions.insert(label.name);
        else if (logic_.contains(label.name))
            elements.insert(label.name);
        else
            parts.insert(label.name);
    }
    std::set<std::string> elements, parts, assumptions;

 private:
    std::set<std::string> logic_, parts_;
};

// Without a proof: all that the claim may depend on.
std::set<Label> everything(const Question& q) {
    const Model& m = *q.model;
    std::set<Label> out{{LabelKind::named, "supply"}};
    std::optional<Influence> influence;
    if (m.circuit.exists() && q.claim && Influence::affordable(m)) influence.emplace(m, faults_of(m, q.claim));
    const Cone cone = cone_of(m, q.condition, q.claim, influence ? influence->follow() : FollowWiring{});
    for (const SignalId id : cone.signals) out.insert({LabelKind::named, m.name_of(id)});
    for (const BranchId b : m.circuit.branches.ids()) {
        const Branch& x = m.circuit.branches[b];
        // Relays and outputs are in the cone by their signals.
        const bool by_its_signal = x.kind == BranchKind::contact || x.kind == BranchKind::coil ||
                                   x.kind == BranchKind::output || x.kind == BranchKind::stray;
        if (!by_its_signal && (!influence || influence->has_branch(b))) out.insert({LabelKind::part, x.name});
    }
    for (const SourceId s : m.circuit.sources.ids())
        if (!influence || influence->has_source(s)) out.insert({LabelKind::part, m.circuit.sources[s].name});
    z3::context ctx;
    for (const auto& r : system_of(ctx, q, true).rules) out.insert({LabelKind::rule, r.label});
    return out;
}

std::optional<std::set<Label>> needed(const Question& q, const Certificate& c, const Run* example, std::uint64_t budget,
                                      bool one_by_one, const std::function<bool(const Label&)>& may_be_needed) {
    if (budget == 0) return std::nullopt;
    try {
        return Dependence(q, c, budget, one_by_one).labels(example, may_be_needed);
    } catch (const Unsupported&) {
        return std::nullopt;
    } catch (const z3::exception&) {  // stopped, or a lemma that this system cannot read
        return std::nullopt;
    }
}

}  // namespace

bool tell_what_it_rests_on(const Question& asked, Certificate& c, const Run* example, std::uint64_t budget,
                           bool one_by_one, const RestsOn* known) {
    const logging::About about([] { return "what it rests on"; });
    const logging::Stopwatch watch;
    Question q = asked;
    q.start.clear();  // step and safe hold from any start
    q.before = {};
    q.tangents = c.tangents;
    q.leaps = asked.leaps && c.leaps;
    q.with_binding_quantities = c.with_binding_quantities;
    const Model& m = *q.model;
    Names names(m);
    std::function<bool(const Label&)> may_be_needed;
    if (known != nullptr)
        may_be_needed = [&](const Label& label) {
            const auto has = [&](const std::vector<std::string>& list) {
                return std::find(list.begin(), list.end(), label.name) != list.end();
            };
            const bool is_named =
                label.kind == LabelKind::rule ? has(known->assumptions) : has(known->elements) || has(known->parts);
            return is_named || !names.is_told(label);
        };
    const auto labels = needed(q, c, example, budget, one_by_one, may_be_needed);
    for (const auto& label : labels ? *labels : everything(q)) names.add(label);
    c.assumptions.assign(names.assumptions.begin(), names.assumptions.end());
    c.elements.assign(names.elements.begin(), names.elements.end());
    c.parts.assign(names.parts.begin(), names.parts.end());
    c.unused_elements.clear();
    for (const SignalId id : m.order)
        if (!names.elements.contains(m.name_of(id))) c.unused_elements.push_back(m.name_of(id));
    std::sort(c.unused_elements.begin(), c.unused_elements.end());
    LANYARD_LOG(debug, "{}{} assumptions, {} of {} pieces of logic, {} parts, {:.3f} s",
                labels ? "" : "not settled, so all that may have a say: ", c.assumptions.size(), c.elements.size(),
                m.order.size(), c.parts.size(), watch.seconds());
    return labels.has_value();
}

}  // namespace lanyard::certify
