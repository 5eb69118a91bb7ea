// What has a say in a claim, and which quantities may end a run, in models small enough to see it.
#include "claims/cone.hpp"

#include <set>

#include "../models.hpp"
#include "claims/binding.hpp"

using namespace lanyard::claims;
using namespace lanyard::test;

namespace {

using Names = std::set<std::string>;

const std::string two_halves =
    "'inputs': {'key': 'maintained', 'spare': 'maintained', 'oil': {'senses': 'oil_pressure'}}, "
    "'logic': {'low': 'TON(oil < 1 bar, 1 s)'}, 'outputs': {'pump': 'key AND NOT low', 'lamp': 'spare'}, "
    "'claims': {'pump': {'always': 'key -> pump'}, 'lamp': {'always': 'spare -> lamp'}}";

// `powered` is the controller's power, without which no output is on.
Names names_in(const Model& m, const Cone& cone) {
    Names out;
    for (const auto& id : cone.signals) out.insert(m.name_of(id));
    return out;
}

}  // namespace

TEST_CASE("the cone of a claim holds what its names are made of, and nothing else") {
    const Model m = model_of(two_halves);
    const Cone pump = cone_of(m, any_condition, claim_named(m, "pump"));
    const Cone lamp = cone_of(m, any_condition, claim_named(m, "lamp"));
    CHECK(names_in(m, pump) == Names{"key", "low", "oil", "oil_pressure", "powered", "pump"});
    CHECK(pump.elements.size() == 1);
    CHECK(names_in(m, lamp) == Names{"lamp", "powered", "spare"});
    CHECK(lamp.elements.empty());
    CHECK(names_in(m, whole_model(m)) ==
          Names{"key", "lamp", "low", "oil", "oil_pressure", "powered", "pump", "spare"});
}

TEST_CASE("quantities that have to move, or to be where they may not get, bind a run") {
    const auto binding = [](const std::string& lines) {
        const Model m = model_of("'quantities': {'x': {'range': '0 .. 5 V', 'follows': [" + lines +
                                 "]}}, 'inputs': {'a': 'maintained'}, 'outputs': {'q': 'a'}, "
                                 "'claims': {'c': {'always': 'a -> q'}}");
        return !binding_quantities(m, any_condition, ClaimId(0)).empty();
    };
    CHECK(!binding("{'changes': '-1 .. 1 V/s'}"));
    CHECK(!binding("{'within': '0 .. 3 V'}, {'within': '2 .. 5 V', 'when': 'a'}"));
    CHECK(binding("{'changes': '1 .. 2 V/s'}"));
    CHECK(binding("{'within': '0 .. 1 V'}, {'within': '2 .. 5 V', 'when': 'a'}"));
    CHECK(binding("{'changes': '-1 .. 1 V/s'}, {'within': '0 .. 4 V', 'when': 'a'}"));
}
