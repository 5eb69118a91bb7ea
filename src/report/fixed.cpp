#include "report/fixed.hpp"

#include <algorithm>
#include <set>

#include "report/words.hpp"

namespace lanyard::report {

namespace {

// "(f a (g b) c)" -> "f", "a", "(g b)", "c"
std::vector<std::string> parts_of(const std::string& list) {
    std::vector<std::string> out;
    std::string part;
    int depth = 0;
    for (std::size_t k = 1; k + 1 < list.size(); ++k) {
        const char c = list[k];
        const bool blank = c == ' ' || c == '\n' || c == '\t';
        if (c == '(') ++depth;
        if (c == ')') --depth;
        if (!blank || depth > 0) part += c;
        if (!blank || depth > 0 || part.empty()) continue;
        out.push_back(part);
        part.clear();
    }
    if (!part.empty()) out.push_back(part);
    return out;
}

std::string without_bars(const std::string& symbol) {
    const bool barred = symbol.size() >= 2 && symbol.front() == '|' && symbol.back() == '|';
    return barred ? symbol.substr(1, symbol.size() - 2) : symbol;
}

// Boolean elements whose whole memory is one bit that is their value at the scan before.
bool is_one_bit(Op op) { return is_latch(op) || op == Op::band || op == Op::previous; }

std::string small(const std::string& word) {
    std::string out = word;
    for (char& c : out) c = static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
    return out;
}

std::optional<bool> negated(const std::optional<bool>& b) { return b ? std::optional<bool>(!*b) : b; }

}  // namespace

Fixed::Fixed(const Film& film, const Certificate& closed) : film_(film), m_(film.model()) {
    for (const auto& lemma : closed.lemmas) read(lemma);
    for (const SignalId id : m_.order) name_elements(m_.name_of(id), definition(m_, id));
}

std::optional<bool> Fixed::bit(const std::string& name) const {
    const auto known = bits_.find(name);
    return known == bits_.end() ? std::nullopt : std::optional<bool>(known->second);
}

// Counts are small and whole; other numbers are not read.
void Fixed::read_count(const std::vector<std::string>& comparison, bool is_not) {
    if (comparison.size() != 3 || comparison[1].front() == '(') return;
    const std::string& number = comparison[2];
    if (number.size() > 9 || number.find_first_not_of("0123456789") != std::string::npos) return;
    const std::string& op = comparison[0];
    const bool at_least = is_not ? op == "<" : op == ">=" || op == "=";
    const bool above = is_not ? op == "<=" : op == ">";
    if (at_least || above) least_[without_bars(comparison[1])] = std::stol(number) + (above ? 1 : 0);
}

// Conjunctions of literals; whatever else a lemma says fixes no single bit.
void Fixed::read(const std::string& lemma) {
    if (lemma.empty()) return;
    if (lemma.front() != '(') {
        bits_[without_bars(lemma)] = true;
        return;
    }
    const std::vector<std::string> parts = parts_of(lemma);
    const bool is_not = parts.size() == 2 && parts[0] == "not";
    if (is_not && parts[1].front() != '(') bits_[without_bars(parts[1])] = false;
    read_count(is_not ? parts_of(parts[1]) : parts, is_not);
    if (parts.empty() || parts[0] != "and") return;
    for (std::size_t k = 1; k < parts.size(); ++k) read(parts[k]);
}

// The closed set numbers the elements of a line by their kind. Where a line has several of one kind, they count only
// if all of them are fixed alike: then no order has to be known.
void Fixed::name_elements(const std::string& owner, const ExprPtr& e) {
    std::map<Op, std::set<ElementId>> kinds;
    visit(e, [&](const Expr& x) {
        if (is_one_bit(x.op) || x.op == Op::ctu) kinds[x.op].insert(x.element);
    });
    // Of a counter the edge has a number of its own.
    const auto count = least_.find("s." + owner + ".ctu2.count");
    if (count != least_.end() && kinds[Op::ctu].size() == 1) counts_[*kinds[Op::ctu].begin()] = count->second;
    kinds.erase(Op::ctu);
    for (const auto& [op, ids] : kinds) {
        std::set<bool> values;
        std::size_t known = 0;
        for (std::size_t n = 1; n <= ids.size(); ++n) {
            const auto remembered = bit("s." + owner + "." + small(op_word(op)) + std::to_string(n));
            if (!remembered) continue;
            ++known;
            values.insert(*remembered);
        }
        if (known != ids.size() || values.size() != 1) continue;
        for (const ElementId id : ids) states_[id] = *values.begin();
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
    const auto k = static_cast<std::size_t>(s.index);
    if (k >= goal->may_move.size() || goal->may_move[k]) return nullptr;
    const Switch& hand = m_.switches[k];
    return s.kind == SignalKind::seen && hand.may_be_missed ? nullptr : &hand;
}

std::optional<bool> Fixed::signal(SignalId id, int depth) const {
    const Signal& s = m_.signal(id);
    if (unmoved(id) != nullptr) return std::get<bool>(report::at(film_.end().signals, id));
    if (s.kind == SignalKind::loop) return loop(m_.loops[static_cast<std::size_t>(s.index)]);
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
    const bool already = std::get<bool>(report::at(film_.end().signals, id)) == on;
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

std::vector<std::string> Fixed::causes(const Expr& e) const {
    std::vector<std::string> out;
    collect(e, 0, out);
    return out;
}

}  // namespace lanyard::report
