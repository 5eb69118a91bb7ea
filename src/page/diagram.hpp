// The timing diagram of a run as a plain value: the moments that the story tells, and what the signals that matter were
// from each to the next.
#pragma once

#include <set>
#include <string>
#include <vector>

#include "report/moments.hpp"

namespace lanyard::page {

struct Track {
    enum class Kind { on_off, mode, number };
    struct Line {  // a number that the signal is compared with
        int level = 0;
        std::string words;
    };
    struct Star {  // a choice that is a cause
        std::size_t moment = 0;
        std::string words;
    };
    SignalId signal;  // none: a fault without one, or a choice of the wiring
    std::string name;
    Kind kind = Kind::on_off;
    std::vector<std::string> words;  // per moment: "on", "cranking", "2.3 bar"
    std::vector<int> level;          // per moment; number: in thousandths of what is drawn, from below
    std::vector<int> level_after;    // right before the next moment
    std::vector<Line> lines;
    std::vector<Star> stars;
    bool is_cause = false;  // the verdict hangs on it
    std::size_t since = 0;  // of a cause: the moment since which it is as at the end
};

struct Diagram {
    std::vector<report::Moment> moments;  // those with a scan
    std::vector<bool> left_out;           // per moment but the last: some are left out before the next
    std::vector<Track> tracks;
    std::vector<std::string> not_drawn;  // names of signals for which there is no room
};

// `causes`: what the verdict hangs on. A signal matters if the verdict hangs on it, if the claim speaks of it, or if it
// is something that driver or world do in the run; where nothing is known of causes, whatever changes. What the film
// marks as a cause is always there.
Diagram diagram_of(const report::Film& film, const std::set<SignalId>& causes);

// Signals that the claim's expressions name.
std::set<SignalId> named_in_claim(const Claim& claim);

}  // namespace lanyard::page
