#include "report/plain.hpp"

#include <algorithm>

#include "report/reasons.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

using States = std::vector<PlainState>;

constexpr std::size_t longest_fact = 72;

bool looks_plural(const std::string& name) {
    if (name.size() < 3 || name.back() != 's') return false;
    return std::string("siua").find(name[name.size() - 2]) == std::string::npos;
}

std::optional<PlainState> of_signal(const Model& m, SignalId id, bool on) {
    const Signal& s = m.signal(id);
    if (s.kind == SignalKind::fault || s.kind == SignalKind::powered) return std::nullopt;
    if (s.kind == SignalKind::load) return PlainState{s.name, on ? "on" : "off"};
    return PlainState{s.name, state_words(m, id, Value(on)).substr(s.name.size() + 1)};
}

bool compares_modes(const Expr& e) {
    return (e.op == Op::eq || e.op == Op::ne) && e.args[0]->type.kind == TypeKind::mode;
}

// "speed" is "not above 30 km/h"
PlainState of_numbers(const Model& m, const Expr& e, bool value) {
    return {text_of(m, *e.args[0]), comparison_words(e.op, value) + text_of(m, *e.args[1])};
}

// Of a change that has just come, or of a time that has just run out.
std::optional<PlainState> of_memory(const Model& m, const Expr& e, bool value) {
    const bool is_edge = e.op == Op::r_trig || e.op == Op::f_trig;
    if (!is_edge && e.op != Op::ton) return std::nullopt;
    auto of = plain_state(m, *e.args[0], e.op != Op::f_trig);
    if (!of || of->state.starts_with("not ")) return std::nullopt;
    const std::string no = value ? "" : "not ";
    if (e.op == Op::ton) return PlainState{of->subject, no + of->state + " for " + duration_text(e.value)};
    const bool switches = of->state == "on" || of->state == "off";
    return PlainState{of->subject, no + (!switches           ? "newly " + of->state
                                         : of->state == "on" ? "coming on"
                                                             : "going off")};
}

bool compares_numbers(const Expr& e) { return is_comparison(e.op) && e.args[0]->type.kind == TypeKind::number; }

void append_states(States& all, const States& more) {
    for (const auto& s : more)
        if (std::find(all.begin(), all.end(), s) == all.end()) all.push_back(s);
}

// What makes the expression what it is at the end of the film.
std::optional<States> states_at_end(const Film& film, const Expr& e) {
    const Model& m = film.model();
    const bool value = film.truth(e, film.end());
    if (e.op == Op::not_) return states_at_end(film, *e.args[0]);
    if (compares_modes(e) && m.mode)
        return States{{"the engine", mode_name(std::get<Mode>(film.end().signals[m.mode]))}};
    const bool both_count = e.op == Op::xor_ || ((e.op == Op::eq || e.op == Op::ne) && !compares_numbers(e));
    if (!both_count && e.op != Op::and_ && e.op != Op::or_ && (e.op != Op::vote || !value))
        return plain_states(m, e, value);
    const bool all = both_count || e.op == (value ? Op::and_ : Op::or_);
    States out;
    for (const auto& a : e.args) {
        if (!all && film.truth(*a, film.end()) != value) continue;
        const auto part = states_at_end(film, *a);
        if (!part) return std::nullopt;
        append_states(out, *part);
    }
    return out;
}

std::string sentence(const States& states) {
    return plain_subject(states) + (is_plural(states) ? " are " : " is ") + plain_predicate(states);
}

}  // namespace

std::string plain_sentence(const States& states) {
    std::vector<States> groups;
    for (const auto& s : states) {
        const auto same = [&](const States& g) { return g.front().state == s.state; };
        const auto found = std::find_if(groups.begin(), groups.end(), same);
        if (found == groups.end())
            groups.push_back({s});
        else
            found->push_back(s);
    }
    std::vector<std::string> out;
    for (const auto& g : groups) out.push_back(sentence(g));
    return joined(out, " and ");
}

