// The name of the model, its scan period, and the roles that the engine section gives to quantities.
#include "model/build.hpp"
#include "model/names.hpp"

namespace lanyard::model {

namespace {

// Shorter than any controller samples, longer than anything that protects an engine.
const Rational shortest_scan{1, 100000};
const Rational longest_scan{60};

}  // namespace

void build_head(Build& b, const ObjectReader& top) {
    Model& m = b.model;
    if (const auto name = top.text("name")) {
        m.name = name->text;
        bool control = name->text.empty();
        for (const char c : name->text) control = control || static_cast<unsigned char>(c) < 0x20 || c == 0x7F;
        if (control || name->text.size() > 200)
            b.reading.error("bad-model-name", name->pointer, name->place,
                            "the name of a model has 1 to 200 bytes and no control characters");
    }
    m.scan = Rational{1, 100};
    const auto scan = top.text("scan");
    if (!scan) return;
    const auto period = read_time(b, *scan, "the scan period", true);
    if (!period) return;
    m.scan = *period;
    if (m.scan < shortest_scan || m.scan > longest_scan)
        b.reading.error("scan-range", scan->pointer, scan->place, "the scan period must lie within 0.01 ms .. 60 s",
                        "this is a limit of lanyard: times are counted in scans");
}

void build_roles(Build& b, const ObjectReader& top) {
    const json::Value* engine = top.get("engine");
    b.has_engine = top.has("engine");
    if (engine == nullptr) return;
    for (const auto& q : standard_quantities()) {
        if (q.role.empty()) continue;
        const json::Member* m = engine->find(q.role);
        if (m != nullptr && m->value.kind == json::Kind::string)
            b.roles[q.role] = m->value.text;
        else if (m == nullptr)
            b.roles[q.role] = q.name;
    }
}

}  // namespace lanyard::model
