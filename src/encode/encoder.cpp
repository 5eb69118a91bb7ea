#include "encode/encoder.hpp"

#include <algorithm>

#include "base/log.hpp"
#include "claims/cone.hpp"

namespace lanyard::encode {

z3::expr System::all_rules() const {
    z3::expr_vector all(*ctx);
    for (const auto& d : definitions) all.push_back(d.constant == d.value);
    for (const auto& r : rules) all.push_back(r.holds);
    return all_of(all);
}

std::optional<std::size_t> System::place(const StateKey& key) const {
    for (std::size_t i = 0; i < state.size(); ++i)
        if (state[i].key == key) return i;
    return std::nullopt;
}

Renaming::Renaming(const System& s, const std::string& suffix)
    : states_(s.state.size()), inputs_(s.inputs.size()), from_(*s.ctx), to_(*s.ctx) {
    const auto add = [&](const z3::expr& e) {
        from_.push_back(e);
        to_.push_back(s.ctx->constant((e.decl().name().str() + "@" + suffix).c_str(), e.get_sort()));
    };
    for (const auto& v : s.state) add(v.cur);
    for (const auto& i : s.inputs) add(i.var);
    add(s.k);
    for (const auto& d : s.definitions) add(d.constant);
}

z3::expr Renaming::operator()(const z3::expr& e) const {
    z3::expr copy = e;
    return copy.substitute(from_, to_);
}

System Encoder::build() {
    const Model& m = system_.model();
    const auto& with = system_.options().with;
    // In dependency order, so that no long chain of definitions is walked recursively.
    monitor_.set_switches();
    // What of the wiring matters is known once its formulas are there; they bring in what they need.
    const Cone cone = cone_of(
        m, condition_, claim_, [](SignalId, const auto&) {}, with);
    for (SignalId id : m.order) {
        if (!cone.has(id)) continue;
        if (m.signal(id).type.kind == TypeKind::number)
            signals_.number(id);
        else
            signals_.signal(id);
    }
    for (const QuantityId q : with) world_.quantity(q);
    conditions_.add_lines();
    monitor_.watch();
    system_.make_pending();
    faults_.limit();
    products_.finish();
    return system_.finish();
}

System encode(z3::context& ctx, const Model& model, ConditionId condition, ClaimId claim,
              const EncodeOptions& options) {
    const logging::Stopwatch watch;
    System s = Encoder(ctx, model, condition, claim, options).build();
    LANYARD_LOG(debug, "encoded: {} state variables, {} inputs, {} rules, {} answers of the wiring, {:.3f} s",
                s.state.size(), s.inputs.size(), s.rules.size(),
                std::count_if(s.readback.wiring.begin(), s.readback.wiring.end(),
                              [](const auto& answer) { return answer.has_value(); }),
                watch.seconds());
    return s;
}

}  // namespace lanyard::encode
