#include "model/read.hpp"

#include "base/file.hpp"
#include "model/build.hpp"
#include "model/json.hpp"

namespace lanyard::model {

namespace {

constexpr std::size_t most_diagnostics = 1000;

void build_all(Build& b, const json::Value& root) {
    b.written_units = WrittenUnits(root);
    const ObjectReader top(b.reading, object_help("model"), root, "");
    build_head(b, top);
    build_roles(b, top);
    build_quantities(b, top);
    build_inputs(b, top);
    build_tables(b, top);
    build_logic(b, top);
    build_outputs(b, top);
    build_relays(b, top);
    build_circuit(b, top);
    build_feeds(b, top);
    build_loops(b);
    build_engine(b, top);
    build_faults(b, top);
    declare_conditions(b, top);
    build_definitions(b);
    build_supply(b, top);
    build_sources(b);
    build_lines(b);
    build_conditions(b);
    build_claims(b, top);
    build_rules(b, top);
    finish_engine(b);
    check_model(b);
}

// Somebody with a thousand problems does not read on; the end of the list says how many were left out.
Diagnostics shortened(Diagnostics found) {
    found.sort_by_place();
    Diagnostics all;
    for (const auto& d : found.list()) {  // both comparisons of a band() hold the same value, and what is said of it
        const auto& list = all.list();
        const bool again =
            !list.empty() && list.back().code == d.code && list.back().place == d.place && list.back().what == d.what;
        if (!again) all.add(d);
    }
    if (all.list().size() <= most_diagnostics) return all;
    Diagnostics first;
    for (std::size_t i = 0; i < most_diagnostics; ++i) first.add(all.list()[i]);
    const std::size_t more = all.list().size() - most_diagnostics;
    first.add({"too-many-problems", Severity::error, "", all.list()[most_diagnostics].place,
               std::to_string(more) + " more problems from here on are not listed", "", ""});
    return first;
}

}  // namespace

ReadResult read_model(const std::string& shown_name, const std::string& text, const std::vector<PackPtr>& packs) {
    ReadResult result;
    result.source = SourceText(shown_name, text);
    Diagnostics syntax;
    const auto root = json::parse(result.source, json::Limits{}, syntax);
    Build b(result.source);
    b.model.packs = packs;
    for (const auto& d : syntax.list()) b.reading.add(d);
    if (root && root->kind != json::Kind::object)
        b.reading.error("wrong-json-type", "", b.reading.place(*root),
                        "a model is an object, but this is " + json::kind_words(root->kind));
    else if (root)
        build_all(b, *root);
    result.diagnostics = shortened(b.reading.out());
    if (!root || result.diagnostics.has_errors()) return result;
    b.model.source = result.source;
    b.model.sha256 = sha256_hex(text);
    result.model = std::move(b.model);
    return result;
}

}  // namespace lanyard::model
