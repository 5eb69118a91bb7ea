#include "explain/with_anything.hpp"

#include "model/make_expr.hpp"

namespace lanyard::explain {

namespace {

// A reading of a quantity from 0 to 1.
SignalId add_reading(Model& m, const std::string& name, const Type& type) {
    const auto add = [&](const std::string& of, SignalKind kind, AnyId index) {
        Signal s;
        s.name = name + of;
        s.kind = kind;
        s.type = type;
        s.index = index;
        return m.signals.add(std::move(s));
    };
    Quantity quantity;
    quantity.signal = add(".there", SignalKind::quantity, m.quantities.next());
    quantity.range = {0, 1};
    Sensor sensor;
    sensor.quantity = m.quantities.add(std::move(quantity));
    const SignalId reading = add(".read", SignalKind::reading, m.sensors.next());
    sensor.signal = reading;
    m.sensors.add(std::move(sensor));
    return reading;
}

}  // namespace

std::optional<Model> with_anything(const Model& m, SignalId signal) {
    const Signal& s = m.signal(signal);
    const Type& type = definition(m, signal)->type;
    const bool boolean = type.kind == TypeKind::boolean;
    if (!boolean && s.kind != SignalKind::output) return std::nullopt;
    Model out = m;
    const Type number = boolean ? Type::number({}, false) : type;
    ExprPtr anything = signal_expr(out, add_reading(out, s.name + ".anything", number));
    if (boolean) anything = boolean_expr(Op::gt, {anything, number_expr(0, number)}, s.place);
    (s.kind == SignalKind::logic ? out.logic[s.index].is : out.outputs[s.index].on) = anything;
    return out;
}

}  // namespace lanyard::explain
