// The car's parts as constants of their own, so that a proof can be asked which of them it needs.
//
// What it decides: nothing. Each part (a wire's piece, a fuse, a diode, a switch, a relay's contact, a power stage, a
// source, a load, an input, a sensor, a loop-back, the supply) becomes a constant, with an equation that says what the
// model makes of it. Without its equation the part may do anything, anew at each scan: a wire is open or whole, a fuse
// is open or bridged, a diode is open or passes both ways, a switch, a contact or a power stage is open or closed, a
// source is dead or alive, an input reads anything.
//
// Why it is sound: with all equations the system is the model's own. A part that is set free has every behaviour that a
// change of it could have, as long as nothing is joined that was not joined before; so what is shown without its
// equation holds however it is changed (certify/rests_on.cpp).
//
// How: circuit/freed.hpp for what does not switch; what switches has a placeholder in the levels anyhow.
// Tested by: tests/certify/rests_on_test.py
#include "encode/wiring_terms.hpp"

namespace lanyard::encode {

const std::string& WiringTerms::part_name(const Branch& b) const {
    if (b.kind == BranchKind::contact || b.kind == BranchKind::coil) return m_.name_of(m_.relays[b.index].contact);
    if (b.kind == BranchKind::output) return m_.name_of(m_.outputs[b.index].signal);
    return b.name;
}

const FreedWiring& WiringTerms::wiring_in_parts() {
    if (!wiring_in_parts_) {
        wiring_in_parts_ = freed_wiring(m_);
        freed_.resize(wiring_in_parts_->pieces.size());
    }
    return *wiring_in_parts_;
}

z3::expr WiringTerms::freed(Id<FreedWiring::Piece> which) {
    std::optional<z3::expr>& happens = freed_[which];
    if (happens) return *happens;
    const FreedWiring::Piece& of = wiring_in_parts_->pieces[which];
    happens = s_.part(of.branch ? part_name(m_.circuit.branches[of.branch]) : m_.circuit.sources[of.source].name,
                      truth(false));
    return *happens;
}

void WiringTerms::define_placeholder(const z3::expr& constant, const std::pair<Stage, WiringEvent>& what) {
    if (!defined_.insert(constant.id()).second) return;
    const z3::expr value = happens_(what.second, what.first);
    s_.define({LabelKind::part, part_name(m_.circuit.branches[what.second.index])}, constant, value);
}

}  // namespace lanyard::encode
