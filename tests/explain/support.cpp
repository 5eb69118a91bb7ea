#include "support.hpp"

#include <catch2/catch.hpp>

#include "model/read.hpp"
#include "sim/script.hpp"

namespace lanyard::test {

Model explained_model(const std::string& text) {
    const ReadResult r = read_model("car.json", text);
    INFO(render(r.diagnostics, r.source));
    REQUIRE(r.model);
    return *r.model;
}

int claim_called(const Model& m, const std::string& id) {
    for (std::size_t k = 0; k < m.claims.size(); ++k)
        if (m.claims[k].id == id) return static_cast<int>(k);
    FAIL("no claim " << id);
    return -1;
}

ScriptedRun scripted(const Model& m, const std::string& text, const std::string& claim) {
    const ScriptResult script = read_script(m, "script", text);
    INFO(render(script.diagnostics, script.source));
    REQUIRE(script.script);
    const int which = claim.empty() ? -1 : claim_called(m, claim);
    const int condition = which < 0 ? 0 : m.claims[static_cast<std::size_t>(which)].condition;
    const ScriptRun played = play_script(*script.model, *script.script, condition, which);
    INFO(render(played.diagnostics, script.source));
    REQUIRE(played.diagnostics.list().empty());
    return {script.model, played.run};
}

}  // namespace lanyard::test
