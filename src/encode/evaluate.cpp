#include "encode/evaluate.hpp"

#include "encode/unroll.hpp"

namespace lanyard::encode {

Evaluator::Evaluator(const std::vector<z3::expr>& constants, const std::vector<z3::expr>& terms) {
    for (const auto& c : constants) constants_.push_back(leaf(c));
    for (const auto& t : terms) terms_.push_back(add(t));
}

std::size_t Evaluator::leaf(const z3::expr& e) {
    const auto found = places_.find(e.id());
    if (found != places_.end()) return found->second;
    Node n;
    n.op = e.decl().decl_kind();
    n.real = e.is_real();
    for (unsigned i = 0; i < e.num_args(); ++i) n.args.push_back(places_.at(e.arg(i).id()));
    n.real_arguments = e.num_args() > 0 && e.arg(e.num_args() - 1).is_real();
    const std::size_t place = nodes_.size();
    longs_.push_back(0);
    reals_.emplace_back(0);
    if (e.is_numeral()) {
        n.op = Z3_OP_ANUM;
        if (n.real)
            reals_.back() = exact(e);
        else
            longs_.back() = exact(e).get_num().get_si();
    }
    nodes_.push_back(std::move(n));
    places_.emplace(e.id(), place);
    kept_.push_back(e);  // its number stays taken
    return place;
}

// Children first, without recursion.
std::size_t Evaluator::add(const z3::expr& root) {
    std::vector<z3::expr> open{root};
    while (!open.empty()) {
        const z3::expr e = open.back();
        bool ready = true;
        for (unsigned i = 0; i < e.num_args(); ++i)
            if (!places_.contains(e.arg(i).id())) {
                open.push_back(e.arg(i));
                ready = false;
            }
        if (!ready) continue;
        open.pop_back();
        leaf(e);
    }
    return places_.at(root.id());
}

void Evaluator::set(std::size_t constant, const Rational& value) {
    const std::size_t i = constants_[constant];
    if (nodes_[i].real)
        reals_[i] = value;
    else
        longs_[i] = value.get_num().get_si();
}

void Evaluator::set(std::size_t constant, long value) {
    const std::size_t i = constants_[constant];
    if (nodes_[i].real)
        reals_[i] = value;
    else
        longs_[i] = value;
}

void Evaluator::run() {
    for (std::size_t i = 0; i < nodes_.size(); ++i)
        if (nodes_[i].op != Z3_OP_ANUM && nodes_[i].op != Z3_OP_UNINTERPRETED) compute(i);
}

long Evaluator::whole(std::size_t term) const { return longs_[terms_[term]]; }
const Rational& Evaluator::number(std::size_t term) const { return reals_[terms_[term]]; }

int Evaluator::compare(std::size_t a, std::size_t b, bool real) const {
    if (real) return cmp(reals_[a], reals_[b]);
    return longs_[a] < longs_[b] ? -1 : longs_[a] > longs_[b] ? 1 : 0;
}

long Evaluator::truth(const Node& n) const {
    const auto& a = n.args;
    const auto all = [&](long wanted) {
        for (const std::size_t i : a)
            if (longs_[i] != wanted) return false;
        return true;
    };
    switch (static_cast<int>(n.op)) {
        case Z3_OP_TRUE:
            return 1;
        case Z3_OP_FALSE:
            return 0;
        case Z3_OP_AND:
            return all(1) ? 1 : 0;
        case Z3_OP_OR:
            return all(0) ? 0 : 1;
        case Z3_OP_NOT:
            return 1 - longs_[a[0]];
        case Z3_OP_IMPLIES:
            return longs_[a[0]] == 0 || longs_[a[1]] != 0 ? 1 : 0;
        case Z3_OP_XOR:
        case Z3_OP_DISTINCT:
            return compare(a[0], a[1], n.real_arguments) != 0 ? 1 : 0;
        case Z3_OP_EQ:
        case Z3_OP_IFF:
            return compare(a[0], a[1], n.real_arguments) == 0 ? 1 : 0;
        case Z3_OP_LE:
            return compare(a[0], a[1], n.real_arguments) <= 0 ? 1 : 0;
        case Z3_OP_GE:
            return compare(a[0], a[1], n.real_arguments) >= 0 ? 1 : 0;
        case Z3_OP_LT:
            return compare(a[0], a[1], n.real_arguments) < 0 ? 1 : 0;
        case Z3_OP_GT:
            return compare(a[0], a[1], n.real_arguments) > 0 ? 1 : 0;
        default:
            throw Unsupported{"a term that cannot be evaluated"};
    }
}

void Evaluator::arithmetic(const Node& n, std::size_t i) {
    const auto fold = [&](auto& values, auto f) {
        values[i] = values[n.args[0]];
        for (std::size_t j = 1; j < n.args.size(); ++j) f(values[i], values[n.args[j]]);
    };
    const auto both = [&](auto f) { n.real ? fold(reals_, f) : fold(longs_, f); };
    switch (static_cast<int>(n.op)) {
        case Z3_OP_ADD:
            both([](auto& x, const auto& y) { x += y; });
            break;
        case Z3_OP_SUB:
            both([](auto& x, const auto& y) { x -= y; });
            break;
        case Z3_OP_MUL:
            both([](auto& x, const auto& y) { x *= y; });
            break;
        case Z3_OP_UMINUS:
            if (n.real)
                reals_[i] = -reals_[n.args[0]];
            else
                longs_[i] = -longs_[n.args[0]];
            break;
        case Z3_OP_DIV:
            reals_[i] = reals_[n.args[1]] == 0 ? Rational(0) : Rational(reals_[n.args[0]] / reals_[n.args[1]]);
            break;
        case Z3_OP_TO_REAL:
            reals_[i] = longs_[n.args[0]];
            break;
        default:
            throw Unsupported{"a term that cannot be evaluated"};
    }
}

void Evaluator::compute(std::size_t i) {
    const Node& n = nodes_[i];
    if (n.op == Z3_OP_ITE) {
        const std::size_t from = longs_[n.args[0]] != 0 ? n.args[1] : n.args[2];
        if (n.real)
            reals_[i] = reals_[from];
        else
            longs_[i] = longs_[from];
        return;
    }
    const bool number = n.real || n.op == Z3_OP_ADD || n.op == Z3_OP_SUB || n.op == Z3_OP_MUL || n.op == Z3_OP_UMINUS;
    if (number)
        arithmetic(n, i);
    else
        longs_[i] = truth(n);
}

}  // namespace lanyard::encode
