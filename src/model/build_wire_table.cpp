// What wires may carry: a table of the model's own, and which wires run in the engine space.
#include <algorithm>

#include "model/wiring.hpp"

namespace lanyard::model {

namespace {

struct Row {
    WireRating rating;
    LocatedText size;
};

std::optional<Row> read_row(Build& b, const Entry& e) {
    const LocatedText size{e.name, e.place, true, e.pointer};
    const auto gauge = wire_size(b, size);
    if (e.value == nullptr) return std::nullopt;
    const LocatedText text = b.reading.located(*e.value, e.pointer);
    const auto amps = compile_number(text, find_unit("A")->dimension, true, "what the wire may carry", b.reading.out());
    if (amps && amps->si <= 0)
        b.reading.error("not-above-zero", text.pointer, text.place, "what a wire may carry must be above 0");
    if (!gauge || !amps || amps->si <= 0) return std::nullopt;
    return Row{{*gauge, amps->si}, size};
}

void read_table(Build& b, const ObjectReader& circuit) {
    std::vector<Row> rows;
    for (const auto& e : circuit.entries("wire_table"))
        if (auto row = read_row(b, e)) rows.push_back(std::move(*row));
    std::stable_sort(rows.begin(), rows.end(),
                     [](const Row& x, const Row& y) { return x.rating.gauge < y.rating.gauge; });
    for (std::size_t i = 1; i < rows.size(); ++i) {
        const WireRating &thin = rows[i - 1].rating, &thick = rows[i].rating;
        if (thin.gauge < thick.gauge && thin.amps <= thick.amps) continue;
        b.reading.error("wire-table", rows[i].size.pointer, rows[i].size.place,
                        thin.gauge == thick.gauge
                            ? quoted(rows[i].size.text) + " is the same size as " + quoted(rows[i - 1].size.text)
                            : quoted(rows[i].size.text) + " may carry less than " + quoted(rows[i - 1].size.text) +
                                  ", which is thinner",
                        "a wire of a size between two rows is taken as the thinner one");
    }
    for (auto& row : rows) b.model.circuit.wire_table.push_back(std::move(row.rating));
}

void read_engine_space(Build& b, const ObjectReader& circuit) {
    std::unordered_map<std::string, const WireLine*> wires;
    std::vector<std::string> known;
    for (const auto& w : b.wires) {
        wires[w.name] = &w;
        known.push_back(w.name);
    }
    const json::Value* written = circuit.get("wires");
    for (const auto& text : circuit.texts("engine_space")) {
        const auto wire = wires.find(text.text);
        if (wire != wires.end()) {
            for (const BranchId piece : wire->second->pieces) b.model.circuit.branches[piece].in_engine_space = true;
            continue;
        }
        // A wire whose path could not be read is named rightly all the same.
        if (written != nullptr && written->find(text.text) != nullptr) continue;
        b.reading.error("unknown-wire", text.pointer, text.place, "there is no wire " + quoted(text.text), "",
                        b.reading.suggestion(text.text, known));
    }
}

}  // namespace

void build_wire_table(Build& b, const ObjectReader& circuit) {
    read_table(b, circuit);
    read_engine_space(b, circuit);
}

}  // namespace lanyard::model
