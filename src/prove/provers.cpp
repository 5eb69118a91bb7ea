#include "prove/provers.hpp"

#include <algorithm>

namespace lanyard::prove {

const std::vector<ProverKind>& prover_table() {
    static const std::vector<ProverKind> table = {
        {"bounded", "bounded search, shortest run first (refutes only)", 8, 0, false, make_bounded},
        {"directed", "property-directed reachability", 1, 0, true, make_directed},
        {"lemmas",
         "lemma templates, kept where they are inductive together, k-induction, then property-directed with them", 1,
         400'000, true, make_lemmas},
    };
    return table;
}

const ProverKind& prover_named(const std::string& name) {
    const auto& all = prover_table();
    return *std::find_if(all.begin(), all.end(), [&](const ProverKind& kind) { return kind.name == name; });
}

}  // namespace lanyard::prove
