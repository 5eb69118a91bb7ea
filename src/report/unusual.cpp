#include "report/unusual.hpp"

#include <algorithm>

#include "lang/print.hpp"
#include "report/words.hpp"
#include "sim/jump.hpp"
#include "sim/words.hpp"

namespace lanyard::report {

namespace {

bool says_what_is_healthy(const Model& m) {
    return m.engine || std::any_of(m.quantities.begin(), m.quantities.end(), [](const Quantity& q) {
               return std::any_of(q.healthy.begin(), q.healthy.end(),
                                  [](const auto& band) { return band.has_value(); });
           });
}

// The first thing that a healthy engine does not do; empty: a healthy engine does all of it.
std::string not_healthy(const Film& film) {
    Model m = film.model();
    m.conditions[film.condition()].healthy = true;
    if (film.claim()->reached_under) m.conditions[film.claim()->reached_under].healthy = true;
    Interpreter now(m, film.condition(), film.claim_id());
    long scan = -1;
    const Scan last = play(now, film.run(), [&scan](const Choices&, const Scan&) {
        ++scan;
        return true;
    });
    if (last.broken_rule.empty()) return "";
    const std::size_t kind = last.broken_rule.find(": ");
    return scan_time(m, scan) + ": " + last.broken_rule.substr(kind == std::string::npos ? 0 : kind + 2);
}

// The largest jump of a quantity that has a say in the claim. What jumps as the engine's mode changes does so because
// what is healthy changes with it.
std::string jump_words(const Film& film, QuantityId q) {
    const Model& m = film.model();
    const SignalId id = m.quantities[q].signal;
    if (!film.cone().has(id)) return "";
    Rational largest = 0;
    Rational before = 0;
    Mode mode = Mode::stopped, mode_before = mode;
    long scan = 0;
    for (const auto& s : film.run().segments) {
        const Rational first = s.first.quantities[q];
        if (scan > 0 && mode == mode_before && abs(first - before) > abs(largest)) largest = first - before;
        before = s.last_quantities.empty() ? first : s.last_quantities[q];
        mode_before = s.scans > 1 ? s.first.next_mode : mode;
        mode = s.first.next_mode;
        scan += s.scans;
    }
    if (!sim::is_jump(m, q, largest)) return "";
    return m.name_of(id) + (largest > 0 ? " rising by " : " falling by ") +
           print_value(abs(largest), sim::unit_of(m, id), true) + " in one scan (" + duration_text(m.scan) +
           "); if it cannot, say so with \"follows\" (lanyard help engine)";
}

}  // namespace

std::vector<std::string> unusual_words(const Film& film) {
    const Model& m = film.model();
    std::vector<std::string> out;
    const bool speaks_of_healthy = says_what_is_healthy(m);
    const std::string ill = speaks_of_healthy ? not_healthy(film) : "";
    if (!ill.empty()) out.push_back("what a healthy engine does not do, at " + ill);
    for (const QuantityId q : m.quantities.ids())
        if (std::string words = jump_words(film, q); !words.empty()) out.push_back(std::move(words));
    const bool faulty = !faults_of(film.run()).empty();
    if (faulty)
        out.push_back(faults_of(film.run()).size() == 1 ? "the fault that is named above"
                                                        : "the faults that are named above");
    if (out.empty())
        out.push_back(std::string("nothing unusual: ") + (speaks_of_healthy ? "a healthy engine, " : "") +
                      "no fault, no quantity that jumps" + (m.engine ? " except as the engine's mode changes" : ""));
    return out;
}

}  // namespace lanyard::report
