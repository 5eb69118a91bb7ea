#include "support.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "base/file.hpp"
#include "encode/unroll.hpp"

namespace lanyard::test {

using namespace sim;
using namespace encode;

std::vector<ModelFile> all_models() {
    namespace fs = std::filesystem;
    const fs::path root = LANYARD_SOURCE_DIR;
    std::vector<fs::path> paths;
    for (const char* folder : {"demo", "tests/cases/proved", "tests/cases/refuted", "tests/cases/undecided"}) {
        for (const auto& entry : fs::recursive_directory_iterator(root / folder)) {
            const std::string name = entry.path().filename().string();
            if (name.ends_with(".json") && !name.ends_with(".expect.json")) paths.push_back(entry.path());
        }
    }
    std::sort(paths.begin(), paths.end());
    std::vector<ModelFile> out;
    for (const auto& path : paths) {
        const std::string shown = fs::relative(path, root).string();
        const auto text = read_file(path, 10'000'000);
        INFO(shown);
        REQUIRE(text);
        out.push_back({shown, model_from(*text, shown)});
    }
    REQUIRE(out.size() > 50);
    return out;
}

std::vector<z3::expr> equations(const System& s, const Choices& c) {
    z3::context& ctx = *s.ctx;
    const Readback& rb = s.readback;
    std::vector<z3::expr> out;
    const auto bits = [&]<class Thing>(const Readback::Terms<Thing>& names, const Indexed<Thing, bool>& values) {
        for (const Id<Thing> i : names.ids())
            if (names[i]) out.push_back(*names[i] == ctx.bool_val(values[i]));
    };
    const auto numbers = [&]<class Thing>(const Indexed<Thing, std::optional<Num>>& names,
                                          const Indexed<Thing, Rational>& values) {
        for (const Id<Thing> i : names.ids()) {
            if (!names[i]) continue;
            const z3::expr value = ctx.real_val(values[i].get_str().c_str());
            out.push_back(names[i]->first == value);
            if (names[i]->moving) out.push_back(names[i]->last == value);
        }
    };
    bits(rb.positions, c.positions);
    bits(rb.missed, c.missed);
    bits(rb.contacts, c.contacts);
    bits(rb.free_loads, c.free_loads);
    bits(rb.wiring, c.wiring);
    bits(rb.faults, c.faults);
    numbers(rb.quantities, c.quantities);
    numbers(rb.readings, c.readings);
    if (rb.booted) out.push_back(*rb.booted == ctx.bool_val(c.booted));
    if (rb.claim_moves_on) out.push_back(*rb.claim_moves_on == ctx.bool_val(c.claim_moves_on));
    if (rb.next_mode) {
        const std::size_t mode = ordinal(c.next_mode);
        out.push_back(rb.next_mode->first == ctx.bool_val((mode & 2) != 0));
        out.push_back(rb.next_mode->second == ctx.bool_val((mode & 1) != 0));
    }
    return out;
}

// The encoding names what the controller commands; the interpreter shows what comes of it.
bool may_differ_from_command(const Model& m, SignalId id) {
    const Signal& s = m.signal(id);
    if (s.kind != SignalKind::output) return false;
    const Output& o = m.outputs[s.index];
    const auto used = [&](const std::vector<FaultId>& faults) {
        return std::any_of(faults.begin(), faults.end(), [&](FaultId f) { return bool(m.faults[f].signal); });
    };
    return used(o.stuck_on_by) || used(o.stuck_off_by);
}

Stepper::Stepper(const System& system, const Model& model, ClaimId claim)
    : system_(&system), model_(&model), claim_(claim), solver_(*system.ctx) {
    solver_.add(system.all_rules());
    solver_.add(system.k == 1);
    for (const auto& v : system.state) state_.push_back(v.init);
    for (const auto& d : system.definitions)
        for (const SignalId id : model.order)
            if (model.name_of(id) == d.label.name && !may_differ_from_command(model, id)) named_.emplace_back(&d, id);
}

void Stepper::fix(const Choices& c) {
    for (std::size_t i = 0; i < state_.size(); ++i) solver_.add(system_->state[i].cur == state_[i]);
    for (const auto& e : equations(*system_, c)) solver_.add(e);
}

std::optional<bool> Stepper::legal(const Choices& c) {
    solver_.push();
    fix(c);
    const Answer a = solver_.check();
    solver_.pop();
    if (a == Answer::unknown) return std::nullopt;
    return a == Answer::satisfiable;
}

std::string Stepper::step(const Choices& c, const Scan& scan) {
    solver_.push();
    fix(c);
    // What the relaxation of two-way tables leaves open is settled by what the interpreter says of numbers.
    if (!system_->grid.empty()) {
        for (const auto& [d, id] : named_)
            if (const auto* x = std::get_if<Rational>(&scan.signals[id]))
                solver_.add(d->constant == system_->ctx->real_val(x->get_str().c_str()));
    }
    std::string wrong;
    switch (solver_.check()) {
        case Answer::satisfiable: {
            wrong = compare(scan) + compare_claim(scan);
            std::vector<z3::expr> next;
            for (const auto& v : system_->state) next.push_back(solver_.value(v.next));
            state_ = std::move(next);
            break;
        }
        case Answer::unsatisfiable:
            wrong = "the encoding does not allow the scan";
            break;
        case Answer::unknown:
            wrong = "the solver gave up";
            break;
    }
    solver_.pop();
    return wrong;
}

std::string Stepper::compare(const Scan& scan) {
    std::string wrong;
    for (const auto& [d, id] : named_) {
        const Value& v = scan.signals[id];
        if (const auto* b = std::get_if<bool>(&v)) {
            if (solver_.holds(d->constant) != *b)
                wrong += d->label.name + " is " + (*b ? "on" : "off") + " for the interpreter only; ";
        } else if (const auto* x = std::get_if<Rational>(&v)) {
            const Rational y = exact(solver_.value(d->constant));
            if (y != *x) wrong += d->label.name + " is " + x->get_str() + ", encoded " + y.get_str() + "; ";
        }
    }
    return wrong;
}

std::string Stepper::compare_claim(const Scan& scan) {
    if (!claim_) return {};
    const auto& body = model_->claims[claim_].body;
    const bool bad = solver_.holds(system_->bad), demand = solver_.holds(system_->demand);
    if (std::holds_alternative<Possible>(body)) return bad == scan.goal ? "" : "the goal differs; ";
    if (std::holds_alternative<Recoverable>(body))
        return bad == scan.goal && demand == scan.demanded ? "" : "the goal or when it counts differs; ";
    std::string wrong;
    if (std::holds_alternative<Procedure>(body)) {
        broken_ = broken_ || scan.violated;
        if (bad && !broken_) wrong += "the procedure fails in the encoding only; ";
        if (scan.violated && !bad) wrong += "the procedure fails for the interpreter only; ";
        if (scan.demanded && !demand) wrong += "the procedure is judged by the interpreter only; ";
        return wrong;
    }
    if (bad != scan.violated)
        wrong += std::string("the claim is broken ") + (bad ? "in the encoding only; " : "for the interpreter only; ");
    if (demand != scan.demanded) wrong += "the claim's demand differs; ";
    return wrong;
}

std::string state_text(const std::vector<z3::expr>& state) {
    std::string out;
    for (const auto& v : state) out += v.to_string() + ' ';
    return out;
}

}  // namespace lanyard::test
