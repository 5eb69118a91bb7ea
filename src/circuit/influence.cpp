#include "circuit/influence.hpp"

#include "base/slot.hpp"

namespace lanyard {

namespace {

constexpr std::size_t most_influence_nodes = 400;
constexpr std::size_t bits_in_word = 64;
constexpr std::size_t most_influence_diagrams = 200'000;

}  // namespace

PieceSets::Term PieceSets::piece(std::size_t number) const {
    Bits bits((branches_ + wiring_->circuit.sources.size()) / bits_in_word + 1);
    bits[number / bits_in_word] |= std::uint64_t{1} << (number % bits_in_word);
    return {Term::Kind::open, std::make_shared<const Bits>(std::move(bits))};
}

PieceSets::Term PieceSets::happens(const WiringEvent& e) const {
    switch (e.kind) {
        case WiringEvent::Kind::conducts:
            return piece(slot(e.index));
        case WiringEvent::Kind::bounces:
            return {Term::Kind::open};
        case WiringEvent::Kind::live:
            return piece(branches_ + slot(e.index));
        case WiringEvent::Kind::fault:
            if (e.index < wiring_->first) return faults_->contains(e.index) ? Term{Term::Kind::open} : constant(false);
            const FreedWiring::Piece& of = wiring_->pieces[slot(e.index - wiring_->first)];
            return piece(of.branch >= 0 ? slot(of.branch) : branches_ + slot(of.source));
    }
    return {Term::Kind::open};
}

PieceSets::Term PieceSets::joined(const Term& a, const Term& b, Term::Kind wins) const {
    if (a.kind == wins || b.kind == wins) return {wins};
    if (a.kind != Term::Kind::open) return b;
    if (b.kind != Term::Kind::open || !b.bits || a.bits == b.bits) return a;
    if (!a.bits) return b;
    Bits all = *a.bits;
    bool more = false;
    for (std::size_t k = 0; k < all.size(); ++k) {
        more = more || ((*b.bits)[k] & ~all[k]) != 0;
        all[k] |= (*b.bits)[k];
    }
    return more ? Term{Term::Kind::open, std::make_shared<const Bits>(std::move(all))} : a;
}

// What switches, sources, pieces, the model's faults, contacts that bounce.
int PieceDiagrams::events(const FreedWiring& wiring, std::size_t branches) {
    const std::size_t all = 2 * branches + wiring.circuit.sources.size() + wiring.pieces.size() + slot(wiring.first);
    return static_cast<int>(all);
}

std::size_t PieceDiagrams::piece_of(std::size_t event) const {
    const std::size_t named = branches_ + wiring_->circuit.sources.size();
    if (event < named || event >= named + wiring_->pieces.size()) return event;
    const FreedWiring::Piece& of = wiring_->pieces[event - named];
    return of.branch >= 0 ? slot(of.branch) : branches_ + slot(of.source);
}

Function PieceDiagrams::happens(const WiringEvent& e) const {
    const auto event = [this](std::size_t number) { return d_->event(static_cast<int>(number)); };
    const std::size_t named = branches_ + wiring_->circuit.sources.size(), pieces = wiring_->pieces.size();
    switch (e.kind) {
        case WiringEvent::Kind::conducts:
            return event(slot(e.index));
        case WiringEvent::Kind::bounces:
            return event(named + pieces + slot(wiring_->first) + slot(e.index));
        case WiringEvent::Kind::live:
            return event(branches_ + slot(e.index));
        case WiringEvent::Kind::fault:
            if (e.index >= wiring_->first) return event(named + slot(e.index - wiring_->first));
            return faults_->contains(e.index) ? event(named + pieces + slot(e.index)) : constant(false);
    }
    return constant(false);
}

Influence::Influence(const Model& m, std::set<int> faults)
    : m_(m),
      faults_(std::move(faults)),
      wiring_(freed_wiring(m)),
      diagrams_(PieceDiagrams::events(wiring_, m.circuit.branches.size()), most_influence_diagrams),
      branches_(m.circuit.branches.size()),
      sources_(m.circuit.sources.size()),
      inputs_(m.wired_inputs.size()),
      probes_(m.circuit.probes.size()) {}

bool Influence::affordable(const Model& m) {
    const Circuit& c = m.circuit;
    const std::size_t events = 4 * c.branches.size() + 2 * c.sources.size() + m.faults.size();
    return c.nodes.size() <= most_influence_nodes && events <= slot(Diagrams::max_events);
}

FollowWiring Influence::follow() {
    return [this](SignalId id, const std::function<void(SignalId)>& add) {
        const Signal& s = m_.signal(id);
        if (s.kind == SignalKind::load) probe(m_.loads[slot(s.index)].probe, add);
        if (s.kind == SignalKind::contact) probe(m_.relays[slot(s.index)].coil_probe, add);
        if (s.kind == SignalKind::powered) probe(m_.circuit.supply_probe, add);
        if (s.kind == SignalKind::wired) {
            inputs_[slot(s.index)] = true;
            probe(m_.wired_inputs[slot(s.index)].probe, add);
        }
        if (s.kind != SignalKind::node) return;
        for (std::size_t p = 0; p < m_.circuit.probes.size(); ++p)
            if (m_.circuit.probes[p].kind == ProbeKind::node && m_.circuit.probes[p].index == s.index)
                probe(static_cast<int>(p), add);
    };
}

void Influence::probe(int index, const std::function<void(SignalId)>& add) {
    if (index < 0 || probes_[slot(index)]) return;
    probes_[slot(index)] = true;
    const Probe& p = m_.circuit.probes[slot(index)];
    if (!is_of_the_levels(p.kind)) return;
    std::vector<bool> has = say_in(p);
    // Itself, even where it can never work.
    if (p.kind == ProbeKind::load || p.kind == ProbeKind::coil) has[slot(p.index)] = true;
    for (std::size_t b = 0; b < branches_.size(); ++b) {
        if (!has[b] || branches_[b]) continue;
        branches_[b] = true;
        const Branch& x = m_.circuit.branches[b];
        if (x.kind == BranchKind::pole) add(m_.switches[slot(x.index)].position);
        if (x.kind == BranchKind::contact) add(m_.relays[slot(x.index)].contact);
        if (x.kind == BranchKind::output) add(m_.outputs[slot(x.index)].signal);
    }
    for (std::size_t s = 0; s < sources_.size(); ++s) {
        if (!has[branches_.size() + s] || sources_[s]) continue;
        sources_[s] = true;
        probe(m_.circuit.sources[s].field, add);
    }
}

std::vector<bool> Influence::say_in(const Probe& p) {
    if (sets_) return say_by_sets(p);
    try {
        const PieceDiagrams gates(wiring_, branches_.size(), faults_, diagrams_);
        if (!exact_) exact_.emplace(wiring_.circuit, gates);
        const auto answer = ask(*exact_, m_, p);
        std::vector<bool> out(branches_.size() + sources_.size());
        for (const Function f : {answer->must, answer->may})
            for (const int event : diagrams_.support(f)) {
                const std::size_t number = gates.piece_of(slot(event));
                if (number < out.size()) out[number] = true;
            }
        return out;
    } catch (const TooLarge&) {
        exact_.reset();
        return say_by_sets(p);
    }
}

std::vector<bool> Influence::say_by_sets(const Probe& p) {
    if (!sets_) sets_.emplace(wiring_.circuit, PieceSets(wiring_, branches_.size(), faults_));
    const auto answer = ask(*sets_, m_, p);
    std::vector<bool> out(branches_.size() + sources_.size());
    for (const auto& t : {answer->must, answer->may})
        for (std::size_t k = 0; t.bits && k < out.size(); ++k)
            if (((*t.bits)[k / bits_in_word] >> (k % bits_in_word) & 1U) != 0) out[k] = true;
    return out;
}

std::set<int> faults_of(const Model& m, int claim) {
    std::set<int> out;
    const Claim& c = m.claims[slot(claim)];
    for (const int index : {c.condition, c.reached_under}) {
        if (index < 0) continue;
        const Condition& condition = m.conditions[slot(index)];
        out.insert(condition.faults.begin(), condition.faults.end());
        out.insert(condition.present.begin(), condition.present.end());
    }
    return out;
}

}  // namespace lanyard
