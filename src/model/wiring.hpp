// The wiring in the making: what may stand in a path, and what became of it.
#pragma once

#include <map>
#include <string>
#include <unordered_map>
#include <vector>

#include "model/build.hpp"

namespace lanyard::model {

struct WiredPart;
using PartId = Id<WiredPart>;

// Something with two ends. In the middle of a path it is entered at `in` and left at `out`; at the left end of a path
// its name stands for `out`, at the right end for `in`.
struct TwoEnded {
    std::string name;  // "F1", "master.2", "K1.make"
    std::string in, out;
    Branch branch;        // its ends are filled in at the end
    bool always = false;  // it exists even if no path touches it
    PartId part;
    Place inside_at;  // where it stands in the middle of a path; line 0: nowhere yet
};

// What the file declares: a part, or a pin of the controller.
struct WiredPart {
    std::string name;
    std::string words;              // "a fuse"
    std::string bare;               // the node that its bare name stands for; empty: none
    std::vector<std::string> ends;  // all that may stand in a path, besides its name
    bool wired = false;
    Place place;
    std::string pointer;
};

struct SourcePart {
    SourceId source;
    std::string name;
    bool has_field = false;
};

class Wiring {
 public:
    explicit Wiring(Build& b) : b_(b) {}

    PartId add_part(WiredPart p);
    void add_broken(const std::string& name) { broken_.insert(name); }
    void add_two_ended(TwoEnded t);
    void add_end(PartId part, const std::string& name);
    void add_source(PartId part, SourcePart s);
    void add_ground_point(PartId part);
    void add_magneto(PartId part, LoadId load);
    void add_wired_input(PartId part, WiredInputId index) { inputs_.push_back({part, index}); }
    void add_drive(PartId part, const PendingDrive& d) { drives_.push_back({part, d, {}}); }
    void add_relay(PartId part, RelayId index) { relays_.push_back({part, index}); }

    void read_wire(const Entry& e);
    // Everything that depends on what is wired: branches, sources, pins, the controller's supply, probes, warnings.
    void finish(Place circuit, const std::string& pointer);

 private:
    struct Stop {  // an item of a path
        LocatedText text;
        NodeId left, right;  // at which it is entered and left; none: it is wrong
    };
    struct Pin {
        PartId part;
        AnyId index;
    };
    struct Splice {
        LocatedText text;  // where it stands first
        int stops = 0;     // how often a path names it
        bool inside = false;
    };
    struct DrivenPin {
        PartId part;
        PendingDrive drive;
        std::optional<Rational> current;
    };

    NodeId node(const std::string& name, Place place, const std::string& pointer);
    NodeId existing(const std::string& name, NodeId otherwise) const;
    Stop stop(const LocatedText& text, bool first, bool last);
    bool inside(TwoEnded& t, const LocatedText& text);
    NodeId splice(const LocatedText& text, bool inside);
    NodeId no_such_end(const LocatedText& text, const std::string& head);
    std::string ends_text(const WiredPart& p) const;
    NodeId other_thing(const LocatedText& text, const Named& n);
    void lay(const Entry& e, const std::vector<Stop>& stops, const std::optional<Rational>& gauge);

    void finish_controller();
    void finish_branches();
    void finish_sources();
    void finish_inputs();
    void finish_drives();
    bool changes_over(BranchKind kind, AnyId index) const;
    void finish_contacts();
    void name_nodes();
    void warn();
    void warn_of_splices();
    void check_voltages();
    bool touched_by_own_end(const TwoEnded& t) const;
    ProbeId probe(ProbeKind kind, AnyId index);

    Build& b_;
    Indexed<WiredPart> parts_;
    std::unordered_map<std::string, PartId> part_of_;  // by the name of the part
    std::unordered_set<std::string> broken_;           // what these are could not be found out: no follow-ups
    std::vector<TwoEnded> two_ended_;
    std::unordered_map<std::string, std::size_t> two_ended_of_;  // by its name
    std::unordered_map<std::string, PartId> end_of_;             // name of an end: its part
    std::unordered_map<std::string, int> sharers_;               // of an end: how many two-ended things have it
    std::unordered_map<std::string, NodeId> nodes_;              // by name
    std::map<std::string, Splice> splices_;
    std::unordered_map<std::string, int> touched_;  // how often a path ends at, or passes, a node
    std::vector<SourcePart> sources_;
    std::vector<PartId> ground_points_;
    std::vector<std::pair<PartId, LoadId>> magnetos_;
    std::vector<Pin> inputs_, relays_;
    std::vector<DrivenPin> drives_;
};

void build_part(Build& b, Wiring& w, const Entry& e);
// "1.5 mm2", "16 AWG" in mm2; nothing (and an error) if it is neither.
std::optional<Rational> wire_size(Build& b, const LocatedText& text);
// What wires may carry, and which of them are in the engine space; after all wires are read.
void build_wire_table(Build& b, const ObjectReader& circuit);

}  // namespace lanyard::model
