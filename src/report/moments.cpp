#include "report/moments.hpp"
#include "report/faults.hpp"

#include <algorithm>
#include <iterator>

#include "claims/bounds.hpp"
#include "report/cause_marks.hpp"
#include "report/cause_words.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

constexpr std::size_t most_rows = 48;
constexpr std::size_t first_rows = 16;
constexpr std::size_t longest_in_table = 40;

class Teller {
 public:
    explicit Teller(const Film& film) : film_(film), m_(film.model()), cone_(film.cone()) {
        const Claim* claim = film.claim();
        response_ = claim != nullptr ? std::get_if<Response>(&claim->body) : nullptr;
        if (response_ != nullptr && response_->manner == Manner::while_it_lasts &&
            response_bound(*response_, m_.scan) == 1)
            response_ = nullptr;
        const auto* steps = claim != nullptr ? std::get_if<Procedure>(&claim->body) : nullptr;
        begins_later_ = steps != nullptr && steps->from != nullptr;
        has_window_ = claim != nullptr && std::holds_alternative<ChangeLimit>(claim->body);
        has_window_ = has_window_ || (response_ != nullptr && response_->manner == Manner::in_total);
        shown_readings_.resize(m_.sensors.size());
        seen_.resize(m_.wired_inputs.size());
        for (const SignalId id : m_.order) defined_by_[definition(m_, id).get()] = id;
        if (film.causes() != nullptr) marks_ = cause_marks(m_, film.run(), *film.causes());
        is_marked_.resize(marks_.size());
    }

    std::vector<Moment> moments() {
        std::vector<Moment> out;
        for (std::size_t k = 0; k < film_.frames().size(); ++k) {
            left_.clear();
            right_.clear();
            told_.clear();
            has_cause_ = false;
            now_ = &film_.frames()[k];
            before_ = k == 0 ? nullptr : &film_.frames()[k - 1];
            std::string driver = hands();
            world();
            machine();
            silent_causes();
            const std::string left = joined(left_, ", ");
            driver += (driver.empty() || left.empty() ? "" : "; ") + left;
            if (k > 0 && driver.empty() && right_.empty()) continue;
            if (driver.empty() && right_.empty()) driver = "everything is off";
            out.push_back({now_->scan, {scan_time(m_, now_->scan), driver, joined(right_, ", ")}, told_, has_cause_});
        }
        return out;
    }

 private:
    const Film& film_;
    const Model& m_;
    const Cone& cone_;
    std::map<const Expr*, SignalId> defined_by_;
    Indexed<Sensor, std::optional<Rational>> shown_readings_;  // where they differ from what they measure
    Indexed<WiredInput, bool> seen_;                           // as told last
    const Response* response_ = nullptr;                       // whose time is worth telling
    bool begins_later_ = false;                                // a driver from any state
    bool has_window_ = false;
    const Frame* now_ = nullptr;
    const Frame* before_ = nullptr;
    std::vector<std::string> left_;
    std::vector<std::string> right_;
    std::vector<SignalId> told_;
    std::vector<CauseMark> marks_;
    std::vector<bool> is_marked_;  // per mark: it is told
    bool has_cause_ = false;       // the moment

