#include "page/diagram.hpp"

#include <algorithm>
#include <map>

#include "circuit/words.hpp"
#include "page/thresholds.hpp"
#include "report/cause_marks.hpp"
#include "report/words.hpp"
#include "sim/trace.hpp"
#include "sim/words.hpp"

namespace lanyard::page {

namespace {

using report::CauseMark;
using report::Film;
using report::Frame;

constexpr std::size_t most_tracks = 16;
constexpr int full = 1000;

class Drawer {
 public:
    Drawer(const Film& film, const std::set<SignalId>& causes)
        : film_(film), m_(film.model()), cone_(film.cone()), causes_(causes) {
        for (const auto& c : all_columns(m_)) names_[c.signal] = c.name;
        if (film.claim() != nullptr) claimed_ = named_in_claim(*film.claim());
        if (film.causes() != nullptr) marks_ = report::cause_marks(m_, film.run(), *film.causes());
    }

    Diagram draw() {
        moments();
        for (const FaultId f : m_.faults.ids()) fault(f);
        for (const ProbeId p : m_.circuit.probes.ids()) answer(p);
        for (const SignalId id : chosen()) track(id);
        return std::move(out_);
    }

 private:
    const Film& film_;
    const Model& m_;
    const Cone& cone_;
    const std::set<SignalId>& causes_;
    std::set<SignalId> claimed_;
    std::map<SignalId, std::string> names_;
    std::vector<CauseMark> marks_;
    std::map<SignalId, std::vector<const CauseMark*>> marked_;  // by the signal in whose row they are
    Diagram out_;

    void moments() {
        bool gap = false;
        for (auto& moment : report::moments(film_)) {
            if (moment.scan < 0) {
                gap = true;
                continue;
            }
            if (!out_.moments.empty()) out_.left_out.push_back(gap);
            gap = false;
            out_.moments.push_back(std::move(moment));
        }
        // Nothing has to change at the last scan, but it is the one that the verdict is about.
        const long end = film_.end().scan;
        if (out_.moments.empty() || out_.moments.back().scan == end) return;
        out_.left_out.push_back(false);
        out_.moments.push_back({end, {report::scan_time(m_, end), "", "the run ends"}, {}});
    }

    const Frame& frame(std::size_t k) const { return film_.at(out_.moments[k].scan); }
    long scan_before_next(std::size_t k) const {
        return k + 1 < out_.moments.size() ? out_.moments[k + 1].scan - 1 : out_.moments[k].scan;
    }

    // The row of a signal that a mark belongs to, whatever else is drawn; none: it has a row of its own.
    SignalId row_of(const CauseMark& mark) const {
        if (mark.event.kind == InputEvent::Kind::fault) return {};
        const SignalId id = report::row_of(m_, mark.event);
        if (names_.contains(id)) return id;
        return mark.event.kind == InputEvent::Kind::missed ? m_.switches[mark.event.index].position : SignalId{};
    }
    void star(Track& t, const CauseMark& mark) const {
        for (std::size_t k = 0; k < out_.moments.size(); ++k)
            if (out_.moments[k].scan == mark.scan) t.stars.push_back({k, mark.sentence});
        t.is_cause = t.is_cause || !t.stars.empty();
    }
    bool star_all(Track& t, InputEvent::Kind kind, AnyId index) const {
        for (const auto& mark : marks_)
            if (mark.event.kind == kind && mark.event.index == index) star(t, mark);
        return !t.stars.empty();
    }

    // 0: matters most; -1: not at all. What never changes comes last, even if the verdict hangs on it.
    int rank(SignalId id, bool is_told) const {
        const SignalKind kind = m_.signal(id).kind;
        const bool is_cause = causes_.contains(id);
        if (marked_.contains(id)) return 0;
        if (claimed_.contains(id)) return 1;
        if (is_cause && is_told) return 2;
        if (is_cause) return 5;
        if (!is_told) return -1;
        if (kind == SignalKind::position || kind == SignalKind::mode || kind == SignalKind::fault) return 3;
        if (kind == SignalKind::quantity) return is_constant(id) ? -1 : 4;
        return causes_.empty() ? 6 : -1;
    }

    // Where readers look for it: hands and world, what the controller sees of them, logic, what is driven, the engine.
    static int place(SignalKind kind) {
        switch (kind) {
            case SignalKind::fault:
                return 0;
            case SignalKind::position:
                return 1;
            case SignalKind::quantity:
            case SignalKind::reading:
                return 2;
            case SignalKind::seen:
            case SignalKind::wired:
            case SignalKind::loop:
                return 3;
            case SignalKind::powered:
            case SignalKind::logic:
                return 4;
            case SignalKind::output:
                return 5;
            case SignalKind::contact:
            case SignalKind::node:
                return 6;
            case SignalKind::load:
                return 7;
            case SignalKind::mode:
                return 8;
        }
        return 0;
    }

