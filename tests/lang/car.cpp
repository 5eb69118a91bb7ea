#include "car.hpp"

#include <algorithm>

#include "lang/print.hpp"

namespace lanyard::test {

using namespace lang;

namespace {

Type measured_in(const char* unit, bool difference = true) { return Type::number(dimension(unit), difference); }

bool same(const Expr& a, const Expr& b, std::map<ElementId, ElementId>& there, std::map<ElementId, ElementId>& back) {
    const bool equal = a.op == b.op && a.type == b.type && a.flag == b.flag && a.value == b.value && a.mode == b.mode &&
                       a.signal == b.signal && a.table == b.table && a.count == b.count &&
                       a.args.size() == b.args.size();
    if (!equal) return false;
    if (has_memory(a.op)) {
        if (there.emplace(a.element, b.element).first->second != b.element) return false;
        if (back.emplace(b.element, a.element).first->second != a.element) return false;
    }
    for (std::size_t i = 0; i < a.args.size(); ++i)
        if (!same(*a.args[i], *b.args[i], there, back)) return false;
    return true;
}

}  // namespace

Dimension dimension(const std::string& unit) { return unit.empty() ? Dimension{} : find_unit(unit).value().dimension; }

Car::Car(View view) : view_(view) {
    const Type on_off = Type::boolean();
    signals_ = {
        {"key", on_off},
        {"start", on_off},
        {"trip", on_off},
        {"pump", on_off},
        {"oil", measured_in("psi")},
        {"fuel", measured_in("psi")},
        {"coolant", measured_in("degC", false)},
        {"gearbox", measured_in("degC", false)},
        {"warmer", measured_in("K")},
        {"speed", measured_in("rpm")},
        {"road_speed", measured_in("km/h")},
        {"batt", measured_in("V")},
        {"fan", measured_in("%")},
        {"lambda", measured_in("")},
    };
    if (view_ == View::claims) signals_.push_back({"engine", Type::of_mode()});
    tables_ = {
        {"fan_map", {measured_in("degC", false)}, measured_in("%")},
        {"oil_map", {measured_in("rpm"), measured_in("degC", false)}, measured_in("psi")},
        {"sag_map", {measured_in("K")}, measured_in("V")},
        {"set_map", {measured_in("rpm")}, measured_in("degC", false)},
    };
}

std::optional<Symbol> Car::find(const std::string& name) const {
    for (const SignalId s : signals_.ids())
        if (signals_[s].name == name) return Symbol{Op::signal, s, signals_[s].type};
    return std::nullopt;
}

std::optional<Scope::Refusal> Car::refusal(const std::string& name) const {
    if (view_ != View::logic) return std::nullopt;
    if (name == "oil_pressure")
        return Refusal{"the controller cannot see oil_pressure; it sees it through the input oil", "write `oil`"};
    if (name == "engine") return Refusal{"the controller does not know what the engine is doing", "use its speed"};
    return std::nullopt;
}

std::vector<std::string> Car::names() const {
    std::vector<std::string> all;
    for (const auto& s : signals_) all.push_back(s.name);
    return all;
}

std::optional<TableShape> Car::find_table(const std::string& name) const {
    for (const TableId t : tables_.ids())
        if (tables_[t].name == name) return TableShape{t, tables_[t].axes, tables_[t].value};
    return std::nullopt;
}

std::vector<std::string> Car::table_names() const {
    std::vector<std::string> all;
    for (const auto& t : tables_) all.push_back(t.name);
    return all;
}

ElementId Car::new_element(Op op) { return elements_.add(op); }

std::vector<std::string> Car::names_of(const Type& type) const {
    std::vector<std::string> all;
    for (const auto& s : signals_)
        if (s.type == type) all.push_back(s.name);
    return all;
}

LocatedText located(const std::string& text) { return {text, {1, 1, text.size()}, false, "/here"}; }

Compiled compile_in(Car& car, const std::string& text, std::optional<Type> wanted) {
    Diagnostics out;
    Compiled result;
    result.expr = compile(located(text), car, wanted, out);
    out.sort_by_place();
    result.messages = render(out, SourceText("car", text));
    result.list = out.list();
    return result;
}

bool same_tree(const ExprPtr& a, const ExprPtr& b) {
    std::map<ElementId, ElementId> there, back;
    return a && b && same(*a, *b, there, back);
}

std::string shape(const Expr& e, const Car& car) {
    if (e.op == Op::truth) return e.flag ? "TRUE" : "FALSE";
    if (e.op == Op::number)
        return exact_text(e.value) + (e.type.dimension.is_temperature() && !e.type.difference ? "abs" : "");
    if (e.op == Op::mode) return mode_name(e.mode);
    if (e.op == Op::signal || e.op == Op::last) return car.name_of(e.signal);
    std::string out = std::string("(") + (e.op == Op::neg ? "neg" : op_word(e.op));
    if (e.op == Op::table) out += " " + car.table_name(e.table);
    if (e.count != 0) out += " #" + std::to_string(e.count);
    if (e.value != 0) out += " @" + exact_text(e.value);
    for (const ExprPtr& a : e.args) out += " " + shape(*a, car);
    return out + ")";
}

}  // namespace lanyard::test