    // The text, marked if it tells of a cause that is like this.
    template <class F>
    std::string marked_if(const F& is_it, const std::string& text) {
        bool any = false;
        for (std::size_t k = 0; k < marks_.size(); ++k) {
            if (marks_[k].scan != now_->scan || !is_it(marks_[k])) continue;
            is_marked_[k] = any = true;
        }
        has_cause_ = has_cause_ || any;
        return any ? text + cause_mark : text;
    }
    bool is_of(const CauseMark& mark, SignalId id) const { return id && mark.shows == id; }
    std::string marked(SignalId id, const std::string& text) {
        return marked_if([&](const CauseMark& mark) { return is_of(mark, id); }, text);
    }
    bool is_cause(SignalId id) const {
        return std::any_of(marks_.begin(), marks_.end(),
                           [&](const CauseMark& mark) { return mark.scan == now_->scan && is_of(mark, id); });
    }
    // What is a cause and changes nothing that is told: a relay that is slow, a contact on its way.
    void silent_causes() {
        for (std::size_t k = 0; k < marks_.size(); ++k) {
            if (marks_[k].scan != now_->scan || is_marked_[k]) continue;
            left_.push_back(marks_[k].what + cause_mark);
            is_marked_[k] = has_cause_ = true;
        }
    }
    void left(SignalId id, const std::string& text) {
        told_.push_back(id);
        left_.push_back(marked(id, text));
    }
    void right(SignalId id, const std::string& text) {
        told_.push_back(id);
        right_.push_back(marked(id, text));
    }
    const Value& value(SignalId id) const { return now_->signals[id]; }
    // At the first moment what is off needs no words.
    bool news(SignalId id) const {
        if (before_ != nullptr) return before_->signals[id] != value(id);
        const auto* on = std::get_if<bool>(&value(id));
        return on == nullptr || *on;
    }
    std::string words(SignalId id) const {
        return before_ == nullptr ? state_words(m_, id, value(id)) : change_words(m_, id, value(id));
    }

    // What the driver does, behind the step that he is at.
    std::string hands() {
        std::vector<std::string> moved;
        for (const auto& s : m_.switches) {
            const bool told_at_first = before_ == nullptr && (s.rests_on || is_cause(s.position));
            if (!cone_.has(s.position) || !(news(s.position) || told_at_first)) continue;
            told_.push_back(s.position);
            moved.push_back(marked(s.position, words(s.position)));
        }
        const bool begins = now_->claim.begun && (before_ == nullptr || !before_->claim.begun);
        const bool new_step = now_->claim.begun && (begins || before_->phase != now_->phase);
        if (film_.steps() == 0 || !new_step) return joined(moved, ", ");
        const bool over = now_->phase >= film_.steps();
        const std::string step = over                      ? "the steps are over"
                                 : begins && begins_later_ ? "the driver begins, step 1"
                                                           : "step " + std::to_string(now_->phase + 1);
        return step + (moved.empty() ? "" : ": ") + joined(moved, ", ");
    }

    void world() {
        faults();
        for (const QuantityId k : m_.quantities.ids())
            if (cone_.has(m_.quantities[k].signal)) quantity(k);
        if (m_.mode && cone_.has(m_.mode) && before_ != nullptr && stalls()) left(m_.mode, "engine stalls");
    }

    void faults() {
        for (const FaultId fault : m_.faults.ids()) {
            const bool is = film_.fault(fault, now_->scan);
            const bool was = before_ != nullptr && film_.fault(fault, before_->scan);
            const auto is_it = [fault](const CauseMark& mark) {
                return mark.event.kind == InputEvent::Kind::fault && mark.event.index == fault;
            };
            if (is && !was) left_.push_back(marked_if(is_it, fault_words(m_, fault) + when_it_tells(m_.faults[fault])));
            if (was && !is) left_.push_back(m_.faults[fault].name + " goes away");
        }
    }

    // A contact cannot weld before it is closed.
    std::string when_it_tells(const Fault& f) const {
        if (f.kind != FaultKind::relay_welded) return "";
        return std::get<bool>(value(m_.relays[f.index].contact)) ? "" : " once it has pulled in";
    }

