#include "report/fixed.hpp"

#include <algorithm>
#include <set>

#include "report/words.hpp"

namespace lanyard::report {

namespace {

// Boolean elements whose whole memory is one bit that is their value at the scan before.
bool is_one_bit(Op op) { return is_latch(op) || op == Op::band || op == Op::previous; }

std::optional<bool> negated(const std::optional<bool>& b) { return b ? std::optional<bool>(!*b) : b; }

}  // namespace

Fixed::Fixed(const Film& film, const Certificate& closed) : film_(film), m_(film.model()), facts_(closed.facts) {
    for (const SignalId id : m_.order) take_elements(definition(m_, id));
}

std::optional<bool> Fixed::bit(const StateKey& key) const {
    const auto known = facts_.fixed.find(key);
    return known == facts_.fixed.end() ? std::nullopt : std::optional<bool>(known->second);
}

// Where a line has several elements of one kind, they count only if all of them are fixed alike.
void Fixed::take_elements(const ExprPtr& line) {
    std::map<Op, std::set<ElementId>> kinds;
    visit(line, [&](const Expr& x) {
        if (is_one_bit(x.op) || x.op == Op::ctu) kinds[x.op].insert(x.element);
    });
    for (const auto& [op, ids] : kinds) {
        const auto count = facts_.at_least.find({StateRole::count, *ids.begin()});
        if (op == Op::ctu && ids.size() == 1 && count != facts_.at_least.end()) counts_[*ids.begin()] = count->second;
        const std::optional<bool> value = bit({StateRole::remembered, *ids.begin()});
        const bool alike = value && std::all_of(ids.begin(), ids.end(), [&](ElementId id) {
                               return bit({StateRole::remembered, id}) == value;
                           });
        for (const ElementId id : ids)
            if (alike) states_[id] = *value;
    }
}

std::optional<bool> Fixed::state(ElementId id) const {
    const auto known = states_.find(id);
    return known == states_.end() ? std::nullopt : std::optional<bool>(known->second);
}

long Fixed::counted(ElementId id) const {
    const auto known = counts_.find(id);
    return known == counts_.end() ? 0 : known->second;
}

const Switch* Fixed::unmoved(SignalId id) const {
    const auto* goal = std::get_if<Recoverable>(&film_.claim()->body);
    const Signal& s = m_.signal(id);
    if (goal == nullptr || (s.kind != SignalKind::position && s.kind != SignalKind::seen)) return nullptr;
    if (!goal->may_move.has(s.index) || goal->may_move[s.index]) return nullptr;
    const Switch& hand = m_.switches[s.index];
    return s.kind == SignalKind::seen && hand.may_be_missed ? nullptr : &hand;
}

std::optional<bool> Fixed::signal(SignalId id, int depth) const {
    const Signal& s = m_.signal(id);
    if (unmoved(id) != nullptr) return std::get<bool>(film_.end().signals[id]);
    if (s.kind == SignalKind::loop) return loop(m_.loops[s.index]);
    if ((s.kind != SignalKind::logic && s.kind != SignalKind::output) || s.type.kind != TypeKind::boolean) return {};
    const auto value = always(*definition(m_, id), depth + 1);
    // Without the controller's power it reads off.
    return value && *value && m_.may_lose_power() ? std::nullopt : value;
}

// AND: wanted = false decides; OR: wanted = true.
std::optional<bool> Fixed::all_of(const Expr& e, bool wanted, int depth) const {
    bool all = true;
    for (const auto& a : e.args) {
        const auto value = always(*a, depth + 1);
        if (value == wanted) return wanted;
        all = all && value.has_value();
    }
    return all ? std::optional<bool>(!wanted) : std::nullopt;
}

std::optional<bool> Fixed::latch(const Expr& e, int depth) const {
    static_assert(size_of(OpClass::latch) == 2);
    if (const auto known = state(e.element)) return known;
    const auto set = always(*e.args[0], depth + 1);
    const auto reset = always(*e.args[1], depth + 1);
    if (e.op == Op::rs && reset == true) return false;
    return set == true && (e.op != Op::rs || reset == false) ? set : std::nullopt;
}

// The scan behind the film's end still compares with its end.
std::optional<bool> Fixed::edge(const Expr& e, int depth) const {
    const auto input = always(*e.args[0], depth + 1);
    if (!input || *input != film_.truth(*e.args[0], film_.end()) || m_.may_lose_power()) return std::nullopt;
    return e.op == Op::previous ? *input : false;
}

std::optional<bool> Fixed::delay(const Expr& e, int depth) const {
    const auto input = always(*e.args[0], depth + 1);
    return input == (e.op == Op::tof) ? input : std::nullopt;
}

std::optional<bool> Fixed::always(const Expr& e, int depth) const {
    if (depth > deepest) return std::nullopt;
    if (e.op == Op::truth) return e.flag;
    if (e.op == Op::signal) return signal(e.signal, depth);
    if (e.op == Op::not_) return negated(always(*e.args[0], depth + 1));
    if (e.op == Op::and_) return all_of(e, false, depth);
    if (e.op == Op::or_) return all_of(e, true, depth);
    if (is_latch(e.op) || e.op == Op::band) return latch(e, depth);
    if (e.op == Op::previous && state(e.element)) return state(e.element);
    if (e.op == Op::previous || class_of(e.op) == OpClass::edge) return edge(e, depth);
    if (is_delay(e.op)) return delay(e, depth);
    if (e.op == Op::ctu && counted(e.element) >= e.count) return true;
    return std::nullopt;  // whatever else it is: nothing is known of it, which is always right
}

void Fixed::collect_signal(SignalId id, int depth, std::vector<std::string>& out) const {
    if (const Switch* hand = unmoved(id)) {
        out.push_back("nobody may move " + m_.name_of(hand->position));
        return;
    }
    std::vector<std::string> deeper;
    if (m_.signal(id).kind != SignalKind::loop) {
        const Expr& is = *definition(m_, id);
        if (!has_memory(is.op) || !state(is.element)) collect(is, depth + 1, deeper);
    }
    const std::string because = deeper.empty() ? "" : " (" + joined(deeper, ", ") + ")";
    const bool on = *signal(id, depth);
    const bool already = std::get<bool>(film_.end().signals[id]) == on;
    out.push_back(m_.name_of(id) + (already ? " stays" : " is") + (on ? " on" : " off") +
                  (already ? "" : " from then on") + because);
}

// The first operand that decides is enough.
void Fixed::collect(const Expr& e, int depth, std::vector<std::string>& out) const {
    const auto value = always(e, depth);
    if (!value || depth > deepest) return;
    if (e.op == Op::signal) return collect_signal(e.signal, depth, out);
    if (has_memory(e.op) && state(e.element)) {
        out.push_back(short_text(m_, e, longest_summary) + (*value ? " stays on" : " stays off"));
        return;
    }
    const bool one_decides = (e.op == Op::and_ && !*value) || (e.op == Op::or_ && *value);
    for (const auto& a : e.args) {
        const auto part = always(*a, depth + 1);
        if (!part || (one_decides && part != value)) continue;
        collect(*a, depth + 1, out);
        if (one_decides) return;
    }
}

std::vector<std::string> Fixed::causes_of(SignalId id) const {
    std::vector<std::string> out;
    if (signal(id, 0)) collect_signal(id, 0, out);
    return out;
}

std::vector<std::string> Fixed::causes(const Expr& e) const {
    std::vector<std::string> out;
    collect(e, 0, out);
    return out;
}

}  // namespace lanyard::report
