// Why a signal is what it is.
#include <algorithm>

#include "lang/print.hpp"
#include "report/explainer.hpp"
#include "report/words.hpp"
#include "sim/words.hpp"

namespace lanyard::report {

namespace {

constexpr const char* since_the_run_began = " since the run began";

bool same(const std::vector<Reason>& a, const std::vector<Reason>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [](const Reason& x, const Reason& y) { return x.text == y.text && same(x.because, y.because); });
}

struct SignalWalker : Walker {
    Reason signal(SignalId id, long scan) {
        for (SignalId to = id; passes_through(id, scan, to);) id = to;
        const long since = film_.since(id, scan);
        if (changes_) scan = since;
        Reason r{state(id, scan), {}, since};
        ++told_.count;
        if (told_.budget_exhausted()) return r;
        const std::pair key(id, state_words(m_, id, film_.at(scan).signals[id]));
        if (!tell(id, scan)) return ring(std::move(r), key);
        ++told_.depth;
        told_.explaining.push_back(key);
        const int said = told_.since_begun;
        r.because = why(id, scan);
        told_.explaining.pop_back();
        --told_.depth;
        if (m_.signal(id).type.kind == TypeKind::boolean && never_came(id, on(id, scan), said)) {
            ++told_.since_begun;
            r.text += since_the_run_began;
        }
        return r;
    }

    // What is a reason for itself, a scan or more earlier: what counts is how it came to be so. The ring is told as
    // one by the signal that closes it; the others on it are told on the way to how it began.
    Reason ring(Reason r, const AlreadyTold::State& key) {
        const auto begins = std::find(told_.explaining.begin(), told_.explaining.end(), key);
        if (begins == told_.explaining.end() || changes_ || !told_.rings.insert(key).second) return r;
        if (!told_.ring_members.contains(key)) {
            told_.ring_members.insert(begins, told_.explaining.end());
            r.text = key.second + ", which has held itself so " +
                     (r.scan == 0 ? "from the beginning" : "since " + time(r.scan));
        }
        const Deeper deeper(told_);
        r.because = why(key.first, r.scan);
        return r;
    }

    List why(SignalId id, long scan) {
        const Signal& s = m_.signal(id);
        const AnyId k = s.index;
        switch (s.kind) {
            case SignalKind::position:
            case SignalKind::quantity:
                return {};
            case SignalKind::seen: {
                const Switch& hand = m_.switches[k];
                List broken = of_faults(on(id, scan) ? hand.stuck_on_by : hand.stuck_off_by, scan);
                if (!on(id, scan) && broken.empty() && on(hand.position, scan) != hand.normally_closed)
                    broken = of_faults(hand.bounced_by, scan);
                if (!broken.empty()) return broken;
                const bool as_it_is =
                    on(id, scan) == (on(m_.switches[k].position, scan) != m_.switches[k].normally_closed);
                return {signal(m_.switches[k].position, as_it_is || scan == 0 ? scan : scan - 1)};
            }
            case SignalKind::reading: {
                if (there(m_.sensors[k].faults, scan)) return of_faults(m_.sensors[k].faults, scan);
                const SignalId q = m_.quantities[m_.sensors[k].quantity].signal;
                const auto& now = film_.at(scan).signals;
                if (now[q] == now[id]) return {};
                Reason r = signal(q, scan);
                r.text += off_words(m_.sensors[k]);
                return {r};
            }
            case SignalKind::loop:
                if (scan == 0) return one("nothing to read back at the first scan");
                if (there(m_.loops[k].opened_by, scan)) return of_faults(m_.loops[k].opened_by, scan);
                return {signal(m_.loops[k].output, scan - 1)};
            case SignalKind::logic:
            case SignalKind::output: {
                if (!film_.controller_runs(film_.at(scan))) return {signal(m_.powered, scan)};
                const Expr& e = *definition(m_, id);
                if (e.type.kind == TypeKind::boolean)
                    return ask_.truth(e, scan, has_memory(e.op) ? std::string("its ") + op_word(e.op) : "");
                return ask_.numbers(e, scan);
            }
            case SignalKind::contact:
                return why_contact(k, scan);
            case SignalKind::load:
                return why_load(k, scan);
            case SignalKind::wired:
                return ask_.probe(m_.wired_inputs[k].probe, scan);
            case SignalKind::node:
                return ask_.node(k, s.name, scan);
            case SignalKind::fault:
                return {};
            case SignalKind::mode:
                return why_mode(scan);
            case SignalKind::powered:
                return why_power(scan);
        }
        return {};
    }