    std::vector<SignalId> chosen() {
        std::set<SignalId> told(causes_);
        told.insert(claimed_.begin(), claimed_.end());
        std::set<SignalId> changing;
        for (const auto& m : out_.moments) changing.insert(m.signals.begin(), m.signals.end());
        told.insert(changing.begin(), changing.end());
        mark_rows(told);
        std::vector<std::pair<int, SignalId>> ranked;
        for (const SignalId id : told) {
            const int r = rank(id, changing.contains(id));
            if (r >= 0 && names_.contains(id) && !is_drawn(id) && !stands_for(id, told)) ranked.emplace_back(r, id);
        }
        std::sort(ranked.begin(), ranked.end());
        const std::size_t room = most_tracks - std::min(most_tracks, out_.tracks.size());
        const std::size_t drawn = std::min(ranked.size(), std::max(room, marked_.size()));
        for (std::size_t k = drawn; k < ranked.size(); ++k) out_.not_drawn.push_back(names_.at(ranked[k].second));
        ranked.resize(drawn);
        std::vector<SignalId> out;
        for (const auto& [r, id] : ranked) out.push_back(id);
        std::sort(out.begin(), out.end(), [this](SignalId a, SignalId b) {
            return std::pair(place(m_.signal(a).kind), a) < std::pair(place(m_.signal(b).kind), b);
        });
        return out;
    }

    bool is_drawn(SignalId fault) const {
        return std::any_of(out_.tracks.begin(), out_.tracks.end(), [&](const Track& t) { return t.signal == fault; });
    }

    // Rows that marks are in: of a quantity that is drawn as what is read of it, that one.
    void mark_rows(std::set<SignalId>& told) {
        for (const auto& mark : marks_)
            if (const SignalId id = row_of(mark)) told.insert(id);
        for (const auto& mark : marks_) {
            const SignalId id = row_of(mark);
            if (!id) continue;
            const SignalId other = stands_for(id, told);
            marked_[other ? other : id].push_back(&mark);
        }
    }

    // The reading that is drawn instead of a quantity, as it never differs from it.
    SignalId stands_for(SignalId id, const std::set<SignalId>& told) const {
        if (m_.signal(id).kind != SignalKind::quantity) return {};
        for (const auto& s : m_.sensors)
            if (told.contains(s.signal) && m_.quantities[s.quantity].signal == id && same(s.signal, id))
                return s.signal;
        return {};
    }
    bool is_constant(SignalId id) const {
        for (std::size_t k = 0; k < out_.moments.size(); ++k)
            if (number_at(id, out_.moments[k].scan) != number_at(id, 0) ||
                number_at(id, scan_before_next(k)) != number_at(id, 0))
                return false;
        return true;
    }
    bool same(SignalId a, SignalId b) const {
        for (std::size_t k = 0; k < out_.moments.size(); ++k)
            if (frame(k).signals[a] != frame(k).signals[b] ||
                number_at(a, scan_before_next(k)) != number_at(b, scan_before_next(k)))
                return false;
        return true;
    }

    void fault(FaultId f) {
        Track t;
        bool ever = false;
        for (const auto& m : out_.moments) {
            const bool is = film_.fault(f, m.scan);
            ever = ever || is;
            on_off(t, is);
        }
        t.name = m_.faults[f].name;
        t.signal = m_.faults[f].signal;
        const bool must = star_all(t, InputEvent::Kind::fault, f);
        t.is_cause = film_.causes() != nullptr ? must : !causes_.empty();
        settle(t);
        if (must || (ever && out_.tracks.size() < most_tracks)) out_.tracks.push_back(std::move(t));
    }

    // A choice of the wiring that no signal shows: a contact found on its way, one that bounces.
    void answer(ProbeId probe) {
        Track t;
        for (const auto& mark : marks_)
            if (mark.event.kind == InputEvent::Kind::wiring && mark.event.index == probe && !row_of(mark))
                star(t, mark);
        if (t.stars.empty()) return;
        for (const auto& m : out_.moments) on_off(t, film_.answer(probe, m.scan));
        t.name = probe_name(m_, probe);
        settle(t);
        out_.tracks.push_back(std::move(t));
    }

