#include "prove/bounded.hpp"
#include "prove/directed.hpp"
#include "prove/lemmas.hpp"

namespace lanyard {

const std::vector<ProverKind>& prover_table() {
    static const std::vector<ProverKind> table = {
        {"bounded", "bounded search, shortest run first (refutes only)", 2, 0, make_bounded},
        {"directed", "property-directed reachability", 1, 0, make_directed},
        {"lemmas", "lemma templates kept by Houdini, k-induction, then property-directed with them", 1, 400'000,
         make_lemmas},
    };
    return table;
}

}  // namespace lanyard
