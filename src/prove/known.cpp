#include "prove/known.hpp"

#include <algorithm>

#include "base/file.hpp"
#include "base/log.hpp"
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
constexpr std::size_t max_tangents = 2000, max_depth = 500, max_segments = 20'000;
constexpr long max_scans = 1'000'000;
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
    if (std::holds_alternative<RestsOn>(known.finding)) return kind->proves;
    const Certificate& c = std::get<InvariantFound>(known.finding).certificate;
    return kind->proves && c.induction >= 1 && c.induction <= deepest_induction && c.tangents.size() <= max_tangents;
}

bool can_be_kept(const Run& run) {
    long left = max_scans;
    for (const auto& s : run.segments) left -= std::min(left + 1, s.scans);
    return left >= 0 && !run.segments.empty() && run.segments.size() <= max_segments;
}

Certificate readable(const Question& q, const Certificate& c) {
    z3::context ctx;
    const System s = system_of(ctx, c.with_binding_quantities ? with_binding_quantities(q) : q, true);
    Certificate out = c;
    std::erase_if(out.tangents, [&](const Tangent& t) {
        const auto product =
            std::find_if(s.products.begin(), s.products.end(), [&](const Product& p) { return p.name == t.product; });
        return product == s.products.end() || !in_range(product->us, t.u) || !in_range(product->vs, t.v);
    });
    std::erase_if(out.lemmas, [&](const std::string& text) {
        const auto lemma = parse_lemmas(s, {text}, kept_limits);
        return !lemma || lemma->front().to_string() != text;
    });
    return out;
}

bool can_be_read(const Question& q, const Certificate& c) {
    const Certificate left = readable(q, c);
    return left.lemmas.size() == c.lemmas.size() && left.tangents.size() == c.tangents.size();
}

QuestionKey key_of(const Question& q, const JudgeOptions& o) {
    const Model& m = *q.model;
    Text like, exact;
    like << m.conditions[q.condition].name << (q.claim ? m.claims[q.claim].id : "") << bool(q.claim);
    like << m.made_into << ordinal(q.target) << q.extra << q.any_mode << o.prover << o.any_run;
    for (const auto& s : q.start) like << s;
    exact << m.sha256;
    for (const auto& pack : m.packs) exact << pack->id << pack->sha256;
    exact << q.condition << q.claim << q.leaps;
    for (const auto& s : q.before.segments) {
        exact << s.scans;
        add(exact, s.first, s.last_quantities, s.last_readings);
    }
    for (const auto& t : q.tangents) exact << t.product << t.u.get_str() << t.v.get_str();
    exact << q.refined << q.with_binding_quantities << o.work_limit << o.first_budget << like.str();
    return {sha256_hex(exact.str()), sha256_hex(like.str())};
}

std::optional<Run> shown_run(const Question& q, const JudgeOptions& o, const std::string& what,
                             const std::function<bool(const Run&)>& passes,
                             const std::function<std::optional<Run>()>& find) {
    if (o.known == nullptr) return find();
    const QuestionKey key = key_of(q, o).beside(what);
    if (const auto known = o.known->look_up(key, *q.model)) {
        if (known->run && passes(*known->run)) {
            LANYARD_LOG(debug, "kept run played again: it passes");
            return known->run;
        }
        o.known->drop(key);
    }
    const auto found = find();
    if (found && !o.stopped()) o.known->keep(key, {Reached{1}, "bounded", found}, *q.model);
    return found;
}

}  // namespace lanyard::prove
