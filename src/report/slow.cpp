#include "report/slow.hpp"

#include <algorithm>
#include <set>

#include "claims/cone.hpp"
#include "lang/operators.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

class Comparisons {
 public:
    explicit Comparisons(const Model& m) : m_(m) {}

    void add(const ExprPtr& whole) {
        visit(whole, [&](const Expr& e) {
            if (class_of(e.op) != OpClass::comparison || e.args[0]->type.kind != TypeKind::number) return;
            std::set<std::string> both;
            for (const auto& side : e.args) numbers(side, both);
            if (both.size() < 2) return;
            const std::string text = short_text(m_, e, longest_summary);
            if (std::find(found_.begin(), found_.end(), text) == found_.end()) found_.push_back(text);
        });
    }
    std::vector<std::string> take() { return std::move(found_); }

 private:
    // The numbers that may change from scan to scan.
    void numbers(const ExprPtr& e, std::set<std::string>& out) const {
        if (e->op == Op::signal) {
            const Signal& s = m_.signal(e->signal);
            if (s.type.kind != TypeKind::number) return;
            if (s.kind == SignalKind::logic)
                numbers(definition(m_, e->signal), out);
            else
                out.insert(s.name);
        } else if (has_memory(e->op)) {
            out.insert(text_of(m_, *e));
        } else {
            for (const auto& a : e->args) numbers(a, out);
        }
    }

    const Model& m_;
    std::vector<std::string> found_;
};

}  // namespace

std::vector<std::string> comparisons_of_two(const Model& m, ClaimId claim) {
    const Cone cone = cone_of(m, m.claims[claim].condition, claim);
    Comparisons all(m);
    for (const SignalId id : m.order)
        if (cone.has(id)) all.add(definition(m, id));
    for (const auto& e : m.conditions[m.claims[claim].condition].holds) all.add(e);
    for (const auto& e : expressions_of(m.claims[claim])) all.add(e);
    return all.take();
}

}  // namespace lanyard::report