    static void on_off(Track& t, bool is) {
        t.words.emplace_back(is ? "on" : "off");
        t.level.push_back(is ? full : 0);
        t.level_after.push_back(is ? full : 0);
    }
    static void settle(Track& t) {
        t.since = t.words.empty() ? 0 : t.words.size() - 1;
        while (t.since > 0 && t.words[t.since - 1] == t.words.back()) --t.since;
    }

    // A reading and its quantity, where they never differ: one row says what both are, and has the limits of both.
    std::set<SignalId> shown_in_row_of(SignalId id) const {
        std::set<SignalId> out{id};
        for (const auto& s : m_.sensors) {
            const SignalId q = m_.quantities[s.quantity].signal;
            if ((id == s.signal || id == q) && same(s.signal, q)) out.insert({s.signal, q});
        }
        return out;
    }

    std::string shown_name(SignalId id) const {
        const Signal& s = m_.signal(id);
        if (s.kind != SignalKind::reading) return names_.at(id);
        const SignalId q = m_.quantities[m_.sensors[s.index].quantity].signal;
        return names_.at(id) + (same(id, q) ? " (" + m_.name_of(q) + ")" : "");
    }

    void track(SignalId id) {
        Track t;
        t.signal = id;
        t.name = shown_name(id);
        t.is_cause = causes_.contains(id);
        if (const auto at = marked_.find(id); at != marked_.end())
            for (const CauseMark* mark : at->second) star(t, *mark);
        const Type& type = m_.signal(id).type;
        if (type.kind == TypeKind::number) {
            numbers(t);
        } else {
            t.kind = type.kind == TypeKind::mode ? Track::Kind::mode : Track::Kind::on_off;
            for (std::size_t k = 0; k < out_.moments.size(); ++k) {
                const Value& v = frame(k).signals[id];
                if (const auto* on = std::get_if<bool>(&v)) {
                    on_off(t, *on);
                    t.words.back() = truth_words(id, *on);
                }
                if (t.kind == Track::Kind::mode) t.words.push_back(sim::value_text(m_, id, v));
            }
        }
        settle(t);
        out_.tracks.push_back(std::move(t));
    }

    // As the story says it, of what has words of its own whatever the controller sees.
    std::string truth_words(SignalId id, bool on) const {
        const SignalKind kind = m_.signal(id).kind;
        if (kind != SignalKind::position && kind != SignalKind::contact && kind != SignalKind::load)
            return on ? "on" : "off";
        return report::state_words(m_, id, on).substr(m_.name_of(id).size() + 1);
    }

    Rational number_at(SignalId id, long scan) const {
        const Signal& s = m_.signal(id);
        if (s.kind == SignalKind::quantity) return film_.quantity(s.index, scan);
        if (s.kind == SignalKind::reading) return film_.reading(s.index, scan);
        return std::get<Rational>(film_.at(scan).signals[id]);
    }

    void numbers(Track& t) {
        t.kind = Track::Kind::number;
        std::vector<Rational> from, to;
        for (std::size_t k = 0; k < out_.moments.size(); ++k) {
            from.push_back(std::get<Rational>(frame(k).signals[t.signal]));
            to.push_back(number_at(t.signal, scan_before_next(k)));
            t.words.push_back(report::number_text(m_, t.signal, from.back()));
        }
        const auto lines =
            thresholds_of(m_, causes_.empty() ? cone_.signals : causes_, shown_in_row_of(t.signal), film_.claim());
        std::vector<Rational> all(from);
        all.insert(all.end(), to.begin(), to.end());
        for (const auto& l : lines) all.push_back(l);
        const auto [least, most] = std::minmax_element(all.begin(), all.end());
        const Rational low = *least, span = *most - *least;
        const auto level = [&](const Rational& x) {
            return span == 0 ? full / 2 : static_cast<int>(floor_of((x - low) * full / span).get_si());
        };
        for (const auto& x : from) t.level.push_back(level(x));
        for (const auto& x : to) t.level_after.push_back(level(x));
        for (const auto& x : lines) t.lines.push_back({level(x), report::number_text(m_, t.signal, x)});
    }
};

}  // namespace

std::set<SignalId> named_in_claim(const Claim& claim) {
    std::set<SignalId> out;
    for (const auto& e : expressions_of(claim))
        visit(e, [&out](const Expr& x) {
            if (x.op == Op::signal || x.op == Op::last) out.insert(x.signal);
        });
    return out;
}

Diagram diagram_of(const Film& film, const std::set<SignalId>& causes) { return Drawer(film, causes).draw(); }

}  // namespace lanyard::page
