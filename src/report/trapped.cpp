#include "report/trapped.hpp"

#include "report/fixed.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

constexpr std::size_t most_elements = 6;

class Trap {
 public:
    Trap(const Film& film, const Cone& cone, const Certificate& closed)
        : film_(film), m_(film.model()), fixed_(film, closed) {
        for (const SignalId id : m_.order) names_[definition(m_, id).get()] = m_.name_of(id);
        for (const ElementId id : cone.elements) {
            const Expr* e = film.element(id);
            const bool latch = e != nullptr && (e->op == Op::sr || e->op == Op::rs || e->op == Op::band);
            if (latch && fixed_.state(id)) latches_.push_back(e);
        }
    }

    std::vector<std::string> words() const {
        std::vector<std::string> out;
        for (std::size_t k = 0; k < std::min(latches_.size(), most_elements); ++k)
            for (auto& s : words(*latches_[k])) out.push_back(std::move(s));
        if (latches_.size() > most_elements)
            out.push_back("and " + std::to_string(latches_.size() - most_elements) + " more that stay as they are");
        return out;
    }

 private:
    const Film& film_;
    const Model& m_;
    Fixed fixed_;
    std::map<const Expr*, std::string> names_;
    std::vector<const Expr*> latches_;

    std::vector<std::string> words(const Expr& e) const {
        const bool on = *fixed_.state(e.element);
        const auto known = names_.find(&e);
        const std::string name = known != names_.end() ? known->second : short_text(m_, e, longest_summary);
        const long since = film_.since(e, film_.end().scan);
        std::vector<std::string> out{name + " is " + (on ? "on" : "off") + " since " + scan_time(m_, since) +
                                     " and stays so in every run from there"};
        out.push_back((on ? "to release it takes " : "to set it takes ") + change_text(e, on));
        if (on && dies(e)) out.back() += ", or that the controller loses its power";
        const std::string why = joined(reasons(e, on), ", ");
        out.push_back(why.empty() ? "none of these runs has that; the proof names no single cause"
                                  : "that cannot happen: " + why);
        return out;
    }

    bool dies(const Expr& e) const {
        return m_.supply.on != nullptr && !m_.elements[static_cast<std::size_t>(e.element)].retained;
    }

    // A band's two conditions exclude each other; of a latch's inputs one wins.
    const Expr* wanted(const Expr& e, bool on) const { return e.args[on ? 1 : 0].get(); }
    const Expr* forbidden(const Expr& e, bool on) const {
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
        return without != nullptr && fixed_.always(*without) == true ? fixed_.causes(*without)
                                                                     : std::vector<std::string>{};
    }
};

}  // namespace

std::vector<std::string> trapped_words(const Film& film, const Cone& cone, const Certificate& closed) {
    return Trap(film, cone, closed).words();
}

}  // namespace lanyard::report