    void quantity(QuantityId k) {
        const SignalId id = m_.quantities[k].signal;
        const Rational& x = std::get<Rational>(value(id));
        const std::string& name = m_.name_of(id);
        const Segment& segment = film_.segment_at(now_->scan);
        const std::string here = number_text(m_, id, x);
        const bool moves = now_->segment_begins && segment.scans > 1 && !segment.last_quantities.empty() &&
                           segment.last_quantities[k] != segment.first.quantities[k];
        if (moves) {
            const Rational& end = segment.last_quantities[k];
            left(id, name + (end > x ? " rises from " : " falls from ") + here + " to " + number_text(m_, id, end) +
                         " by " + scan_time(m_, now_->scan + segment.scans - 1));
        } else if (before_ == nullptr) {
            left(id, name + " " + here);
        } else if (now_->segment_begins) {
            const Rational last = film_.quantity(k, now_->scan - 1);
            if (last != x) left(id, name + (x > last ? " rises to " : " falls to ") + here);
        }
    }

    bool stalls() const {
        const auto was = std::get<Mode>(before_->signals[m_.mode]);
        if (was != Mode::running || std::get<Mode>(value(m_.mode)) != Mode::coasting) return false;
        const auto& loads = m_.engine->fires_with;
        return std::all_of(loads.begin(), loads.end(),
                           [this](LoadId load) { return std::get<bool>(now_->last[m_.loads[load].signal]); });
    }

    void machine() {
        for (const auto& s : m_.switches) missed(s);
        if (m_.may_lose_power() && cone_.has(m_.powered) && (before_ == nullptr || news(m_.powered)))
            right(m_.powered, words(m_.powered));
        for (const SensorId k : m_.sensors.ids())
            if (cone_.has(m_.sensors[k].signal)) reading(k);
        for (const auto& l : m_.loops) plain(l.signal);
        for (const WiredInputId k : m_.wired_inputs.ids()) wired(k);
        claim();
        timers();
        for (const SignalId id : m_.order) defined(id);
        for (const auto& r : m_.relays) plain(r.contact);
        for (const auto& n : m_.circuit.nodes)
            if (n.signal) plain(n.signal);
        loads();
        if (m_.mode) plain(m_.mode);
    }

    // Where the claim's window begins, and from when on a response is waited for.
    void claim() {
        if (has_window_ && now_->claim_now.begun && !now_->claim.begun) right_.push_back("the claim's window begins");
        if (response_ == nullptr) return;
        if (response_->manner == Manner::while_it_lasts) return premise();
        const sim::MonitorState& was = now_->claim;
        const sim::MonitorState& is = now_->claim_now;
        const bool total = response_->manner == Manner::in_total;
        if (was.age == 0 && is.age > 0)
            right_.push_back(total ? "the total is reached, the claim's time begins" : "the claim's time begins");
        if (!total && !was.owed && is.owed && response_calls(*response_, m_.scan) > 1)
            right_.push_back("the response is owed");
        if (was.age > 0 && is.age == 0) right_.push_back(was.owed ? "the response comes" : "the claim's time stops");
    }

    void premise() {
        const bool holds = film_.truth(*response_->whenever, *now_);
        const bool held = before_ != nullptr && film_.truth(*response_->whenever, *before_);
        if (holds != held) right_.push_back(holds ? "the claim's time begins" : "the claim's time stops");
    }

    // A controller without power sees nothing; what it sees is told as soon as it runs.
    void wired(WiredInputId k) {
        const SignalId id = m_.wired_inputs[k].signal;
        if (!cone_.has(id) || !runs()) return;
        const bool on = std::get<bool>(value(id));
        if (on == seen_[k]) return;
        seen_[k] = on;
        right(id, words(id));
    }

    void plain(SignalId id) {
        if (cone_.has(id) && news(id)) right(id, words(id));
    }

    void loads() {
        for (const bool power : {true, false}) {
            std::vector<SignalId> changed;
            for (const auto& l : m_.loads)
                if (!is_an_output(l) && cone_.has(l.signal) && news(l.signal) &&
                    std::get<bool>(value(l.signal)) == power) {
                    if (is_cause(l.signal))
                        right(l.signal, loads_words(m_, {l.signal}, power));
                    else
                        changed.push_back(l.signal);
                }
            told_.insert(told_.end(), changed.begin(), changed.end());
            if (!changed.empty()) right_.push_back(loads_words(m_, changed, power));
        }
    }

