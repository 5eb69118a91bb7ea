#include "report/words.hpp"

#include <algorithm>
#include <optional>
#include <tuple>

#include "base/characters.hpp"
#include "lang/print.hpp"
#include "sim/words.hpp"

namespace lanyard::report {

std::string text_of(const Model& m, const Expr& e) {
    return print(
        e, [&m](SignalId id) { return m.name_of(id); }, [&m](TableId id) { return m.tables[id].name; });
}

std::string short_text(const Model& m, const Expr& e, std::size_t width) {
    const std::string text = text_of(m, e);
    return text.size() <= width ? text : text.substr(0, width - 3) + "...";
}

std::string comparison_words(Op op, bool truth) {
    if (op == Op::lt) return truth ? "below " : "not below ";
    if (op == Op::le) return truth ? "at most " : "above ";
    if (op == Op::gt) return truth ? "above " : "not above ";
    if (op == Op::ge) return truth ? "at least " : "below ";
    return truth == (op == Op::eq) ? "" : "not ";
}

std::string number_text(const Model& m, SignalId id, const Rational& value) {
    return print_value(value, sim::unit_of(m, id), m.signal(id).type.difference);
}

std::string interval_text(const Model& m, SignalId id, const Interval& interval) {
    if (interval.lo == interval.hi) return number_text(m, id, interval.lo);
    const std::string lo = number_text(m, id, interval.lo);
    return lo.substr(0, lo.find(' ')) + " .. " + number_text(m, id, interval.hi);
}

namespace {

// The first signal in an expression that is measured in the expression's own unit.
const Signal* signal_in(const Model& m, const Expr& e, const Type& type) {
    if ((e.op == Op::signal || e.op == Op::last) && m.signal(e.signal).type == type) return &m.signal(e.signal);
    for (const auto& a : e.args)
        if (const Signal* s = signal_in(m, *a, type)) return s;
    return nullptr;
}

// The unit in which a constant was written.
std::optional<Unit> written_unit(const Expr& e) {
    const std::size_t blank = e.written.find_last_of(' ');
    if (e.op != Op::number || blank == std::string::npos) return std::nullopt;
    const auto unit = find_unit(e.written.substr(blank + 1));
    // A kelvin beside an absolute temperature is a distance.
    const bool fits = unit && unit->dimension == e.type.dimension && unit->symbol != "K";
    return fits ? unit : std::nullopt;
}

}  // namespace

std::string operand_value(const Model& m, const Expr& e, const Expr& beside, const Rational& value, int places) {
    if (e.op == Op::number) return text_of(m, e);
    if (const auto unit = written_unit(beside)) return print_value(value, *unit, e.type.difference, places);
    const Signal* s = signal_in(m, e, e.type);
    if (s == nullptr) s = signal_in(m, beside, e.type);
    const Unit unit = s != nullptr && s->unit ? *s->unit : default_unit(e.type.dimension);
    return print_value(value, unit, e.type.difference, places);
}

std::string counted(long number, const std::string& what) {
    return std::to_string(number) + ' ' + what + (number == 1 ? "" : "s");
}

std::string duration_text(const Rational& seconds) {
    if (seconds >= 120) return print_time(seconds);
    const Rational ms = seconds * 1000;
    if (seconds != 0 && ms < 100) return rounded_text(ms, 3) + " ms";
    return rounded_text(seconds, 3) + " s";
}

std::string times_text(const Interval& i) {
    const std::string lo = duration_text(i.lo);
    const std::string hi = duration_text(i.hi);
    if (i.lo == i.hi) return hi;
    const std::size_t blank = lo.find(' ');
    const bool same_unit = i.lo == 0 || lo.substr(blank) == hi.substr(hi.rfind(' '));
    return (same_unit ? lo.substr(0, blank) : lo) + " .. " + hi;
}

std::string scan_time(const Model& m, long scan) {
    const std::string period = exact_text(m.scan);
    const std::size_t point = period.find('.');
    const bool fraction = period.find('/') != std::string::npos;
    const std::size_t places = fraction ? 4 : point == std::string::npos ? 0 : period.size() - point - 1;
    std::string text = rounded_text(Rational(m.scan * scan), static_cast<int>(places));
    if (places == 0) return text + " s";
    if (text.find('.') == std::string::npos) text += '.';
    text.append(places - (text.size() - text.find('.') - 1), '0');
    return text + " s";
}

namespace {

bool is_pressed_kind(const Model& m, const Signal& s) {
    if (s.kind != SignalKind::position && s.kind != SignalKind::seen) return false;
    const Switch& hand = m.switches[s.index];
    return s.kind == SignalKind::position && hand.momentary && !hand.rests_on;
}

std::string truth_words(const Model& m, const Signal& s, bool on, bool becomes) {
    switch (s.kind) {
        case SignalKind::position:
            if (is_pressed_kind(m, s)) return s.name + (on ? " pressed" : becomes ? " released" : " not pressed");
            break;
        case SignalKind::seen:
            return s.name + (on ? " seen on" : " seen off");
        case SignalKind::contact:
            if (becomes) return s.name + (on ? " pulls in" : " drops out");
            return s.name + (on ? " pulled in" : " dropped out");
        case SignalKind::load:
            return s.name + (on ? " powered" : " unpowered");
        case SignalKind::wired:
            return s.name + (on ? " seen on" : " seen off");
        case SignalKind::node:
            return s.name + (on ? " live" : " dead");
        case SignalKind::fault:
            if (becomes) return s.name + (on ? " begins" : " goes away");
            return s.name + (on ? " is present" : " is not present");
        case SignalKind::powered:
            if (becomes) return on ? "controller runs" : "controller loses power";
            return on ? "controller runs" : "controller has no power";
        case SignalKind::quantity:
        case SignalKind::reading:
        case SignalKind::loop:
        case SignalKind::logic:
        case SignalKind::output:
        case SignalKind::mode:
            break;
    }
    return s.name + (on ? " on" : " off");
}

std::string words(const Model& m, SignalId id, const Value& value, bool becomes) {
    const Signal& s = m.signal(id);
    if (const auto* on = std::get_if<bool>(&value)) return truth_words(m, s, *on, becomes);
    if (const auto* mode = std::get_if<Mode>(&value)) return std::string("engine ") + mode_name(*mode);
    const std::string number = number_text(m, id, std::get<Rational>(value));
    return s.name + (s.kind == SignalKind::reading && becomes ? " reads " : " ") + number;
}

}  // namespace

std::string state_words(const Model& m, SignalId id, const Value& value) { return words(m, id, value, false); }
std::string change_words(const Model& m, SignalId id, const Value& value) { return words(m, id, value, true); }

std::string loads_words(const Model& m, const std::vector<SignalId>& loads, bool powered) {
    std::string out;
    for (std::size_t k = 0; k < loads.size(); ++k)
        out += (k == 0 ? "" : k + 1 == loads.size() ? " and " : ", ") + m.name_of(loads[k]);
    return out + (powered ? " powered" : " unpowered");
}

namespace {

// A name and the number that it ends with; -1 where it ends with none.
struct Numbered {
    std::string stem;
    long number = -1;
    std::string text() const { return number < 0 ? stem : stem + std::to_string(number); }
    bool follows(const Numbered& other) const {
        return number >= 0 && other.number >= 0 && stem == other.stem && number == other.number + 1;
    }
};

Numbered numbered(const std::string& name) {
    constexpr std::size_t most_digits = 9;
    std::size_t at = name.size();
    while (at > 0 && name[at - 1] >= '0' && name[at - 1] <= '9') --at;
    const std::string digits = name.substr(at);
    if (digits.empty() || digits.size() > most_digits || (digits.size() > 1 && digits[0] == '0')) return {name, -1};
    return {name.substr(0, at), std::stol(digits)};
}

}  // namespace

std::vector<std::string> grouped(const std::vector<std::string>& names) {
    std::vector<Numbered> all;
    for (const auto& name : names) all.push_back(numbered(name));
    std::stable_sort(all.begin(), all.end(), [](const Numbered& a, const Numbered& b) {
        return std::tie(a.stem, a.number) < std::tie(b.stem, b.number);
    });
    std::vector<std::string> out;
    for (std::size_t begin = 0; begin < all.size();) {
        std::size_t end = begin + 1;
        while (end < all.size() && all[end].follows(all[end - 1])) ++end;
        if (end - begin >= 3) {
            out.push_back(all[begin].text() + ".." + all[end - 1].text());
        } else {
            for (std::size_t k = begin; k < end; ++k) out.push_back(all[k].text());
        }
        begin = end;
    }
    return out;
}

std::vector<std::string> rests_on(const Certificate& c) {
    std::vector<std::string> all = c.elements;
    const std::vector<std::string> parts = grouped(c.parts);
    all.insert(all.end(), parts.begin(), parts.end());
    all.insert(all.end(), c.assumptions.begin(), c.assumptions.end());
    return all;
}

}  // namespace lanyard::report
