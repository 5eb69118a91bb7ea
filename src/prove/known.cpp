#include "prove/known.hpp"

#include "base/file.hpp"
#include "model/packs.hpp"

namespace lanyard {

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
    const std::string& str() const { return text_; }

 private:
    std::string text_;
};

void add(Text& out, const Choices& c, const std::vector<Rational>& last_quantities,
         const std::vector<Rational>& last_readings) {
    for (const auto* list : {&c.quantities, &c.readings, &last_quantities, &last_readings}) {
        out << list->size();
        for (const auto& x : *list) out << x.get_str();
    }
    for (const auto* list : {&c.positions, &c.missed, &c.contacts, &c.free_loads, &c.wiring, &c.faults}) {
        std::string bits;
        for (const bool on : *list) bits += on ? '1' : '0';
        out << bits;
    }
    out << c.booted << static_cast<int>(c.next_mode) << c.claim_moves_on;
}

}  // namespace

std::string key_of(const Question& q, const JudgeOptions& o) {
    Text all;
    all << q.model->sha256 << q.model->made_into;
    for (const auto& pack : q.model->packs) all << pack->id << pack->sha256;
    all << q.condition << q.claim << static_cast<int>(q.target) << q.leaps << q.extra;
    for (const auto& s : q.before.segments) {
        all << s.scans;
        add(all, s.first, s.last_quantities, s.last_readings);
    }
    for (const auto& s : q.start) all << s;
    for (const auto& t : q.tangents) all << t.product << t.u.get_str() << t.v.get_str();
    all << q.refined << q.wide << o.engine << o.work_limit << o.first_budget << o.any_run;
    return sha256_hex(all.str());
}

}  // namespace lanyard
