// The driver's steps: "set key", "wait 1 s", "hold start until engine = running, at most 4 s, reacts in 0 .. 0.5 s".
#include "model/build.hpp"
#include "model/scopes.hpp"
#include "model/split.hpp"

namespace lanyard::model {

namespace {

constexpr const char* step_forms =
    "the steps are: set SWITCH | clear SWITCH | press SWITCH | wait TIME | wait until EXPRESSION, at most TIME | "
    "hold SWITCH for TIME | hold SWITCH until EXPRESSION, at most TIME, reacts in 0 .. 0.5 s";

class StepBuilder {
 public:
    explicit StepBuilder(Build& b) : b_(b) {
        auto& rest = b.switches_at_rest;
        while (rest.size() < b.model.switches.size()) rest.push_back(b.model.switches[rest.next()].rests_on);
        now_ = rest;
    }

    void step(const LocatedText& text) {
        const LocatedText all = trimmed(text);
        const auto [verb, rest] = first_word(all);
        last_waits_ = verb.text == "wait";
        if (verb.text == "set" || verb.text == "clear") {
            turn(rest, verb.text == "set");
            waiting_ += (waiting_.empty() ? "" : ", ") + all.text;
        } else if (verb.text == "press") {
            press(all, rest);
        } else if (verb.text == "wait") {
            wait(all, rest);
        } else if (verb.text == "hold") {
            hold(all, rest);
        } else {
            const std::string hint = b_.reading.suggestion(verb.text, {"set", "clear", "press", "wait", "hold"});
            wrong(all, "`" + verb.text + "` is not a step", hint);
        }
    }

    // After the last step, unless that is a wait itself.
    void closing_wait(const LocatedText& time) {
        if (!last_waits_) timed_phase({"wait " + time.text, time.place, true, time.pointer}, now_, time);
    }

    std::optional<Procedure> finish(Place place, const std::string& pointer) {
        if (!good_) return std::nullopt;
        if (procedure_.phases.empty()) {
            b_.reading.error("procedure-without-time", pointer, place, "none of these steps takes time",
                             "set and clear act at once, so this procedure would be over before it begins",
                             "add a step such as \"wait 1 s\"");
            return std::nullopt;
        }
        procedure_.rest = now_;
        return std::move(procedure_);
    }

 private:
    void wrong(const LocatedText& text, const std::string& what, const std::string& hint = "") {
        good_ = false;
        b_.reading.error("step-syntax", text.pointer, text.place, what, "", hint.empty() ? step_forms : hint);
    }

    // None (and an error) if there is no switch of that name.
    SwitchId switch_named(const LocatedText& name) {
        if (name.text.empty() || name.text == "for" || name.text == "until") {
            wrong(name, "this step does not name a switch");
            return {};
        }
        const SwitchId s = lanyard::model::switch_named(b_, name);
        good_ = good_ && s;
        return s;
    }

    void turn(const LocatedText& name, bool on) {
        const SwitchId s = switch_named(name);
        if (s) now_[s] = on;
    }

    void add(const LocatedText& step, Indexed<Switch, bool> positions, ExprPtr until, Rational limit,
             Interval reaction) {
        Phase p;
        p.positions = std::move(positions);
        p.until = std::move(until);
        p.limit = std::move(limit);
        p.reaction = std::move(reaction);
        p.text = waiting_.empty() ? step.text : waiting_ + ", " + step.text;
        p.place = step.place;
        waiting_.clear();
        procedure_.phases.push_back(std::move(p));
    }

    Indexed<Switch, bool> held(SwitchId s) const {
        Indexed<Switch, bool> positions = now_;
        if (s) positions[s] = !b_.model.switches[s].rests_on;
        return positions;
    }

    void press(const LocatedText& all, const LocatedText& name) {
        const SwitchId s = switch_named(name);
        const LocatedText standard{standard_press, all.place, true, all.pointer};
        add(all, held(s), nullptr, *read_time(b_, standard, "the time of a press", true), {0, 0});
    }

    void wait(const LocatedText& all, const LocatedText& rest) {
        if (const auto until = behind_words(rest, "until"))
            until_phase(all, now_, *until);
        else
            timed_phase(all, now_, rest);
    }

    void hold(const LocatedText& all, const LocatedText& rest) {
        const auto [name, how] = first_word(rest);
        const SwitchId s = switch_named(name);
        if (name.text == "for" || name.text == "until") return;
        if (const auto time = behind_words(how, "for"))
            timed_phase(all, held(s), *time);
        else if (const auto until = behind_words(how, "until"))
            until_phase(all, held(s), *until);
        else
            wrong(all, "this step does not say how long `" + name.text + "` is held");
    }

    void timed_phase(const LocatedText& all, const Indexed<Switch, bool>& positions, const LocatedText& time) {
        if (const auto t = limit(time)) add(all, positions, nullptr, *t, {0, 0});
    }

    std::optional<Rational> limit(const LocatedText& time) {
        if (time.text.empty()) {
            wrong(time, "this step has no time");
            return std::nullopt;
        }
        const auto t = read_time(b_, time, "the time of this step", true);
        good_ = good_ && t;
        return t;
    }

    // EXPRESSION, at most TIME[, reacts in TIMES]
    void until_phase(const LocatedText& all, const Indexed<Switch, bool>& positions, const LocatedText& text) {
        const auto parts = split_at_commas(text);
        std::optional<LocatedText> most;
        LocatedText reaction{standard_reaction, all.place, true, all.pointer};
        for (std::size_t i = 1; i < parts.size(); ++i) {
            if (const auto time = behind_words(parts[i], "at most"))
                most = time;
            else if (const auto times = behind_words(parts[i], "reacts in"))
                reaction = *times;
            else
                wrong(parts[i], "`" + parts[i].text + "` is not part of a step");
        }
        ClaimScope scope(b_);
        const ExprPtr until = compile_for(b_, parts[0], scope, Type::boolean(), {Op::ton, true, false});
        const auto times = read_times(b_, reaction, "the reaction time");
        good_ = good_ && until != nullptr && times;
        if (!most) {
            wrong(all, "this step has no longest time", "add \", at most 4 s\": nobody waits for ever");
            return;
        }
        const auto t = limit(*most);
        if (t && times && until != nullptr) add(all, positions, until, *t, *times);
    }

    Build& b_;
    Indexed<Switch, bool> now_;
    std::string waiting_;  // steps that take no time, since the last one that does
    bool last_waits_ = false;
    Procedure procedure_;
    bool good_ = true;
};

}  // namespace

SwitchId switch_named(Build& b, const LocatedText& name) {
    b.mentioned.insert(name.text);
    const Named* n = resolve(b, name.text);
    if (n != nullptr && n->thing == Thing::hand_switch) return n->index;
    // It may well have been meant to be one.
    if ((n != nullptr && n->broken) || b.refused_names.contains(name.text)) return {};
    const std::string quoted = "`" + name.text + "`";
    b.reading.error(
        "unknown-switch", name.pointer, name.place,
        n == nullptr ? "there is no switch " + quoted : quoted + " is " + thing_words(n->thing) + ", not a hand switch",
        "a driver moves only switches", suggest_thing(b, name.text, Thing::hand_switch));
    return {};
}

std::optional<Procedure> build_steps(Build& b, const std::vector<LocatedText>& steps,
                                     const std::optional<LocatedText>& then_wait) {
    StepBuilder builder(b);
    for (const auto& s : steps) builder.step(s);
    if (steps.empty()) return std::nullopt;
    if (then_wait) builder.closing_wait(*then_wait);
    return builder.finish(steps.front().place, steps.front().pointer);
}

}  // namespace lanyard::model
