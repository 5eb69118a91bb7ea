// The supply, and the lines by which quantities follow the machine.
#include "model/build.hpp"
#include "model/make_expr.hpp"
#include "model/scopes.hpp"

namespace lanyard::model {

namespace {

bool build_line(Build& b, const PendingLine& pending, GuardedLine& line) {
    const ObjectHelp* help = choose_kind(b.reading, {"line_within", "line_changes"}, *pending.object, pending.pointer,
                                         b.reading.place(*pending.object), "the line");
    if (help == nullptr) return false;
    const ObjectReader object(b.reading, *help, *pending.object, pending.pointer);
    const Quantity& q = b.model.quantities[pending.quantity];
    const Signal s = b.model.signal(q.signal);
    line.is_change = help->id == "line_changes";
    line.healthy_only = object.word("under") == "healthy";
    line.place = object.place();
    line.pointer = pending.pointer;
    bool good = object.good() && s.unit;
    if (const auto when = object.text("when")) {
        LineScope scope(b, pending.quantity);
        line.when = compile_without_memory(b, *when, scope, Type::boolean());
        good = good && line.when != nullptr;
    } else {
        line.when = truth_expr(true, line.place);
    }
    const auto text = object.text(line.is_change ? "changes" : "within");
    if (!text || !s.unit) return false;
    std::optional<Interval> band;
    if (line.is_change) {
        const Dimension rate = s.unit->dimension / find_unit("s")->dimension;
        band = compile_interval(*text, rate, true, "the change of " + quoted(s.name), b.reading.out());
    } else {
        band = read_interval(b, *text, *s.unit, false, "the value of " + quoted(s.name));
    }
    if (!band) return false;
    line.band = *band;
    if (line.is_change || inside(*band, q.range)) return good;
    b.reading.error("band-outside-range", text->pointer, text->place,
                    "the values " + interval_text(*band, *s.unit) + " do not lie within the range " +
                        interval_text(q.range, *s.unit) + " of `" + s.name + "`",
                    "the range is everything that is physically possible");
    return false;
}

}  // namespace

void build_supply(Build& b, const ObjectReader& top) {
    const auto* v = top.get("supply");
    if (v == nullptr) return;
    Supply& supply = b.model.supply;
    supply.place = b.reading.place(*v);
    std::optional<LocatedText> when;
    if (v->kind == json::Kind::string) {
        when = b.reading.located(*v, top.pointer("supply"));
    } else {
        const ObjectReader object(b.reading, object_help("supply"), *v, top.pointer("supply"));
        when = object.text("when");
        if (const auto boots = object.text("boots_in"))
            supply.boots_in = read_times(b, *boots, "the time to boot").value_or(Interval{0, 0});
    }
    if (!when) return;
    SupplyScope scope(b);
    supply.on = compile_without_memory(b, *when, scope, Type::boolean());
}

void build_lines(Build& b) {
    for (const auto& pending : b.lines) {
        GuardedLine line;
        if (build_line(b, pending, line)) b.model.quantities[pending.quantity].lines.push_back(std::move(line));
    }
}

}  // namespace lanyard::model
