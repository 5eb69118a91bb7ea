// What it decides: the prime implicants of a function given by its decision diagram; of a coherent function these are
// its minimal cut sets.
// Why it is right: let f be "if x then f1 else f0" with f1, f0 free of x. A product without x implies f exactly if it
// implies f1 and f0, so the primes without x are primes(f1 and f0). A prime `x p` has a p that is prime of f1 but does
// not imply f0: if it did, x could be left out. A p that is prime of f1 and implies f0 is prime of (f1 and f0) as well,
// and a prime of (f1 and f0) implies f0; so those p are primes(f1) without the members of primes(f1 and f0). In the
// same way for `(not x) p`. A function is monotone exactly if all its primes are free of negations (Quine), and then
// they are its minimal cut sets: with f0 <= f1 the rule is Rauzy's, whose "without" is then a plain difference.
// How: sets of products are kept as zero-suppressed diagrams over literals (x of event i is 2 i, its negation 2 i + 1),
// so that neither the sets nor their parts are listed before their number is known.
// When it gives up: too many nodes or too many products: TooLarge. Recursion goes down by literals, at most two for
// each event.
// Sources: O. Coudert, J.-C. Madre, Fault tree analysis: 10^20 prime implicants and beyond, RAMS 1993; A. Rauzy, New
// algorithms for fault trees analysis, Reliability Engineering and System Safety 40 (1993); S. Minato, Zero-suppressed
// BDDs for set manipulation in combinatorial problems, DAC 1993; W. V. Quine, Two theorems about truth functions,
// Boletin de la Sociedad Matematica Mexicana 10 (1953).
// Tested by: tests/fault/handbook_test.cpp, tests/fault/random_test.cpp, tests/fault/scram_test.py
#include "fault/cut_sets.hpp"

#include <algorithm>
#include <map>
#include <string>
#include <tuple>
#include <utility>

namespace lanyard::fault {

namespace {

// Sets of products. 0 is no product at all, 1 is the empty product alone.
class Products {
 public:
    explicit Products(std::size_t max_nodes) : max_nodes_(max_nodes), nodes_{{none, 0, 0}, {none, 1, 1}} {}

    using Set = std::uint32_t;

    // Literal times each of `with`, and each of `without`; neither has the literal or an earlier one in it.
    Set make(std::size_t literal, Set with, Set without) {
        if (with == 0) return without;
        const auto [place, fresh] = unique_.try_emplace({literal, with, without}, static_cast<Set>(nodes_.size()));
        if (!fresh) return place->second;
        if (nodes_.size() >= max_nodes_) {
            unique_.erase(place);
            throw TooLarge("the diagram of the cut sets has more than " + std::to_string(max_nodes_) + " nodes");
        }
        nodes_.push_back({literal, with, without});
        return place->second;
    }

    Set difference(Set a, Set b) {
        if (a == b || a == 0) return 0;
        if (b == 0) return a;
        if (const auto found = differences_.find({a, b}); found != differences_.end()) return found->second;
        if (differences_.size() / answers_per_node >= max_nodes_) throw TooLarge("the cut sets take too many steps");
        const Node x = nodes_[a];
        const Node y = nodes_[b];
        Set out = 0;
        if (x.literal < y.literal)
            out = make(x.literal, x.with, difference(x.without, b));
        else if (x.literal > y.literal)
            out = difference(a, y.without);
        else
            out = make(x.literal, difference(x.with, y.with), difference(x.without, y.without));
        differences_.emplace(std::pair{a, b}, out);
        return out;
    }

    // A double counts far enough: only whether the limit is passed matters.
    double count(Set s) const {
        std::vector<double> counts{0, 1};
        for (Set n = 2; n <= s; ++n) counts.push_back(counts[nodes_[n].with] + counts[nodes_[n].without]);
        return counts[s];
    }

    void list(Set s, Implicant& begun, std::vector<Implicant>& out) const {
        for (; s > 1; s = nodes_[s].without) {
            auto& side = nodes_[s].literal % 2 == 0 ? begun.failed : begun.works;
            side.push_back(nodes_[s].literal / 2);
            list(nodes_[s].with, begun, out);
            side.pop_back();
        }
        if (s == 1) out.push_back(begun);
    }

 private:
    static constexpr std::size_t none = 2 * Diagrams::max_events;  // behind all literals
    static constexpr std::size_t answers_per_node = 4;
    struct Node {
        std::size_t literal;
        Set with, without;
    };

    std::size_t max_nodes_;
    std::vector<Node> nodes_;
    std::map<std::tuple<std::size_t, Set, Set>, Set> unique_;
    std::map<std::pair<Set, Set>, Set> differences_;
};

class Primes {
 public:
    explicit Primes(Diagrams& s) : structure_(s), products_(s.max_nodes()) {}

    Products::Set of(Function f) {
        if (structure_.is_constant(f)) return f == structure_.constant(true) ? 1 : 0;
        if (const auto found = known_.find(f.node); found != known_.end()) return found->second;
        const Function on = structure_.on(f);
        const Function off = structure_.off(f);
        const auto both = of(structure_.conjunction({on, off}));
        const auto failed = products_.difference(of(on), both);
        const auto works = products_.difference(of(off), both);
        const std::size_t literal = 2 * structure_.event_of(f);
        const auto out = products_.make(literal, failed, products_.make(literal + 1, works, both));
        known_.emplace(f.node, out);
        return out;
    }

    std::vector<Implicant> list(Function f, std::size_t limit) {
        const auto set = of(f);
        if (products_.count(set) > static_cast<double>(limit))
            throw TooLarge("there are more than " + std::to_string(limit) + " cut sets or prime implicants");
        std::vector<Implicant> out;
        Implicant begun;
        products_.list(set, begun, out);
        return out;
    }

 private:
    Diagrams& structure_;
    Products products_;
    std::map<std::uint32_t, Products::Set> known_;
};

auto order_of(const Implicant& i) {
    return std::tuple<std::size_t, const CutSet&, const CutSet&>(i.failed.size() + i.works.size(), i.failed, i.works);
}

}  // namespace

// Monotone exactly if each part is monotone in the event that it asks for: off implies on. (A part is a restriction of
// the function, and the function is monotone in all events if its branches are and the lower one implies the upper.)
bool is_coherent(Diagrams& s, Function f) {
    for (const Function part : s.parts(f))
        if (s.if_then_else(s.on(part), s.constant(false), s.off(part)) != s.constant(false)) return false;
    return true;
}

std::vector<Implicant> prime_implicants(Diagrams& s, Function f, std::size_t limit) {
    auto out = Primes(s).list(f, limit);
    std::sort(out.begin(), out.end(), [](const Implicant& a, const Implicant& b) { return order_of(a) < order_of(b); });
    return out;
}

std::vector<CutSet> minimal_cut_sets(Diagrams& s, Function f, std::size_t limit) {
    if (!is_coherent(s, f)) throw std::invalid_argument("minimal cut sets of a function that is not coherent");
    std::vector<CutSet> out;
    for (Implicant& one : prime_implicants(s, f, limit)) out.push_back(std::move(one.failed));
    return out;
}

}  // namespace lanyard::fault
