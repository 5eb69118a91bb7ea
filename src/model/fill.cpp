#include "model/fill.hpp"

#include "model/scopes.hpp"

namespace lanyard {

namespace {

constexpr const char* hole_prefix = "hole_";

// Numbers above those of all signals.
constexpr std::size_t first_hole = 1'000'000'000;
SignalId hole_signal(std::size_t index) { return SignalId(first_hole + index); }

class TemplateScope : public ClaimScope {
 public:
    TemplateScope(Build& b, std::size_t holes) : ClaimScope(b), holes_(holes) {}

    std::optional<Symbol> find(const std::string& name) const override {
        for (std::size_t i = 0; i < holes_; ++i)
            if (name == hole_name(i)) return Symbol{Op::signal, hole_signal(i), Type::boolean()};
        return ClaimScope::find(name);
    }

 private:
    std::size_t holes_;
};

ExprPtr put_in(const ExprPtr& e, const std::vector<ExprPtr>& fillings) {
    if (e->op == Op::signal && e->signal >= hole_signal(0)) return fillings[e->signal.index() - first_hole];
    if (e->args.empty()) return e;
    auto copy = std::make_shared<Expr>(*e);
    for (auto& a : copy->args) a = put_in(a, fillings);
    return copy;
}

}  // namespace

std::string hole_name(std::size_t index) { return hole_prefix + std::to_string(index + 1); }

ExprPtr fill(Build& b, const LocatedText& text, const std::vector<ExprPtr>& fillings, Element owner) {
    b.owner = owner;
    TemplateScope scope(b, fillings.size());
    const ExprPtr e = compile(text, scope, Type::boolean(), b.reading.out());
    return e == nullptr ? nullptr : put_in(e, fillings);
}

}  // namespace lanyard
