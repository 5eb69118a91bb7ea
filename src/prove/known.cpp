#include "prove/known.hpp"

#include <algorithm>

#include "base/file.hpp"
#include "certify/obligations.hpp"
#include "model/packs.hpp"

namespace lanyard::prove {

namespace {

// Texts one behind the other, so that no two lists of them read the same.
class Text {
 public:
    Text& operator<<(const std::string& s) {
        text_ += std::to_string(s.size()) + ':' + s;
        return *this;
    }
    template <class T>
    requires std::is_integral_v<T> Text& operator<<(T n) { return *this << std::to_string(n); }
    template <class Thing>
    Text& operator<<(Id<Thing> id) {
        return *this << (id ? std::to_string(id.index()) : "-1");
    }
    const std::string& str() const { return text_; }

 private:
    std::string text_;
};

void add(Text& out, const Choices& c, const Indexed<Quantity, Rational>& last_quantities,
         const Indexed<Sensor, Rational>& last_readings) {
    for (const auto* list :
         {&c.quantities.values(), &c.readings.values(), &last_quantities.values(), &last_readings.values()}) {
        out << list->size();
        for (const auto& x : *list) out << x.get_str();
    }
    for (const auto* list : {&c.positions.values(), &c.missed.values(), &c.contacts.values(), &c.free_loads.values(),
                             &c.wiring.values(), &c.faults.values()}) {
        std::string bits;
        for (const bool on : *list) bits += on ? '1' : '0';
        out << bits;
    }
    out << c.booted << ordinal(c.next_mode) << c.claim_moves_on;
}

// Of the size of what is kept; what a prover says beyond that is searched for again.
constexpr std::size_t max_tangents = 2000, max_depth = 500;
constexpr LemmaLimits kept_limits{.depth = 1000, .characters = std::size_t{32} << 20U, .number = 100};

bool in_range(const std::vector<Rational>& rising, const Rational& x) {
    return !rising.empty() && rising.front() <= x && x <= rising.back();
}

}  // namespace

bool can_be_kept(const KnownAnswer& known) {
    const auto& all = prover_table();
    const auto kind = std::find_if(all.begin(), all.end(), [&](const auto& k) { return k.name == known.prover; });
    if (kind == all.end()) return false;
    if (const auto* reached = std::get_if<Reached>(&known.finding))
        return !kind->proves && reached->depth > 0 && reached->depth <= max_depth;
    const Certificate& c = std::get<InvariantFound>(known.finding).certificate;
    return kind->proves && c.induction >= 1 && c.induction <= deepest_induction && c.tangents.size() <= max_tangents;
}

bool can_be_read(const Question& q, const Certificate& c) {
    z3::context ctx;
    const System s = system_of(ctx, c.with_binding_quantities ? with_binding_quantities(q) : q, true);
    for (const auto& t : c.tangents) {
        const auto product =
            std::find_if(s.products.begin(), s.products.end(), [&](const Product& p) { return p.name == t.product; });
        if (product == s.products.end() || !in_range(product->us, t.u) || !in_range(product->vs, t.v)) return false;
    }
    const auto lemmas = parse_lemmas(s, c.lemmas, kept_limits);
    if (!lemmas) return false;
    for (std::size_t i = 0; i < lemmas->size(); ++i)
        if ((*lemmas)[i].to_string() != c.lemmas[i]) return false;
    return true;
}

std::string key_of(const Question& q, const JudgeOptions& o) {
    Text all;
    all << q.model->sha256 << q.model->made_into;
    for (const auto& pack : q.model->packs) all << pack->id << pack->sha256;
    all << q.condition << q.claim << ordinal(q.target) << q.leaps << q.extra << q.any_mode;
    for (const auto& s : q.before.segments) {
        all << s.scans;
        add(all, s.first, s.last_quantities, s.last_readings);
    }
    for (const auto& s : q.start) all << s;
    for (const auto& t : q.tangents) all << t.product << t.u.get_str() << t.v.get_str();
    all << q.refined << q.with_binding_quantities << o.prover << o.work_limit << o.first_budget << o.any_run;
    return sha256_hex(all.str());
}

}  // namespace lanyard::prove