namespace {

// What stays on too long, and what has not been so far.
std::string remembered_fact(const Film& film, const Expr& e) {
    const Model& m = film.model();
    const bool value = film.truth(e, film.end());
    if (e.op == Op::ton && value) {
        const auto states = states_at_end(film, *e.args[0]);
        return (states ? plain_sentence(*states) : text_of(m, *e.args[0]) + " is true") + " for longer than " +
               duration_text(e.value);
    }
    const auto never = [](const Expr& x) { return x.op == Op::truth && !x.flag; };
    if (e.op == Op::ctu && value && never(*e.args[1])) {
        const auto state = plain_state(m, *e.args[0], true);
        const std::string times = counted(e.count, "time");
        return state && state->state == "on" ? plain_subject({*state}) + " has come on " + times : "";
    }
    const bool for_good = e.op == Op::sr && never(*e.args[1]);
    if (!for_good || value) return "";
    const auto states = plain_states(m, *e.args[0], true);
    if (!states || plain_predicate(*states).empty()) return "";
    return plain_subject(*states) + (is_plural(*states) ? " have" : " has") + " not been " + plain_predicate(*states) +
           " yet";
}

}  // namespace

std::optional<States> plain_states(const Model& m, const Expr& e, bool value) {
    if (e.op == Op::not_) return plain_states(m, *e.args[0], !value);
    if (e.op == Op::signal && e.type.kind == TypeKind::boolean) {
        const auto s = of_signal(m, e.signal, value);
        return s ? std::optional(States{*s}) : std::nullopt;
    }
    if (compares_modes(e)) {
        const Expr& mode = e.args[0]->op == Op::mode ? *e.args[0] : *e.args[1];
        if (mode.op != Op::mode) return std::nullopt;
        return States{{"the engine", (value == (e.op == Op::eq) ? "" : "not ") + std::string(mode_name(mode.mode))}};
    }
    if (compares_numbers(e)) return States{of_numbers(m, e, value)};
    if (const auto state = of_memory(m, e, value)) return States{*state};
    if (e.op == Op::implies && !value) {
        auto out = plain_states(m, *e.args[0], true);
        const auto then = plain_states(m, *e.args[1], false);
        if (!out || !then) return std::nullopt;
        append_states(*out, *then);
        return out;
    }
    if (e.op != (value ? Op::and_ : Op::or_)) return std::nullopt;
    States out;
    for (const auto& a : e.args) {
        const auto part = plain_states(m, *a, value);
        if (!part) return std::nullopt;
        append_states(out, *part);
    }
    return out;
}

std::optional<PlainState> plain_state(const Model& m, const Expr& e, bool value) {
    const auto states = plain_states(m, e, value);
    return states && states->size() == 1 ? std::optional(states->front()) : std::nullopt;
}

bool is_plural(const States& states) { return states.size() > 1 || looks_plural(states.front().subject); }

std::string plain_subject(const States& states) {
    if (states.size() == 1) return (is_plural(states) ? "the " : "") + states.front().subject;
    std::string out;
    for (std::size_t k = 0; k < states.size(); ++k)
        out += (k == 0 ? "" : k + 1 == states.size() ? " and " : ", ") + states[k].subject;
    return out;
}

std::string plain_predicate(const States& states) {
    const std::string& state = states.front().state;
    if (std::any_of(states.begin(), states.end(), [&](const PlainState& s) { return s.state != state; })) return "";
    return (states.size() == 1 ? "" : states.size() == 2 ? "both " : "all ") + state;
}

std::string plain_fact(const Film& film, const Expr& e) {
    const Expr* inner = &e;
    while (inner->op == Op::not_) inner = inner->args[0].get();
    std::string out;
    if (inner->op == Op::ton || inner->op == Op::sr || inner->op == Op::ctu) {
        out = remembered_fact(film, *inner);
    } else if (compares_numbers(*inner)) {
        const Reasons reasons = reasons_for(film, *inner, film.end().scan);
        if (!reasons.list.empty()) out = reasons.list.front().text;
    } else if (const auto states = states_at_end(film, e)) {
        out = plain_sentence(*states);
    }
    return out.size() <= longest_fact ? out : "";
}

std::string named_with(const std::string& what, const Model& m, const Expr& e) {
    const std::string text = text_of(m, e);
    return text.size() <= longest_summary ? what + ", " + text + "," : what;
}

std::string failure_words(const Model& m, const Claim& c) {
    std::string out;
    for (const auto& piece : c.failure) {
        if (piece.happened == nullptr) {
            out += sanitize_for_terminal(piece.text);
            continue;
        }
        const auto states = plain_states(m, *piece.happened, true);
        const std::string said = states && !states->empty() ? plain_sentence(*states) : "";
        const std::string text = text_of(m, *piece.happened);
        if (!said.empty() && said.size() <= longest_fact)
            out += said;
        else
            out += (text.size() <= longest_summary ? text : '"' + piece.text + '"') + " is true";
    }
    return out;
}

}  // namespace lanyard::report
