// What it decides: which lines of the model and of the condition leave no scan behind a run, and how to say so.
//
// How: the state after the run is put to the solver with each rule of one more scan behind a switch of its own; what it
// needs to exclude that scan is made as small as one deletion after the other makes it, once for each mode that the
// engine may go to. A condition is taken apart at its ANDs first, so that the part is named and not the whole.
//
// Why it is sound: it changes no verdict. That no scan follows has been shown before (prove/time.cpp); this is about
// the words. When it gives up - the solver does - the words are fewer.
// Tested by: tests/encode/time_test.cpp
#include "prove/standstill.hpp"

#include <algorithm>
#include <map>
#include <memory>
#include <set>

#include "base/characters.hpp"
#include "base/needed.hpp"
#include "certify/obligations.hpp"
#include "claims/cone.hpp"
#include "lang/print.hpp"
#include "sim/interpreter.hpp"
#include "sim/machine.hpp"
#include "sim/rule_words.hpp"
#include "sim/words.hpp"

namespace lanyard::prove {

namespace {

constexpr std::uint64_t one_question = 5'000'000;
constexpr std::size_t max_signals = 8;

void take_apart(const ExprPtr& e, std::vector<ExprPtr>& out) {
    if (e->op != Op::and_) return out.push_back(e);
    for (const auto& a : e->args) take_apart(a, out);
}

// The same model with a line of its own for each part of a condition.
std::shared_ptr<const Model> with_parts(const Model& m) {
    auto out = std::make_shared<Model>(m);
    for (auto& c : out->conditions) {
        std::vector<ExprPtr> parts;
        for (const auto& e : c.holds) take_apart(e, parts);
        c.holds = std::move(parts);
    }
    return out;
}

class Standstill {
 public:
    Standstill(const Question& q, const Run& run) : model_(with_parts(*q.model)), question_(q), run_(run) {
        question_.model = model_.get();
        question_.extra.clear();
        question_.any_mode = false;
    }

    std::string words() {
        find_rules();
        name_rules();
        std::string out = where();
        const std::string modes = modes_ahead();
        if (!modes.empty()) out += ", " + modes;
        if (!parts_.empty()) out += ". These cannot all be met at the next scan: " + joined(parts_, "; ");
        return out + last_scans();
    }

 private:
    const Model& m() const { return *model_; }
    std::string time_of(long scan) const { return print_time(Rational(scan * m().scan)); }

    std::string where() const {
        if (run_.segments.empty()) return "no scan obeys them";
        return "no scan obeys them after " + time_of(run_.scans() - 1);
    }
    std::string modes_ahead() const {
        if (!m().mode || !asks_for_mode_) return "";
        std::vector<std::string> names;
        for (const Run& r : each_next_mode(question_, run_))
            if (!r.segments.empty()) names.emplace_back(mode_name(choices_at(r, r.scans() - 1).next_mode));
        if (names.size() == 1) return "where the engine can only be " + names.front();
        return names.empty() ? "" : "whether the engine is then " + joined(names, " or ");
    }

    void find_rules() {
        if (run_.segments.empty()) return find_rules(question_);
        for (const Run& r : each_next_mode(question_, run_))
            if (const auto there = behind(question_, r)) find_rules(*there);
    }
    void find_rules(const Question& there) {
        z3::context ctx;
        const System s = system_of(ctx, there, false);
        Solver solver(ctx);
        for (const auto& v : s.state) solver.add(v.cur == v.init);
        solver.add(s.k == 1);
        std::vector<std::string> labels;
        std::map<std::string, z3::expr> switches;
        for (const auto& r : s.rules) {
            if (r.label == leap_rule) {
                solver.add(r.holds);
                continue;
            }
            auto found = switches.find(r.label);
            if (found == switches.end()) {
                labels.push_back(r.label);
                found = switches.emplace(r.label, ctx.bool_const(("on." + r.label).c_str())).first;
            }
            solver.add(z3::implies(found->second, r.holds));
        }
        const auto excluded = [&](const std::vector<std::string>& by) {
            std::vector<z3::expr> on;
            for (const auto& l : by) on.push_back(switches.at(l));
            return solver.check(on, one_question) == Answer::unsatisfiable;
        };
        if (!excluded(labels)) return;
        for (auto& l : needed_of(labels, excluded))
            if (std::find(labels_.begin(), labels_.end(), l) == labels_.end()) labels_.push_back(std::move(l));
    }

