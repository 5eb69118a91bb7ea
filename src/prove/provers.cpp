#include "prove/bounded.hpp"
#include "prove/directed.hpp"
#include "prove/lemmas.hpp"

namespace lanyard {

const std::vector<ProverKind>& prover_table() {
    static const std::vector<ProverKind> table = {
        {"bounded", "bounded search, shortest run first (refutes only)", make_bounded},
        {"directed", "property-directed reachability", make_directed},
        {"lemmas", "lemma templates kept by Houdini, k-induction, then property-directed with them", make_lemmas},
    };
    return table;
}

}  // namespace lanyard
