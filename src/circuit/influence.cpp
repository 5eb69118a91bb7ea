#include "circuit/influence.hpp"

namespace lanyard::circuit {

namespace {

constexpr std::size_t most_influence_nodes = 400;
constexpr std::size_t bits_in_word = 64;
constexpr std::size_t most_influence_diagrams = 200'000;

}  // namespace

PieceSets::Term PieceSets::piece(std::size_t number) const {
    Bits bits(numbers_.count() / bits_in_word + 1);
    bits[number / bits_in_word] |= std::uint64_t{1} << (number % bits_in_word);
    return {Term::Kind::open, std::make_shared<const Bits>(std::move(bits))};
}

PieceSets::Term PieceSets::happens(const WiringEvent& e) const {
    switch (e.kind) {
        case WiringEvent::Kind::conducts:
            return piece(numbers_.of(e.index.to<Branch>()));
        case WiringEvent::Kind::bounces:
            return {Term::Kind::open};
        case WiringEvent::Kind::live:
            return piece(numbers_.of(e.index.to<Source>()));
        case WiringEvent::Kind::fault:
            if (const auto freed = numbers_.wiring->piece_of(e.index))
                return piece(numbers_.of(numbers_.wiring->pieces[freed]));
            return faults_->contains(e.index) ? Term{Term::Kind::open} : constant(false);
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
std::size_t PieceDiagrams::events(const PieceNumbers& numbers) {
    const FreedWiring& wiring = *numbers.wiring;
    return numbers.count() + wiring.pieces.size() + wiring.own_faults + numbers.branches;
}

std::size_t PieceDiagrams::piece_of(std::size_t event) const {
    const std::size_t named = numbers_.count();
    if (event < named) return event;
    const Id<FreedWiring::Piece> freed(event - named);
    return numbers_.wiring->pieces.has(freed) ? numbers_.of(numbers_.wiring->pieces[freed]) : event;
}

Function PieceDiagrams::happens(const WiringEvent& e) const {
    const FreedWiring& wiring = *numbers_.wiring;
    const std::size_t named = numbers_.count(), pieces = wiring.pieces.size();
    switch (e.kind) {
        case WiringEvent::Kind::conducts:
            return d_->event(numbers_.of(e.index.to<Branch>()));
        case WiringEvent::Kind::bounces:
            return d_->event(named + pieces + wiring.own_faults + numbers_.of(e.index.to<Branch>()));
        case WiringEvent::Kind::live:
            return d_->event(numbers_.of(e.index.to<Source>()));
        case WiringEvent::Kind::fault:
            const FaultId fault = e.index;
            if (const auto freed = wiring.piece_of(fault)) return d_->event(named + freed.index());
            return faults_->contains(fault) ? d_->event(named + pieces + fault.index()) : constant(false);
    }
    return constant(false);
}

Influence::Influence(const Model& m, std::set<FaultId> faults)
    : m_(m),
      faults_(std::move(faults)),
      wiring_(freed_wiring(m)),
      numbers_{&wiring_, m.circuit.branches.size()},
      diagrams_(PieceDiagrams::events(numbers_), most_influence_diagrams),
      branches_(like(m.circuit.branches)),
      sources_(like(m.circuit.sources)),
      inputs_(like(m.wired_inputs)),
      probes_(like(m.circuit.probes)) {}

bool Influence::affordable(const Model& m) {
    const Circuit& c = m.circuit;
    const std::size_t events = 4 * c.branches.size() + 2 * c.sources.size() + m.faults.size();
    return c.nodes.size() <= most_influence_nodes && events <= Diagrams::max_events;
}

FollowWiring Influence::follow() {
    return [this](SignalId id, const std::function<void(SignalId)>& add) {
        const Signal& s = m_.signal(id);
        if (s.kind == SignalKind::load) probe(m_.loads[s.index].probe, add);
        if (s.kind == SignalKind::contact) probe(m_.relays[s.index].coil_probe, add);
        if (s.kind == SignalKind::powered) probe(m_.circuit.supply_probe, add);
        if (s.kind == SignalKind::wired) {
            inputs_[s.index] = true;
            probe(m_.wired_inputs[s.index].probe, add);
        }
        if (s.kind != SignalKind::node) return;
        for (const ProbeId p : m_.circuit.probes.ids())
            if (m_.circuit.probes[p].kind == ProbeKind::node && m_.circuit.probes[p].index == s.index) probe(p, add);
    };
}

void Influence::probe(ProbeId index, const std::function<void(SignalId)>& add) {
    if (!index || probes_[index]) return;
    probes_[index] = true;
    const Probe& p = m_.circuit.probes[index];
    if (!is_of_the_levels(p.kind)) return;
    std::vector<bool> has = say_in(p);
    // Itself, even where it can never work.
    if (p.kind == ProbeKind::load || p.kind == ProbeKind::coil) has[numbers_.of(p.index.to<Branch>())] = true;
    for (const BranchId b : branches_.ids()) {
        if (!has[numbers_.of(b)] || branches_[b]) continue;
        branches_[b] = true;
        const Branch& x = m_.circuit.branches[b];
        if (x.kind == BranchKind::pole) add(m_.switches[x.index].position);
        if (x.kind == BranchKind::contact) add(m_.relays[x.index].contact);
        if (x.kind == BranchKind::output) add(m_.outputs[x.index].signal);
    }
    for (const SourceId s : sources_.ids()) {
        if (!has[numbers_.of(s)] || sources_[s]) continue;
        sources_[s] = true;
        probe(m_.circuit.sources[s].field, add);
    }
}

std::vector<bool> Influence::say_in(const Probe& p) {
    if (sets_) return say_by_sets(p);
    try {
        const PieceDiagrams gates(numbers_, faults_, diagrams_);
        if (!exact_) exact_.emplace(wiring_.circuit, gates);
        const auto answer = ask(*exact_, m_, p);
        std::vector<bool> out(numbers_.count());
        for (const Function f : {answer->must, answer->may})
            for (const std::size_t event : diagrams_.support(f)) {
                const std::size_t number = gates.piece_of(event);
                if (number < out.size()) out[number] = true;
            }
        return out;
    } catch (const TooLarge&) {
        exact_.reset();
        return say_by_sets(p);
    }
}

std::vector<bool> Influence::say_by_sets(const Probe& p) {
    if (!sets_) sets_.emplace(wiring_.circuit, PieceSets(numbers_, faults_));
    const auto answer = ask(*sets_, m_, p);
    std::vector<bool> out(numbers_.count());
    for (const auto& t : {answer->must, answer->may})
        for (std::size_t k = 0; t.bits && k < out.size(); ++k)
            if (((*t.bits)[k / bits_in_word] >> (k % bits_in_word) & 1U) != 0) out[k] = true;
    return out;
}

std::set<FaultId> faults_of(const Model& m, ClaimId claim) {
    std::set<FaultId> out;
    const Claim& c = m.claims[claim];
    for (const ConditionId id : {c.condition, c.reached_under}) {
        if (!id) continue;
        const Condition& condition = m.conditions[id];
        out.insert(condition.faults.begin(), condition.faults.end());
        out.insert(condition.present.begin(), condition.present.end());
    }
    return out;
}

}  // namespace lanyard::circuit