    // --- a rule in words, and what it is about
    void add(const std::string& part) {
        if (std::find(parts_.begin(), parts_.end(), part) == parts_.end()) parts_.push_back(part);
    }
    void about(SignalId id) {
        if (id && std::find(signals_.begin(), signals_.end(), id) == signals_.end()) signals_.push_back(id);
        if (id && id == m().mode) asks_for_mode_ = true;
    }
    void about(const Expr& e) {
        if (e.op == Op::signal || e.op == Op::last) {
            about(e.signal);
            const SignalKind kind = m().signal(e.signal).kind;
            if (kind == SignalKind::logic || kind == SignalKind::output || kind == SignalKind::load)
                for (const SignalId s : sources_of(m(), e.signal).signals)
                    if (s != m().powered) about(s);
        }
        for (const auto& a : e.args) about(*a);
    }
    void name_rules() {
        for (const auto& l : labels_)
            if (!name_rule(l)) add(l.starts_with("world: ") ? l.substr(7) : l);
        // Where the driver has the switches that these speak of.
        const auto after = played();
        if (!after) return;
        for (const SwitchId i : m().switches.ids()) {
            const SignalId id = m().switches[i].position;
            if (std::find(signals_.begin(), signals_.end(), id) == signals_.end()) continue;
            if (const auto hand = after->machine().driven(i))
                add("the driver has " + m().name_of(id) + (*hand ? " on" : " off"));
        }
    }
    std::vector<const Condition*> obeyed() const {
        std::vector<const Condition*> out{&m().conditions[question_.condition]};
        const ConditionId before = question_.claim ? m().claims[question_.claim].reached_under : ConditionId{};
        if (before) out.push_back(&m().conditions[before]);
        return out;
    }
    bool name_rule(const std::string& label) {
        const auto words = sim::rule_words(m(), obeyed(), label);
        if (!words) return false;
        if (words->of_a_mode) about(m().mode);
        if (words->about) about(*words->about);
        about(words->quantity);
        add(words->text);
        return true;
    }

    // --- the run
    std::unique_ptr<Interpreter> played() const {
        auto sim = std::make_unique<Interpreter>(m(), question_.condition, question_.claim);
        return play(*sim, run_).broken_rule.empty() ? std::move(sim) : nullptr;
    }
    std::string last_scans() const {
        const long scans = run_.scans();
        if (scans == 0 || signals_.empty()) return "";
        std::vector<Scan> all;
        Interpreter sim(m(), question_.condition, question_.claim);
        long n = 0;
        play(sim, run_, [&](const Choices&, const Scan& s) {
            if (++n + 2 > scans) all.push_back(s);
            return true;
        });
        std::vector<std::string> out;
        long at = scans - std::ssize(all);
        for (const Scan& scan : all) {
            std::vector<std::string> values;
            for (std::size_t k = 0; k < signals_.size() && k < max_signals; ++k) {
                const SignalId id = signals_[k];
                values.push_back(m().name_of(id) + " " + sim::value_text(m(), id, scan.signals[id]));
            }
            out.push_back("at " + time_of(at++) + " " + joined(values, ", "));
        }
        return ". Before that: " + joined(out, "; ");
    }

    std::shared_ptr<const Model> model_;
    Question question_;
    const Run& run_;
    bool asks_for_mode_ = false;
    std::vector<std::string> labels_, parts_;
    std::vector<SignalId> signals_;
};

}  // namespace

std::string standstill_words(const Question& q, const Run& run) { return Standstill(q, run).words(); }

std::vector<Run> each_next_mode(const Question& q, const Run& run) {
    if (!q.model->engine || run.segments.empty()) return {run};
    Run apart = with_last_scan_apart(run);
    Interpreter before(*q.model, q.condition, q.claim);
    play(before, {{apart.segments.begin(), apart.segments.end() - 1}});
    const Mode own = apart.segments.back().first.next_mode;
    std::vector<Run> out{apart};
    for (const Mode mode : all_modes) {
        if (mode == own) continue;
        apart.segments.back().first.next_mode = mode;
        Interpreter after(before);
        if (after.step(apart.segments.back().first).broken_rule.empty()) out.push_back(apart);
    }
    return out;
}

}  // namespace lanyard::prove