    std::string state(SignalId id, long scan) const {
        const Signal& s = m_.signal(id);
        std::string text = state_words(m_, id, film_.at(scan).signals[id]);
        if (changes_) return text + when(scan);
        const long since = film_.since(id, scan);
        const bool lasting = s.kind == SignalKind::position || s.kind == SignalKind::mode;
        if (lasting && since > 0 && film_.since(id, now_) <= scan) return text + " since " + time(since);
        return film_.since(id, now_) <= scan ? text : text + when(scan);
    }

    // A signal that says the same as another one under the same name is not told for itself.
    bool passes_through(SignalId id, long scan, SignalId& to) const {
        const Signal& s = m_.signal(id);
        const AnyId k = s.index;
        if (s.kind == SignalKind::seen) {
            to = m_.switches[k].position;
            return !m_.switches[k].normally_closed && on(id, scan) == on(to, scan);
        }
        if (s.kind == SignalKind::load && m_.loads[k].feeders.size() == 1) {
            to = m_.loads[k].feeders[0];
            return m_.name_of(to) == s.name && m_.signal(to).type.kind == TypeKind::boolean;
        }
        return false;
    }

    // "; oil_r may be 0.5 bar off and 0.2 s late"
    std::string off_words(const Sensor& s) const {
        std::vector<std::string> may;
        const Unit unit = sim::unit_of(m_, s.signal);
        if (s.accuracy > 0) may.push_back(print_value(s.accuracy, unit, true) + " off");
        if (s.delay > 0) may.push_back(duration_text(s.delay) + " late");
        return may.empty() ? "" : "; " + m_.name_of(s.signal) + " may be " + joined(may, " and ");
    }

    // A relay that does not follow its coil, or a coil that does not follow what drives it.
    List coil_faults(const Relay& r, bool closed, long scan) const {
        List out = of_faults(closed ? r.welded_by : r.never_pulls_by, scan);
        if (!out.empty() || !r.coil) return out;
        const Output& o = m_.outputs[m_.signal(r.coil).index];
        return of_faults(closed ? o.stuck_on_by : o.stuck_off_by, scan);
    }

    List why_contact(RelayId relay, long scan) {
        const Relay& r = m_.relays[relay];
        List broken = coil_faults(r, on(r.contact, scan), scan);
        if (!broken.empty()) return broken;
        if (!r.coil) return ask_.wired_contact(relay, scan);
        const bool coil = on(r.coil, scan);
        if (coil == on(r.contact, scan)) return {signal(r.coil, scan)};
        if (!of_faults(r.slow_by, scan).empty()) return of_faults(r.slow_by, scan);
        const Interval& takes = coil ? r.pulls_in : r.drops_out;
        return one(std::string("it may take ") + duration_text(takes.hi) + " to " + (coil ? "pull in" : "drop out"),
                   {signal(r.coil, scan)});
    }

    List why_load(LoadId load, long scan) {
        const Load& l = m_.loads[load];
        if (l.probe) return ask_.probe(l.probe, scan);
        if (l.feeders.empty()) return one("nothing in the model feeds it");
        const bool power = on(l.signal, scan);
        List out;
        for (const SignalId f : l.feeders) {
            const Signal& s = m_.signal(f);
            List broken;
            if (s.kind == SignalKind::output) {
                const Output& o = m_.outputs[s.index];
                broken = of_faults(power ? o.stuck_on_by : o.stuck_off_by, scan);
            }
            if (broken.empty() && on(f, scan) == power) out.push_back(signal(f, scan));
            for (auto& r : broken) out.push_back(std::move(r));
        }
        return out;
    }

