// How far a driver got whose procedure does not lead to its goal.
#include <algorithm>

#include "report/broken_parts.hpp"
#include "report/explainer.hpp"
#include "report/plain.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

bool was_seen(const Film& film, const Expr& until, long step) {
    const auto& frames = film.frames();
    return std::any_of(frames.begin(), frames.end(),
                       [&](const Frame& f) { return f.claim.begun && f.phase == step && film.truth(until, f); });
}

std::string driver_words(const Film& film) {
    const long begins = film.begins();
    return begins < 0 ? "the driver has not begun" : "the driver begins at " + scan_time(film.model(), begins);
}

std::string goal_words(const Film& film, const Procedure& p) {
    const Model& m = film.model();
    const std::string goal = text_of(m, *p.goal);
    const long last = film.step_begins(film.steps() - 1);
    if (last < 0) return "the last step, in which " + goal + " would count, has not begun";
    return goal + " has not been true since the last step began at " + scan_time(m, last);
}

std::string deadline_words(const Film& film, const Procedure& p) {
    if (!p.within) return "";
    const bool later = p.from != nullptr && film.begins() > 0;
    return "; it was due by " + duration_text(*p.within) + (later ? " after the first step began" : "");
}

std::string where_words(const Film& film) {
    const long phase = film.end().phase;
    if (phase >= film.steps()) return "the steps are over";
    return "step " + std::to_string(phase + 1) + " has been on since " +
           scan_time(film.model(), std::max(0L, film.step_begins(phase)));
}

// A step that waited in vain for something else than the goal, or what is a part of that.
struct VainWait {
    long step = 0;
    const Expr* what = nullptr;
};

std::vector<VainWait> vain_waits(const Film& film, const Procedure& p) {
    const Model& m = film.model();
    std::vector<VainWait> out;
    for (std::size_t n = 0; n < p.phases.size(); ++n) {
        const auto step = static_cast<long>(n);
        const Phase& phase = p.phases[n];
        if (!phase.until || film.step_begins(step) < 0 || was_seen(film, *phase.until, step)) continue;
        const bool is_goal = text_of(m, *p.goal).find(text_of(m, *phase.until)) != std::string::npos;
        if (!is_goal) out.push_back({step, phase.until.get()});
    }
    return out;
}

std::string vain_words(const Film& film, const VainWait& wait) {
    const std::string name = "step " + std::to_string(wait.step + 1), what = text_of(film.model(), *wait.what);
    const long next = film.step_begins(wait.step + 1);
    return next < 0 ? name + " still waits for " + what
                    : name + " waited for " + what + " until " + scan_time(film.model(), next) + ", in vain";
}

// Its last scan so far.
long last_scan_of(const Film& film, long step) {
    const long next = film.step_begins(step + 1);
    return next < 0 ? film.end().scan : std::max(0L, next - 1);
}

// "the engine never runs for 2 s". What was so before the goal counted is not denied.
std::string never_words(const Film& film, const Expr& goal) {
    const auto state = plain_state(film.model(), goal.op == Op::ton ? *goal.args[0] : goal, true);
    if (!state) return "";
    const auto& frames = film.frames();
    const bool before = std::any_of(frames.begin(), frames.end(), [&](const Frame& f) { return film.truth(goal, f); });
    if (before && film.step_begins(film.steps() - 1) < 0) return "";
    const bool runs = state->state == mode_name(Mode::running) && state->subject == "the engine";
    const std::string never =
        runs ? " never runs" : (is_plural({*state}) ? " are never " : " is never ") + state->state;
    return plain_subject({*state}) + never + (goal.op == Op::ton ? " for " + duration_text(goal.value) : "") +
           (before ? " after the last step begins" : "");
}

bool is_running(const Expr& e) {
    return e.op == Op::eq && e.args[0]->type.kind == TypeKind::mode &&
           (e.args[0]->mode == Mode::running || e.args[1]->mode == Mode::running);
}

}  // namespace

std::vector<std::string> procedure_words(const Film& film, const Procedure& p) {
    std::vector<std::string> out{moment(film, film.end().scan) + ": " + goal_words(film, p) + "; " + where_words(film) +
                                 deadline_words(film, p)};
    if (p.from) out.push_back(driver_words(film));
    for (const auto& wait : vain_waits(film, p)) out.push_back(vain_words(film, wait));
    return out;
}

// The goal counts in the last step; after it the driver lets go of the buttons.
Reasons procedure_reasons(const Film& film, const Procedure& p) {
    Explainer explainer(film, film.end().scan);
    Reasons out;
    out.list = explainer.truth(*p.goal, last_scan_of(film, film.steps() - 1));
    for (const auto& wait : vain_waits(film, p))
        out.list.push_back({vain_words(film, wait), explainer.truth(*wait.what, last_scan_of(film, wait.step))});
    out.signals = explainer.told();
    return out;
}

std::string procedure_summary(const Film& film, const Procedure& p) {
    const Model& m = film.model();
    if (is_running(*p.goal)) {
        const bool fires = std::any_of(film.frames().begin(), film.frames().end(), [&](const Frame& f) {
            return std::get<Mode>(f.signals[m.mode]) == Mode::running;
        });
        const bool healthy = m.conditions[film.condition()].healthy;
        if (!fires) return healthy ? "some healthy engine never fires" : "some engine never fires";
    }
    const std::string fact = never_words(film, *p.goal);
    return fact.empty() ? named_with("its goal", m, *p.goal) + " is not reached" : fact;
}

}  // namespace lanyard::report
