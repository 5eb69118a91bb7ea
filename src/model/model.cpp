#include "model/model.hpp"

namespace lanyard {

const ExprPtr& definition(const Model& m, SignalId id) {
    const Signal& s = m.signal(id);
    const auto index = static_cast<std::size_t>(s.index);
    if (s.kind == SignalKind::output) return m.outputs.at(index).on;
    return m.logic.at(index).is;
}

}  // namespace lanyard
