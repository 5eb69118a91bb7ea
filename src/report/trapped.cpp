#include "report/trapped.hpp"

#include <algorithm>

#include "report/fixed.hpp"
#include "report/never_again.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

constexpr std::size_t most_told = 6;

class Trap {
 public:
    Trap(const Film& film, const Certificate& closed)
        : film_(film),
          m_(film.model()),
          fixed_(film, closed),
          facts_(film.causes() == nullptr ? nullptr : &film.causes()->trap) {
        if (facts_ != nullptr && facts_->shut >= 0) told_.push_back({shut_words()});
        for (const SignalId id : m_.order) names_[definition(m_, id).get()] = m_.name_of(id);
        for (const auto& s : m_.switches)
            if (fixed_.stays(s)) told_.push_back({hand_words(s)});
        for (const auto& l : m_.loops)
            if (film.cone().has(l.signal) && fixed_.loop(l)) told_.push_back({loop_words(l)});
        for (const ElementId id : film.cone().elements)
            if (const Expr* e = film.element(id)) element(*e);
    }

    std::vector<std::string> words() const {
        std::vector<std::string> out;
        for (std::size_t k = 0; k < std::min(told_.size(), most_told); ++k)
            out.insert(out.end(), told_[k].begin(), told_[k].end());
        if (told_.size() > most_told)
            out.push_back("and " + std::to_string(told_.size() - most_told) + " more that stay as they are");
        return out;
    }

 private:
    const Film& film_;
    const Model& m_;
    Fixed fixed_;
    const TrapFacts* const facts_;  // null: none
    std::map<const Expr*, std::string> names_;
    std::vector<std::vector<std::string>> told_;

    std::string shut_words() const {
        const std::string when = scan_time(m_, facts_->shut);
        if (facts_->shut == 0) return "the trap shut at " + when + ", the first scan";
        return facts_->shut_then ? "the trap shut at " + when + ": a scan earlier the goal could still be reached"
                                 : "the trap has been shut since " + when + " at the latest";
    }
    std::string name_of(const Expr& e) const {
        const auto known = names_.find(&e);
        return known != names_.end() ? known->second : short_text(m_, e, longest_summary);
    }

    std::string hand_words(const Switch& s) const {
        const auto& now = film_.end().signals[s.position];
        return state_words(m_, s.position, now) + ", and nobody may move it";
    }
    std::string loop_words(const Loop& l) const {
        return m_.name_of(l.signal) + " reads " + m_.name_of(l.output) + (*fixed_.loop(l) ? " on" : " off") +
               " in every run from there" + time_words(*definition(m_, l.output), *fixed_.loop(l));
    }
    std::string previous_words(const Expr& e) const {
        const bool on = *fixed_.state(e.element);
        const Expr& of = *e.args[0];
        const Expr& is = of.op == Op::signal && is_defined(of.signal) ? *definition(m_, of.signal) : of;
        return name_of(e) + " is " + (on ? "on" : "off") + " in every run from there: so was " +
               short_text(m_, of, longest_summary) + " at each previous scan" + as_far(e) + time_words(is, on);
    }
    std::string as_far(const Expr& e) const {
        const lanyard::model::Element& element = m_.elements[e.element];
        return m_.may_lose_power() && element.retained ? ", whenever the controller has power" : "";
    }
    bool is_defined(SignalId id) const {
        const SignalKind kind = m_.signal(id).kind;
        return kind == SignalKind::logic || kind == SignalKind::output;
    }
    // What is held by an off-delay needs time as well.
    std::string time_words(const Expr& e, bool on) const {
        if (e.op != Op::tof || !on) return "";
        return "; it goes off " + duration_text(e.value) + " after " + now(*e.args[0]) + " has gone off";
    }
    std::vector<std::string> counter_words(const Expr& e) const {
        return {name_of(e) + " has counted " + std::to_string(film_.state_of(e, film_.end()).count) + " of " +
                    std::to_string(e.count) + " and is reset in no run from there",
                "resetting it takes " + parts(*e.args[1])};
    }

