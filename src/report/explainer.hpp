// The walk behind reasons.hpp, in parts. Each is a class of its own file; they need each other - a signal is explained
// by an expression, that by signals - and ask each other through Explainer alone. Who writes what in AlreadyTold:
//
//   explainer_expressions.cpp   Boolean expressions, and where numbers come from    signals
//   explainer_signals.cpp       signals                                             signals, rings; reads open
//   explainer_elements.cpp      memory elements                                     nothing
//   explainer_wiring.cpp        what the wiring answers                             nothing
//   explainer_ways.cpp          ways of power, and what is in their way             nodes, open, shorts, fields
//
// and all of them, through Deeper, how far the walk has gone.
#pragma once

#include <set>
#include <string>
#include <utility>
#include <vector>

#include "report/reasons.hpp"

namespace lanyard::report {

struct AlreadyTold {
    std::set<std::pair<SignalId, std::string>> signals;  // with what they were
    std::set<std::pair<long, NodeId>> nodes;             // with the scan: how plus gets there
    std::set<std::string> open;                          // what is in the way of power, as texts
    std::set<std::pair<long, BranchId>> shorts;          // with the scan: the short that passes a fuse
    std::set<std::pair<SourceId, bool>> fields;          // of sources; an alternator may feed its own
    using State = std::pair<SignalId, std::string>;
    std::vector<State> explaining;  // of `signals`: whose reasons are being told, each a reason for the one before
    std::set<State> rings;          // of them: those that have come round
    std::set<State> ring_members;   // of them: those of a ring that has been told as one
    int depth = 0, count = 0;
    int missing = 0;      // walks under way whose reason is that something did not happen
    int since_begun = 0;  // how often it has been said in these that something has been off since the run began
    // Deeper, or more reasons than this, is no explanation any more.
    bool budget_exhausted() const { return depth >= 16 || count >= 40; }
};

// One reason more, and a level down for as long as it lives.
struct Deeper {
    explicit Deeper(AlreadyTold& t) : told(t) { ++told.depth, ++told.count; }
    ~Deeper() { --told.depth; }
    Deeper(const Deeper&) = delete;
    Deeper& operator=(const Deeper&) = delete;
    AlreadyTold& told;
};

// What did not happen is the reason, for as long as it lives.
struct Missing {
    explicit Missing(AlreadyTold& t) : told(t) { ++told.missing; }
    ~Missing() { --told.missing; }
    Missing(const Missing&) = delete;
    Missing& operator=(const Missing&) = delete;
    AlreadyTold& told;
};

class Explainer;

// What every part has: the film, which it only looks at; what has been told; and whom to ask.
class Walker {
 public:
    Walker(const Film& film, long scan, bool changes, AlreadyTold& told, Explainer& ask)
        : film_(film), m_(film.model()), now_(scan), changes_(changes), told_(told), ask_(ask) {}

 protected:
    using List = std::vector<Reason>;
    const Film& film_;
    const Model& m_;
    const long now_;  // the scan that the question is about
    const bool changes_;
    AlreadyTold& told_;
    Explainer& ask_;

    List truth(const Expr& e, long scan) const;
    Reason signal(SignalId id, long scan) const;
    List one(const std::string& text, List because = {}) const { return {Reason{text, std::move(because)}}; }
    std::string time(long scan) const;
    std::string when(long scan) const;                                // " at 2.31 s", empty for the scan in question
    bool on(SignalId id, long scan) const;                            // a duty counts from 0 up
    bool there(const std::vector<FaultId>& faults, long scan) const;  // one of them is
    List of_faults(const std::vector<FaultId>& faults, long scan) const;  // those that are there
    bool tell(SignalId id, long scan);                                    // false if that has been told already
    bool is_told(SignalId id, long scan) const;
    // It has been off in all of the run, and that is the reason: said once a chain, of the last link of which it is so.
    template <class T>
    bool never_came(const T& what, bool on, int said) const {
        return told_.missing > 0 && told_.since_begun == said && !changes_ && !on && film_.end().scan > 0 &&
               film_.since(what, film_.end().scan) == 0;
    }
    bool controller_runs(long scan) const { return film_.controller_runs(film_.at(scan)); }
};

// What the parts may ask of each other. The answers are lists of reasons.
class Explainer {
 public:
    // `changes`: everything is looked at when it became what it is, and told with that time: the links of the chain
    // are then changes, and of what holds together only the last that came about.
    Explainer(const Film& film, long scan, bool changes = false) : walker_(film, scan, changes, told_, *this) {}
    Explainer(const Explainer&) = delete;
    Explainer& operator=(const Explainer&) = delete;
    std::set<SignalId> told() const;

    // Why the Boolean expression has its value at the scan, and a memory element in it, called "its TON", say.
    std::vector<Reason> truth(const Expr& e, long scan, const std::string& own_name = "");
    std::vector<Reason> element(const Expr& e, long scan, const std::string& name);
    std::vector<Reason> numbers(const Expr& e, long scan);  // where they come from
    Reason signal(SignalId id, long scan);                  // what it is, and why
    std::vector<Reason> why(SignalId id, long scan);
    std::vector<Reason> why_untold(SignalId id, long scan);  // the same, and nothing of it counts as told
    std::vector<Reason> why_not_running(long scan);          // the engine
    std::vector<Reason> why_turning(long scan);              // its mode, where that is not whether it runs
    std::vector<Reason> probe(ProbeId id, long scan);
    std::vector<Reason> node(NodeId id, const std::string& name, long scan);
    std::vector<Reason> wired_contact(RelayId id, long scan);

 private:
    AlreadyTold told_;
    const Walker walker_;
};

}  // namespace lanyard::report
