#include "traces.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <random>

#include "../models.hpp"
#include "sim/evaluate.hpp"

namespace lanyard::test {

using namespace sim;

std::string shown(const Trace& t) {
    std::string out;
    for (const auto& l : t) {
        const std::string on = std::string(l.p ? "p" : "") + (l.q ? "q" : "") + (l.r ? "r" : "") + (l.s ? "s" : "");
        out += (out.empty() ? "" : "|") + (on.empty() ? "-" : on);
    }
    return out;
}

Model model_with(const std::string& claim) {
    const std::string text =
        "{ 'lanyard': 1, 'name': 'traces', 'scan': '10 ms', 'inputs': { 'p': 'maintained', 'q': 'maintained', "
        "'r': 'maintained', 'x': 'maintained' }, 'outputs': { 'a': 'p', 'b': 'q' }, 'claims': { 'c': " +
        claim + " } }";
    return model_from(requoted(text), "traces.json");
}

Judge::Judge(const Model& model) : model_(model), program_(model), power_up_(like(model.elements)) {
    for (const auto& e : expressions_of(model.claims.front())) operations_.push_back(program_.add(e));
    program_.close();
    for (const OperationId k : program_.memory())
        power_up_[program_.operation(k).expr->element] = power_up(program_.operation(k));
    if (at_once()) return;
    const auto* r = std::get_if<Response>(&model_.claims.front().body);
    REQUIRE(r != nullptr);
    REQUIRE(r->for_time == 0);
    REQUIRE(r->within == Rational(1, 25));
}

bool Judge::at_once() const { return std::holds_alternative<Always>(model_.claims.front().body); }

namespace {

// What a trace says of the model's signals: the positions of the switches, and the loads that follow them.
Indexed<Signal, Value> signals(const Model& m, const Letters& l) {
    Indexed<Signal, Value> now(like(m.signals), Value{false});
    const auto on = [&](const std::string& name) {
        if (name == "p" || name == "a") return l.p;
        if (name == "q" || name == "b") return l.q;
        return name == "r" ? l.r : name == "x" && l.s;
    };
    for (const SignalId i : now.ids())
        if (m.signals[i].type.kind == TypeKind::boolean) now[i] = on(m.signals[i].name);
    return now;
}

// The bounds of a response are written down once more here, from the text of what a claim means.
bool response_holds(const Response& r, const std::vector<bool>& p, const std::vector<bool>& q) {
    for (std::size_t n = 0; n < p.size(); ++n) {
        if (r.manner == Manner::while_it_lasts) {
            std::size_t m = 0;
            while (m <= n && p[n - m]) ++m;
            if (m >= bound && !q[n]) return false;
        } else if (p[n] && n + bound <= p.size()) {
            const auto first = q.begin() + static_cast<long>(n);
            if (std::none_of(first, first + bound, [](bool b) { return b; })) return false;
        }
    }
    return true;
}

}  // namespace

std::vector<std::vector<bool>> Judge::values(const Trace& trace) const {
    sim::Evaluator evaluator(program_);
    Indexed<Element, ElementState> elements = power_up_;
    std::vector<std::vector<bool>> all(operations_.size());
    Indexed<Signal, Value> last = signals(model_, {});
    for (const auto& letters : trace) {
        const Indexed<Signal, Value> now = signals(model_, letters);
        const Environment env{now, last, elements};
        evaluator.run(env, 0, program_.size());
        evaluator.remember(env);
        for (std::size_t i = 0; i < operations_.size(); ++i) all[i].push_back(evaluator.truth(operations_[i]));
        last = now;
    }
    return all;
}

bool Judge::holds(const Trace& trace) const {
    const auto v = values(trace);
    if (at_once()) return std::find(v[0].begin(), v[0].end(), false) == v[0].end();
    return response_holds(std::get<Response>(model_.claims.front().body), v[0], v[1]);
}

void for_each_trace(int length, bool four, const std::function<void(const Trace&)>& f) {
    const auto letters = [](unsigned bits) {
        return Letters{(bits & 1U) != 0, (bits & 2U) != 0, (bits & 4U) != 0, (bits & 8U) != 0};
    };
    const unsigned values = four ? 16 : 8;
    std::vector<unsigned> digits(static_cast<std::size_t>(length), 0);
    Trace trace(digits.size());
    for (bool more = true; more;) {
        for (std::size_t i = 0; i < digits.size(); ++i) trace[i] = letters(digits[i]);
        f(trace);
        std::size_t i = 0;
        while (i < digits.size() && ++digits[i] == values) digits[i++] = 0;
        more = i < digits.size();
    }
    std::mt19937 random(7);
    for (int n = 0; n < 3000; ++n) {
        Trace longer(9);
        for (auto& l : longer) l = letters((random() & random()) % values);  // mostly off: longer stories
        f(longer);
    }
}

Trace padded(Trace trace) {
    trace.resize(trace.size() + bound);
    return trace;
}

}  // namespace lanyard::test
