#include "certify/facts.hpp"

#include <algorithm>

namespace lanyard::certify {

namespace {

constexpr std::int64_t most = 1'000'000'000;  // counts are small

class FactReader {
 public:
    explicit FactReader(const System& s) {
        for (const auto& v : s.state) keys_.emplace(v.cur.id(), v.key);
    }

    // A lemma may be nested deeply.
    void read(const z3::expr& lemma) {
        std::vector<z3::expr> open{lemma};
        while (!open.empty()) {
            const z3::expr e = open.back();
            open.pop_back();
            if (e.is_and())
                for (unsigned i = e.num_args(); i-- > 0;) open.push_back(e.arg(i));
            else
                literal(e.is_not() ? e.arg(0) : e, !e.is_not());
        }
    }
    Facts facts;

 private:
    void literal(const z3::expr& e, bool holds) {
        if (!e.is_app()) return;
        if (const auto bit = keys_.find(e.id()); bit != keys_.end())
            facts.fixed.insert_or_assign(bit->second, holds);
        else if (e.num_args() == 2)
            comparison(e, holds);
    }
    void comparison(const z3::expr& e, bool holds) {
        const auto count = keys_.find(e.arg(0).id());
        std::int64_t number = 0;
        if (count == keys_.end() || !e.arg(0).is_int() || !e.arg(1).is_numeral() || !e.arg(1).is_numeral_i64(number))
            return;
        const Z3_decl_kind op = e.decl().decl_kind();
        const bool at_least = holds ? op == Z3_OP_GE || op == Z3_OP_EQ : op == Z3_OP_LT;
        const bool above = holds ? op == Z3_OP_GT : op == Z3_OP_LE;
        if (number < 0 || number >= most || (!at_least && !above)) return;
        long& least = facts.at_least[count->second];
        least = std::max(least, static_cast<long>(number) + (above ? 1 : 0));
    }

    std::map<unsigned, StateKey> keys_;
};

}  // namespace

Facts facts_of(const System& s, const std::vector<z3::expr>& lemmas) {
    FactReader reader(s);
    for (const auto& lemma : lemmas) reader.read(lemma);
    return std::move(reader.facts);
}

}  // namespace lanyard::certify