    List why_power(long scan) {
        const Circuit& c = m_.circuit;
        if (film_.controller_runs(film_.at(scan)))
            return c.supply_probe && !m_.supply.on ? ask_.probe(c.supply_probe, scan) : List{};
        if (there(m_.supply.dead_by, scan)) return of_faults(m_.supply.dead_by, scan);
        if (c.reset_probe && film_.answer(c.reset_probe, scan)) return of_faults(m_.supply.resets_by, scan);
        if (m_.supply.on && !film_.truth(*m_.supply.on, film_.at(scan))) return truth(*m_.supply.on, scan);
        if (c.supply_probe && !film_.answer(c.supply_probe, scan)) {
            // What keeps power from a load as well is not told twice.
            const std::set<std::string> told = told_.open;
            List out = ask_.probe(c.supply_probe, scan);
            std::erase_if(out, [&told](const Reason& r) { return told.contains(r.text); });
            return out;
        }
        return one("it takes up to " + duration_text(m_.supply.boots_in.hi) + " to boot");
    }

    // Loads that hang on the same feed, or that the wiring feeds or not for the same reasons.
    std::vector<std::vector<LoadId>> told_together(const std::vector<LoadId>& loads, bool power, long scan) const {
        std::vector<std::vector<LoadId>> groups;
        std::vector<List> reasons;
        for (const LoadId load : loads) {
            const Load& l = m_.loads[load];
            if (on(l.signal, scan) != power) continue;
            const List mine = l.probe ? ask_.why_untold(l.signal, scan) : List{};
            std::size_t k = 0;
            for (; k < groups.size(); ++k) {
                const Load& other = m_.loads[groups[k].front()];
                const bool wired = l.probe && other.probe;
                if (wired ? same(mine, reasons[k]) : l.probe == other.probe && l.feeders == other.feeders) break;
            }
            if (k == groups.size()) {
                groups.emplace_back();
                reasons.push_back(mine);
            }
            groups[k].push_back(load);
        }
        return groups;
    }

    // Loads with or without power.
    List why_loads(const std::vector<LoadId>& loads, bool power, long scan) {
        List out;
        for (const auto& group : told_together(loads, power, scan)) {
            std::vector<SignalId> ids;
            for (const LoadId load : group) ids.push_back(m_.loads[load].signal);
            Reason r = signal(ids.front(), scan);
            if (ids.size() > 1) {
                const bool lasts = film_.since(ids.front(), now_) <= scan;
                const auto always = [this](SignalId id) { return film_.since(id, film_.end().scan) == 0; };
                const bool never_came =
                    r.text.ends_with(since_the_run_began) && std::all_of(ids.begin(), ids.end(), always);
                r.text = loads_words(m_, ids, power) + (never_came ? since_the_run_began : lasts ? "" : when(scan));
            }
            out.push_back(std::move(r));
        }
        return out;
    }

    // The latest attempt to run counts: it ran until something was off, it was cranked and something was off, or it has
    // not been cranked. What was before the driver began is not his attempt.
    List why_not_running(long scan) {
        const auto& frames = film_.frames();
        const auto mode = [&](std::size_t k) { return std::get<Mode>(frames[k].signals[m_.mode]); };
        const std::size_t first = film_.steps() > 0 ? film_.index_at(std::max(0L, film_.begins())) : 0;
        std::size_t k = film_.index_at(scan);
        while (k > first && mode(k) != Mode::running && mode(k) != Mode::cranking) --k;
        const bool ran = mode(k) == Mode::running;
        if (changes_ || (!ran && mode(k) != Mode::cranking)) return {signal(m_.mode, scan)};
        const auto goes_on = [&](const Frame& f) { return std::get<Mode>(f.signals[m_.mode]) == mode(k); };
        const auto end = std::find_if_not(frames.begin() + static_cast<std::ptrdiff_t>(k), frames.end(), goes_on);
        if (end == frames.end()) return {signal(m_.mode, scan)};
        const Deeper deeper(told_);
        const long left = end->scan;
        const std::string begun = time(film_.since(m_.mode, frames[k].scan));
        if (!ran)
            return one(
                "the engine was cranked from " + begun + " to " + time(left) + " and did not fire",
                why_it_did_not_fire(film_.since(m_.mode, frames[k].scan), last_cranked(std::min(scan, left - 1))));
        if (film_.since(m_.mode, scan) == left) return one(state(m_.mode, scan), why_it_ended(left - 1));
        return one("the engine ran from " + begun + " to " + time(left), why_it_ended(left - 1));
    }

