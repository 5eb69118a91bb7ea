// The walk behind reasons.hpp.
#pragma once

#include <set>
#include <string>
#include <utility>
#include <vector>

#include "report/reasons.hpp"

namespace lanyard::report {

class Explainer {
 public:
    Explainer(const Film& film, long scan) : film_(film), m_(film.model()), now_(scan) {}
    std::set<SignalId> told() const {
        std::set<SignalId> out;
        for (const auto& [id, state] : told_) out.insert(id);
        return out;
    }

    // Why the Boolean expression has its value at the scan.
    std::vector<Reason> truth(const Expr& e, long scan, const std::string& own_name = "");

 private:
    const Film& film_;
    const Model& m_;
    const long now_;                                   // the scan that the question is about
    std::set<std::pair<SignalId, std::string>> told_;  // with what they were
    // False if that has been told already.
    bool tell(SignalId id, long scan);
    bool is_told(SignalId id, long scan) const;
    int depth_ = 0;
    int count_ = 0;
    // More than this is no explanation any more.
    static constexpr int deepest = 16;
    static constexpr int most_reasons = 40;
    bool tired() const { return depth_ >= deepest || count_ >= most_reasons; }

    using List = std::vector<Reason>;

    // Boolean expressions
    List operands(const Expr& e, long scan, bool all, bool wanted);
    List implication(const Expr& e, long scan);
    List comparison(const Expr& e, long scan);
    std::string side(const Expr& e, const Expr& other, long scan) const;
    void numbers_in(const Expr& e, long scan, List& out);

    // signals
    Reason signal(SignalId id, long scan);
    List why_signal(SignalId id, long scan);
    List why_contact(int relay, long scan);
    List why_load(int load, long scan);
    List why_unpowered(long scan);
    List why_mode(long scan);
    List why_loads(const std::vector<int>& loads, bool power, long scan);
    bool passes_through(SignalId id, long scan, SignalId& to) const;
    std::string state(SignalId id, long scan) const;

    // memory elements; `name` = "its TON" or the element as it is written
    List element(const Expr& e, long scan, const std::string& name);
    List on_delay(const Expr& e, long scan, const std::string& name);
    List off_delay(const Expr& e, long scan, const std::string& name);
    List pulse(const Expr& e, long scan, const std::string& name);
    List latch(const Expr& e, long scan, const std::string& name);
    List edge(const Expr& e, long scan, const std::string& name);
    List counter(const Expr& e, long scan, const std::string& name);
    List before(const Expr& e, long scan, const std::string& name);
    bool without_power(const Expr& e, const Frame& frame) const;  // an element of the controller

    // small things
    List one(const std::string& text, List because = {}) const { return {Reason{text, std::move(because)}}; }
    std::string when(long scan) const;                 // " at 2.31 s", empty for the scan in question
    std::string when(const Expr& e, long scan) const;  // also empty if the same holds ever since
    std::string time(long scan) const;
    std::string run_time(const Expr& e, long scan) const;  // "0.31 s of 1 s"
    bool on(SignalId id, long scan) const;                 // a duty counts from 0 up
};

}  // namespace lanyard::report