    void missed(const Switch& s) {
        if (!s.may_be_missed || !cone_.has(s.seen)) return;
        const bool position = std::get<bool>(value(s.position));
        if (std::get<bool>(value(s.seen)) == (position == s.normally_closed))
            right(s.seen, "the change of " + m_.name_of(s.position) + " is missed");
    }

    void reading(SensorId k) {
        const Sensor& s = m_.sensors[k];
        const Rational& x = std::get<Rational>(value(s.signal));
        const SignalId q = m_.quantities[s.quantity].signal;
        const bool differs = x != std::get<Rational>(value(q));
        const bool shown = shown_readings_[k].has_value();
        const bool moves = before_ != nullptr && !now_->segment_begins;
        if (moves || (!differs && !shown) || (shown && *shown_readings_[k] == x)) return;
        right(s.signal, m_.name_of(s.signal) + " reads " + number_text(m_, s.signal, x));
        if (differs)
            shown_readings_[k] = x;
        else
            shown_readings_[k].reset();
    }

    bool is_an_output(const Load& l) const {
        return l.feeders.size() == 1 && m_.name_of(l.feeders[0]) == m_.name_of(l.signal) &&
               m_.signal(l.feeders[0]).type.kind == TypeKind::boolean;
    }

    void defined(SignalId id) {
        if (!cone_.has(id)) return;
        const Signal& s = m_.signal(id);
        if (s.type.kind == TypeKind::number) {
            if (s.kind == SignalKind::output && (before_ == nullptr || news(id))) right(id, words(id));
            return;
        }
        if (!news(id)) return;
        const Expr& e = *definition(m_, id);
        right(id, words(id) + (has_memory(e.op) && runs() ? clock_words(e) : ""));
    }

    bool runs() const { return film_.controller_runs(*now_); }

    // Why a signal changes that is nothing but a clock.
    std::string clock_words(const Expr& e) const {
        const bool on = film_.is_on(e, *now_);
        const std::string length = duration_text(e.value);
        if (!is_clock(e.op) || (is_delay(e.op) && on != (e.op == Op::ton))) return "";
        return (on && !is_delay(e.op) ? " (for " : " (after ") + length + ")";
    }

    // Clocks inside of expressions have no name of their own.
    void timers() {
        for (const ElementId id : cone_.elements) {
            const Expr* e = film_.element(id);
            if (e == nullptr || defined_by_.contains(e) || !is_clock(e->op)) continue;
            const bool on = film_.is_on(*e, *now_);
            const bool was = before_ != nullptr && film_.is_on(*e, *before_);
            if (on == was || !runs()) continue;
            const std::string name = short_text(m_, *e, longest_in_table);
            if (!is_delay(e->op))
                right_.push_back(name + (on ? " begins" : " is over"));
            else if (on == (e->op == Op::ton))
                right_.push_back(name + " has run out");
        }
    }
};

}  // namespace

// Of a long run the begin, the end, and what is marked.
std::vector<Moment> moments(const Film& film) {
    std::vector<Moment> all = Teller(film).moments();
    if (all.size() <= most_rows) return all;
    const std::size_t end = all.size() - (most_rows - first_rows);
    std::vector<Moment> out;
    long gap = 0;
    for (std::size_t k = 0; k < all.size(); ++k) {
        if (k >= first_rows && k < end && !all[k].has_cause) {
            ++gap;
            continue;
        }
        if (gap > 0) {
            const std::string many = counted(gap, "moment") + (gap == 1 ? " is" : " are");
            out.push_back({-1, {"...", many + " left out here", ""}, {}});
        }
        gap = 0;
        out.push_back(std::move(all[k]));
    }
    return out;
}

std::string moments_table(const std::vector<Moment>& moments) {
    std::vector<Row> rows;
    for (const auto& m : moments) rows.push_back(m.row);
    return table_text(rows);
}

}  // namespace lanyard::report