    // That the engine is not at rest, rather than that it does not run, is in question: of one that is cranked that its
    // starter has power, now or when its mode was chosen, a scan before.
    List why_turning(long scan) {
        if (std::get<Mode>(film_.at(scan).signals[m_.mode]) != Mode::cranking) return {signal(m_.mode, scan)};
        const long since = film_.since(m_.mode, scan);
        if (changes_) scan = since;
        Reason r{state(m_.mode, scan), {}, since};
        if (!tell(m_.mode, scan) || !m_.engine->cranks_with) return {r};
        const Deeper deeper(told_);
        const LoadId starter = m_.engine->cranks_with;
        if (!on(m_.loads[starter].signal, scan) && scan > 0) --scan;
        r.because = why_loads({starter}, true, scan);
        return {r};
    }

    // What goes off together with the starter is not why it did not fire before.
    long last_cranked(long scan) const {
        const LoadId starter = m_.engine->cranks_with;
        if (!starter || on(m_.loads[starter].signal, scan)) return scan;
        const long released = film_.since(m_.loads[starter].signal, scan);
        const bool begun = std::get<Mode>(film_.at(std::max(0L, released - 1)).signals[m_.mode]) == Mode::cranking;
        return begun && released > 0 ? released - 1 : scan;
    }

    List why_it_ended(long scan) {
        List out = why_loads(m_.engine->fires_with, false, scan);
        return out.empty() ? one("it stalls") : out;
    }

    // The firing time begins anew with each interruption.
    List why_it_did_not_fire(long begun, long scan) {
        const Missing here(told_);
        const Engine& e = *m_.engine;
        List out = why_loads(e.fires_with, false, scan);
        if (!out.empty()) return out;
        const auto lacks = [&](LoadId load) { return !on(m_.loads[load].signal, scan); };
        const std::string takes =
            "it fires " + times_text(e.firing_time) + " after everything that it fires with has power";
        const long cranked = scan;
        for (std::size_t k = film_.index_at(scan); k < film_.frames().size(); --k) {
            scan = film_.frames()[k].scan;
            if (scan < begun) break;
            if (std::any_of(e.fires_with.begin(), e.fires_with.end(), lacks))
                return one(takes + ", which it had only from " + time(film_.frames()[k + 1].scan) + " on",
                           why_loads(e.fires_with, false, scan));
            if (k == 0) break;
        }
        return one(takes + ", and it was cranked for " + duration_text(Rational((cranked + 1 - begun) * m_.scan)));
    }

    // What keeps the engine from being in another mode.
    List why_mode(long scan) {
        const Engine& e = *m_.engine;
        const Mode mode = std::get<Mode>(film_.at(scan).signals[m_.mode]);
        const long since = film_.since(m_.mode, scan);
        List out;
        switch (mode) {
            case Mode::stopped:
                if (e.cranks_with) {
                    const Missing here(told_);
                    out = why_loads({e.cranks_with}, false, scan);
                }
                return out;
            case Mode::cranking:
                return why_it_did_not_fire(since, scan);
            case Mode::running: {
                out = why_loads(e.fires_with, true, scan);
                const bool caught = since > 0 && std::get<Mode>(film_.at(since - 1).signals[m_.mode]) == Mode::coasting;
                return caught ? one("it catches while coasting", out) : out;
            }
            case Mode::coasting:
                return since > 0 ? why_it_ended(since - 1) : one("it stalls");
        }
        return out;
    }
};

}  // namespace

Reason Explainer::signal(SignalId id, long scan) { return SignalWalker{walker_}.signal(id, scan); }

std::vector<Reason> Explainer::why(SignalId id, long scan) { return SignalWalker{walker_}.why(id, scan); }

std::vector<Reason> Explainer::why_not_running(long scan) { return SignalWalker{walker_}.why_not_running(scan); }

std::vector<Reason> Explainer::why_turning(long scan) { return SignalWalker{walker_}.why_turning(scan); }

}  // namespace lanyard::report
