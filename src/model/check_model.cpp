#include "lang/print.hpp"
#include "model/build.hpp"
#include "model/compile_report.hpp"
#include "model/ranges.hpp"

namespace lanyard::model {

namespace {

constexpr long longest_rate = 200;  // scans: a rate remembers that many values

class Checks {
 public:
    explicit Checks(Build& b) : b_(b), m_(b.model), ranges_(b.model) {}

    void run() {
        for (const SignalId id : m_.order) {
            const Signal& s = m_.signal(id);
            look_at(definition(m_, id), s.pointer, false);
            if (s.kind == SignalKind::output) constant_output(s, definition(m_, id));
        }
        look_at(m_.supply.on, "/supply", true);
        for (const auto& q : m_.quantities)
            for (const auto& l : q.lines) look_at(l.when, l.pointer, true);
        for (const auto& c : m_.conditions)
            for (const auto& h : c.holds) look_at(h, "", true);
        for (const auto& c : m_.claims) look_at_claim(c);
        // Where something is wrong, it may well be what was meant to read an input.
        if (b_.reading.out().has_errors()) return;
        for (const auto& s : m_.switches)
            if (s.seen_by_controller) unread(s.position);
        for (const auto& s : m_.sensors) unread(s.signal);
        for (const auto& s : m_.wired_inputs) unread(s.signal);
        for (const auto& s : m_.loops) unread(s.signal);
    }

 private:
    void look_at_claim(const Claim& c) {
        std::optional<ReportAbout> report;
        if (!c.rule.empty()) report.emplace(b_, "rule claim " + quoted(c.id));
        for (const auto& e : expressions_of(c)) look_at(e, c.pointer, true);
    }

    void look_at(const ExprPtr& e, const std::string& pointer, bool outside) {
        if (e == nullptr) return;
        visit(e, [&](const Expr& part) {
            comparison(part, pointer, outside);
            timer(part, pointer);
            rate(part, pointer);
        });
    }

    std::string text_of(const Expr& e) const {
        return print(
            e, [&](SignalId id) { return m_.name_of(id); }, [&](TableId id) { return m_.tables[id].name; });
    }

    void comparison(const Expr& e, const std::string& pointer, bool outside) {
        if (!is_comparison(e.op) || e.args[0]->type.kind != TypeKind::number) return;
        const auto truth = ranges_.truth(e, outside);
        if (!truth) return;
        const Expr& side = e.args[0]->op == Op::number ? *e.args[1] : *e.args[0];
        std::string why;
        if (const auto range = ranges_.of(side, outside); range && side.op != Op::number)
            why = "`" + text_of(side) + "` lies within " + range_text(*range, side);
        b_.reading.warning("never-changes", pointer, e.place,
                           "`" + text_of(e) + "` is " + (*truth ? "always true" : "never true"), why, range_hint(side));
    }

    std::string range_text(const Interval& i, const Expr& e) const {
        const Unit unit = unit_for(m_, e);
        const bool difference = !e.type.dimension.is_temperature() || e.type.difference;
        return print_value(i.lo, unit, difference) + " .. " + print_value(i.hi, unit, difference);
    }

    // The range may be one that nobody wrote.
    std::string range_hint(const Expr& e) const {
        if (e.op != Op::signal && e.op != Op::last) return "";
        const Signal& s = m_.signal(e.signal);
        QuantityId quantity = s.kind == SignalKind::quantity ? s.index.to<Quantity>() : QuantityId{};
        if (s.kind == SignalKind::reading) quantity = m_.sensors[s.index].quantity;
        if (!quantity || !m_.quantities[quantity].range_is_default) return "";
        const auto& name = m_.name_of(m_.quantities[quantity].signal);
        return "the range of " + name + " is common practice; give it another one in \"quantities\"";
    }

    void timer(const Expr& e, const std::string& pointer) {
        if (!is_clock(e.op) || e.value == 0 || e.value >= m_.scan) return;
        b_.reading.warning("timer-below-scan", pointer, e.place,
                           std::string("the time of this `") + op_word(e.op) + "` is shorter than a scan",
                           "time is counted in scans of " + print_value(m_.scan, find_unit("ms").value(), true) +
                               ", so it acts like one scan");
    }

    void rate(const Expr& e, const std::string& pointer) {
        if (e.op != Op::rate || scans_up(e.value, m_.scan) <= longest_rate) return;
        b_.reading.error("rate-too-long", pointer, e.place,
                         "the time of this `rate` is longer than " + std::to_string(longest_rate) + " scans",
                         "every value in between has to be stored", "use a shorter time");
    }

    void constant_output(const Signal& s, const ExprPtr& e) {
        if (e == nullptr) return;
        std::string value;
        if (const auto truth = ranges_.truth(*e, false)) value = *truth ? "always on" : "always off";
        const auto range = ranges_.of(*e, false);
        if (range && range->lo == range->hi) value = "always " + print_value(range->lo, *s.unit, true);
        if (value.empty()) return;
        b_.reading.warning("constant-output", s.pointer, s.place, "the output `" + s.name + "` is " + value,
                           "no input ever changes it");
    }

    void unread(SignalId id) {
        const Signal& s = m_.signal(id);
        if (b_.mentioned.count(s.name) > 0) return;
        b_.reading.warning("unread-input", s.pointer, s.place, "nothing reads the input `" + s.name + "`",
                           "neither the logic nor any claim uses it", "remove it, or use it");
    }

    Build& b_;
    const Model& m_;
    Ranges ranges_;
};

}  // namespace

void check_model(Build& b) { Checks(b).run(); }

}  // namespace lanyard::model
