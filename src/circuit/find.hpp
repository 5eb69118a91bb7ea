// Who looks for what. Each adds what it finds; a net that is tired afterwards makes its findings worthless.
#pragma once

#include "circuit/finding.hpp"
#include "circuit/net.hpp"

namespace lanyard::circuit {

using Findings = std::vector<WiringFinding>;

void find_overloads(const Net& net, Findings& out);      // output_overload, fuse_below_loads
void find_thin_wires(const Net& net, Findings& out);     // fuse_above_wire
void find_unfused(const Net& net, Findings& out);        // no_fuse
void find_joined(const Net& net, Findings& out);         // batteries_joined
void find_switch_shorts(const Net& net, Findings& out);  // switch_shorts
void find_joined_halves(const Net& net, Findings& out);  // changeover_joins
void find_dead_ends(const Net& net, Findings& out);      // no_plus, no_ground
void find_coils(const Net& net, Findings& out);          // coil_unsuppressed
void find_not_asked(const Net& net, Findings& out);      // not_asked
void find_kills(const Net& net, Findings& out);          // kill_needs_wire
void find_protection(const Net& net, Findings& out);     // fuse_ends_protection

}  // namespace lanyard::circuit
