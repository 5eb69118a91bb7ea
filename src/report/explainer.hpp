// The walk behind reasons.hpp.
#pragma once

#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "report/reasons.hpp"

namespace lanyard::report {

class Explainer {
 public:
    // `changes`: everything is looked at when it became what it is, and told with that time: the links of the chain
    // are then changes, and of what holds together only the last that came about.
    Explainer(const Film& film, long scan, bool changes = false)
        : film_(film), m_(film.model()), now_(scan), changes_(changes) {}
    std::set<SignalId> told() const {
        std::set<SignalId> out;
        for (const auto& [id, state] : told_) out.insert(id);
        return out;
    }

    // Why the Boolean expression has its value at the scan.
    std::vector<Reason> truth(const Expr& e, long scan, const std::string& own_name = "");
    // What the signal is, and why.
    Reason signal(SignalId id, long scan);

 private:
    const Film& film_;
    const Model& m_;
    const long now_;  // the scan that the question is about
    const bool changes_;
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
    List logic(const Expr& e, long scan, bool value);
    List implication(const Expr& e, long scan);
    List comparison(const Expr& e, long scan);
    std::string side(const Expr& e, const Expr& other, long scan) const;
    void numbers_in(const Expr& e, long scan, List& out);

    // signals
    List why_signal(SignalId id, long scan);
    List why_contact(RelayId relay, long scan);
    List why_load(LoadId load, long scan);
    List why_power(long scan);  // of the controller
    List why_mode(long scan);
    List why_loads(const std::vector<LoadId>& loads, bool power, long scan);
    std::vector<std::vector<LoadId>> told_together(const std::vector<LoadId>& loads, bool power, long scan) const;
    bool passes_through(SignalId id, long scan, SignalId& to) const;
    std::string state(SignalId id, long scan) const;

    // faults
    bool there(const std::vector<FaultId>& faults, long scan) const;      // one of them is
    List of_faults(const std::vector<FaultId>& faults, long scan) const;  // those that are there
    List coil_faults(const Relay& relay, bool closed, long scan) const;

    // the wiring
    struct View {  // of one look
        long scan;
        sim::Look look;
        Flow flow;
        const Indexed<Source, bool>& live;
    };
    struct Ends {  // nodes that have to have plus and ground; none: does not matter
        NodeId plus, minus;
    };
    View view(long scan, sim::Look look) const;
    View view(long scan, sim::Look look, BranchId branch) const;
    List why_probe(ProbeId probe, long scan);
    List why_works(BranchId branch, const View& v);
    List why_coil(ProbeId probe, const View& v);
    List why_input(const WiredInput& input, const View& v);
    List why_wired_contact(RelayId relay, long scan);
    bool hangs_on_itself(BranchId branch, const View& v) const;
    std::optional<Reason> coil_voltage(const Relay& relay, long scan) const;

    // ways of power; `without`: the load or coil itself
    List why_fed(const Ends& ends, BranchId without, const std::string& name, const View& v);
    Reason way(const Ends& ends, BranchId without, const std::string& name, bool sure, const View& v);
    Reason short_at(NodeId node, const View& v);
    void along(const Way& way, Sign sign, const View& v, std::vector<std::string>& items, List& because);
    List what_is_open(NodeId node, Sign sign, BranchId without, const View& v);
    List opened(BranchId branch, const View& v);
    Reason blown(BranchId fuse, const View& v);
    // What a short passes.
    void round(const Way& loop, const View& v, List& because);
    List switched(BranchId branch, const View& v);
    std::string source_words(SourceId source, const View& v) const;
    List why_source(SourceId source, bool gives, const View& v);
    bool is_splice(NodeId node) const;
    std::set<std::pair<long, NodeId>> told_nodes_;     // with the scan: how plus gets there
    std::set<std::string> told_open_;                  // what is in the way of power, as texts
    std::set<std::pair<long, BranchId>> told_shorts_;  // with the scan: the short that passes a fuse
    std::set<std::pair<SourceId, bool>> told_fields_;  // of sources; an alternator may feed its own

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
    // " at 2.31 s", empty for the scan in question
    std::string when(long scan) const;
    std::string when(const Expr& e, long scan) const;  // also empty if the same holds ever since
    std::string time(long scan) const;
    std::string run_time(const Expr& e, long scan) const;  // "0.31 s of 1 s"
    bool on(SignalId id, long scan) const;                 // a duty counts from 0 up
};

}  // namespace lanyard::report