    void element(const Expr& e) {
        const bool latch = is_latch(e.op) || e.op == Op::band;
        if (latch && fixed_.state(e.element)) told_.push_back(latch_words(e));
        if (e.op == Op::previous && fixed_.state(e.element)) told_.push_back({previous_words(e)});
        if (e.op == Op::ctu && fixed_.counted(e.element) > 0) told_.push_back(counter_words(e));
    }

    std::vector<std::string> latch_words(const Expr& e) const {
        const bool on = *fixed_.state(e.element);
        const std::string name = name_of(e);
        const long since = film_.since(e, film_.end().scan);
        std::vector<std::string> out{name + " is " + (on ? "on" : "off") + " since " + scan_time(m_, since) +
                                     " and stays so in every run from there" + as_far(e)};
        out.push_back((on ? "releasing it takes " : "setting it takes ") + change_text(e, on));
        if (on && dies(e)) out.back() += ", or the controller losing its power";
        const std::string why = joined(reasons(e, on), ", ");
        out.push_back(why.empty() ? "that happens in none of these runs; the proof names no single cause"
                                  : "that cannot happen: " + why);
        return out;
    }

    bool dies(const Expr& e) const { return m_.may_lose_power() && !m_.elements[e.element].retained; }

    // A band's two conditions exclude each other; of a latch's inputs one wins.
    const Expr* wanted(const Expr& e, bool on) const { return e.args[on ? 1 : 0].get(); }
    const Expr* forbidden(const Expr& e, bool on) const {
        static_assert(size_of(OpClass::latch) == 2);
        if (e.op == Op::band || (e.op == Op::sr) != on) return nullptr;
        return e.args[on ? 0 : 1].get();
    }

    std::string now(const Expr& e) const {
        return text_of(m_, e) + (film_.truth(e, film_.end()) ? " (true then)" : " (false then)");
    }
    std::string change_text(const Expr& e, bool on) const {
        std::string out = parts(*wanted(e, on));
        if (const Expr* without = forbidden(e, on)) out += ", without " + now(*without);
        return out;
    }
    std::string parts(const Expr& e) const {
        if (e.op != Op::and_ && e.op != Op::or_) return now(e);
        std::vector<std::string> all;
        for (const auto& a : e.args) all.push_back(now(*a));
        return joined(all, e.op == Op::and_ ? " and " : " or ");
    }

    std::vector<std::string> reasons(const Expr& e, bool on) const {
        const Expr& wish = *wanted(e, on);
        if (wish.op == Op::truth) return {"it is " + text_of(m_, wish) + " by definition"};
        if (fixed_.always(wish) == false) return fixed_.causes(wish);
        const Expr* without = forbidden(e, on);
        if (without != nullptr && fixed_.always(*without) == true) return fixed_.causes(*without);
        if (facts_ == nullptr) return {};
        std::vector<std::string> out;
        for (const auto& part : facts_->never) {
            const auto is_part = [&part](const ExprPtr& a) { return a == part; };
            if (part.get() == &wish ||
                (wish.op == Op::and_ && std::any_of(wish.args.begin(), wish.args.end(), is_part)))
                out.push_back(never_again(film_, fixed_, *facts_, *part));
        }
        return out;
    }
};

}  // namespace

std::vector<std::string> trapped_words(const Film& film, const Certificate& closed) {
    return Trap(film, closed).words();
}

Json trap_json(const Film& film, const Certificate& closed, const TrapFacts& facts) {
    const Model& m = film.model();
    Json out = Json::object();
    if (facts.shut >= 0)
        out["shut"] = {{"scan", facts.shut},
                       {"time_s", exact_text(Rational(m.scan * facts.shut))},
                       {"at_the_latest", facts.shut > 0 && !facts.shut_then}};
    out["never_again"] = Json::array();
    const Fixed fixed(film, closed);
    for (const auto& part : facts.never)
        out["never_again"].push_back(
            {{"condition", text_of(m, *part)}, {"text", never_again(film, fixed, facts, *part)}});
    out["lost_modes"] = Json::array();
    for (const Mode mode : facts.lost_modes) out["lost_modes"].push_back(mode_name(mode));
    return out;
}

}  // namespace lanyard::report
