#include "report/film.hpp"

#include <algorithm>

#include "sim/machine.hpp"

namespace lanyard::report {

struct Film::Seen {
    explicit Seen(const sim::Program& program) : evaluator(program) {}
    Indexed<Element, sim::ElementState> elements;
    sim::Evaluator evaluator;
};

namespace {

// Evaluated scans that are remembered; those of a long run of chatter would fill the memory.
constexpr std::size_t most_seen = 512;

// What happens at one scan beside numbers that move.
bool differs(const Indexed<Signal, Value>& a, const Indexed<Signal, Value>& b) {
    for (const SignalId k : a.ids())
        if (!std::holds_alternative<Rational>(a[k]) && a[k] != b[k]) return true;
    return false;
}

bool differs(const Indexed<Element, sim::ElementState>& a, const Indexed<Element, sim::ElementState>& b) {
    for (const ElementId k : a.ids())
        if (a[k].on != b[k].on || a[k].before != b[k].before) return true;
    return false;
}

// A clock that begins to run or stops running.
bool clocks_differ(const Frame& a, const Frame& b) {
    for (const ElementId k : a.elements.ids()) {
        const long then = a.elements_now[k].count - a.elements[k].count;
        const long now = b.elements_now[k].count - b.elements[k].count;
        if (then != now) return true;
    }
    return false;
}

// The claim's second part or window begins, its response comes to be waited for or owed, or is there.
bool claim_goes_on(const Frame& f) {
    const sim::MonitorState& was = f.claim;
    const sim::MonitorState& is = f.claim_now;
    return was.begun != is.begun || was.owed != is.owed || (was.age > 0) != (is.age > 0);
}

}  // namespace

// Decides which scans are kept. The scan before one that is kept because of a clock is kept too: a clock that is full
// shows it one scan later by standing still. So is the last scan of a segment: numbers that moved in it end there.
struct Film::Camera {
    std::vector<Frame>& frames;
    Frame before;
    bool before_kept = true;

    void keep(Frame&& f) {
        if (!before_kept) frames.push_back(std::move(before));
        frames.push_back(f);
        before = std::move(f);
        before_kept = true;
    }
    void take(Frame&& f, bool must) {
        const bool first = f.scan == 0;
        const bool clock = !first && clocks_differ(before, f);
        const bool event = first || must || f.segment_begins || f.phase != before.phase || f.violated ||
                           f.claim.begun != before.claim.begun || claim_goes_on(f) ||
                           differs(before.signals, f.signals) || f.looks != before.looks ||
                           differs(f.elements, f.elements_now);
        if (clock || must) return keep(std::move(f));
        if (event && !f.segment_begins) before_kept = true;
        if (event) return keep(std::move(f));
        before = std::move(f);
        before_kept = false;
    }
};

Film::Film(const Model& model, const Run& run, ConditionId condition, ClaimId claim)
    : model_(model),
      run_(run),
      condition_(condition),
      claim_(claim),
      cone_(claim ? cone_of(model, condition, claim) : whole_model(model)),
      interpreter_(model, condition, claim),
      program_(model) {
    add_expressions();
    const auto* p = claim ? std::get_if<Procedure>(&model.claims[claim].body) : nullptr;
    if (p != nullptr) steps_ = std::ssize(p->phases);
    play();
}

Film::~Film() = default;

void Film::add_expressions() {
    for (const SignalId id : model_.order) program_.add(definition(model_, id));
    if (model_.supply.on) program_.add(model_.supply.on);
    for (const auto& source : model_.circuit.sources)
        if (source.live) program_.add(source.live);
    if (claim_)
        for (const auto& e : expressions_of(*claim())) program_.add(e);
    program_.close();
    for (const sim::OperationId i : program_.operations().ids()) operations_[program_.operation(i).expr.get()] = i;
    for (const sim::OperationId i : program_.memory()) element_operations_[program_.operation(i).expr->element] = i;
}

void Film::play() {
    Camera camera{frames_, {}, true};
    const long last = run_.scans() - 1;
    const auto& state = interpreter_.machine().state();
    Frame f;
    f.elements_now = state.elements;
    f.claim_now = state.monitor;
    for (const auto& segment : run_.segments) {
        f.segment_begins = true;
        lanyard::sim::play(interpreter_, {{segment}}, [&](const Choices&, Scan& s) {
            broken_rule_ = s.broken_rule;
            if (!broken_rule_.empty()) return false;
            f.elements = std::exchange(f.elements_now, state.elements);
            f.claim = std::exchange(f.claim_now, state.monitor);
            f.phase = f.claim.driver.phase;
            if (model_.circuit.exists()) f.looks = interpreter_.machine().looks();
            f.last = f.scan == 0 ? s.signals : std::move(f.signals);
            f.signals = std::move(s.signals);
            f.violated = s.violated;
            camera.take(Frame(f), f.scan == last);
            ++f.scan;
            f.segment_begins = false;
            return true;
        });
        if (!broken_rule_.empty()) return;
    }
}

std::size_t Film::index_at(long scan) const {
    const auto behind =
        std::upper_bound(frames_.begin(), frames_.end(), scan, [](long s, const Frame& f) { return s < f.scan; });
    return behind == frames_.begin() ? 0 : static_cast<std::size_t>(behind - frames_.begin()) - 1;
}

long Film::begins() const {
    const auto there = [this](const Frame& f) { return steps_ > 0 ? f.claim.begun : f.claim_now.begun; };
    const auto first = std::find_if(frames_.begin(), frames_.end(), there);
    return first == frames_.end() ? -1 : first->scan;
}

long Film::step_begins(long step) const {
    const auto there = [step](const Frame& f) { return f.claim.begun && f.phase >= step; };
    const auto first = std::find_if(frames_.begin(), frames_.end(), there);
    return first == frames_.end() ? -1 : first->scan;
}

const Segment& Film::segment_at(long scan) const {
    for (const auto& s : run_.segments) {
        if (scan < s.scans) return s;
        scan -= s.scans;
    }
    return run_.segments.back();
}

Rational Film::quantity(QuantityId quantity, long scan) const { return choices_at(run_, scan).quantities[quantity]; }

Rational Film::reading(SensorId sensor, long scan) const { return choices_at(run_, scan).readings[sensor]; }

bool Film::fault(FaultId fault, long scan) const {
    const auto& faults = segment_at(scan).first.faults;
    return !faults.empty() && faults[fault];
}

bool Film::answer(ProbeId probe, long scan) const { return segment_at(scan).first.wiring[probe]; }

template <class F>
long Film::since_segment(long scan, const F& value) const {
    long begin = 0, since = 0;
    for (std::size_t k = 0; k < run_.segments.size() && begin <= scan; ++k) {
        if (k > 0 && value(run_.segments[k].first) != value(run_.segments[k - 1].first)) since = begin;
        begin += run_.segments[k].scans;
    }
    return since;
}

long Film::fault_since(FaultId fault, long scan) const {
    return since_segment(scan, [fault](const Choices& c) { return !c.faults.empty() && c.faults[fault]; });
}

long Film::answer_since(ProbeId probe, long scan) const {
    return since_segment(scan, [probe](const Choices& c) { return c.wiring[probe]; });
}

const sim::Standing& Film::standing(long scan, sim::Look look) const { return at(scan).looks.standing[ordinal(look)]; }

Flow Film::flow(long scan, sim::Look look) const {
    const sim::Standing& s = standing(scan, look);
    return {model_.circuit, s.closed, s.both_ways, s.live};
}

std::shared_ptr<const Film::Seen> Film::seen(const Frame& frame) const {
    const std::scoped_lock lock(seen_by_one_);
    if (seen_.size() > most_seen) seen_.clear();
    auto& slot = seen_[frame.scan];
    if (!slot) {
        slot = std::make_shared<Seen>(program_);
        slot->elements = frame.elements;
        const sim::Environment env{frame.signals, frame.last, slot->elements};
        slot->evaluator.run(env, 0, program_.size());
    }
    return slot;
}

sim::OperationId Film::operation(const Expr& e) const {
    const auto known = operations_.find(&e);
    return known != operations_.end() ? known->second : element_operations_.at(e.element);
}

Value Film::value(const Expr& e, const Frame& frame) const {
    if (has_memory(e.op) && e.type.kind == TypeKind::boolean && e.op != Op::previous) return is_on(e, frame);
    Indexed<Element, sim::ElementState> unused;
    return seen(frame)->evaluator.value({frame.signals, frame.last, unused}, operation(e));
}

bool Film::controller_runs(const Frame& frame) const { return std::get<bool>(frame.signals[model_.powered]); }

bool Film::is_on(const Expr& e, const Frame& frame) const {
    if (!model_.elements[e.element].observer && !controller_runs(frame)) return false;
    return seen(frame)->evaluator.truth(operation(e));
}

const sim::ElementState& Film::state_of(const Expr& e, const Frame& frame) const {
    return frame.elements_now[e.element];
}

const Expr* Film::element(ElementId id) const {
    const auto known = element_operations_.find(id);
    return known == element_operations_.end() ? nullptr : program_.operation(known->second).expr.get();
}

long Film::since(SignalId id, long scan) const {
    std::size_t k = index_at(scan);
    const Value& value = frames_[k].signals[id];
    while (k > 0 && frames_[k - 1].signals[id] == value) --k;
    return frames_[k].scan;
}

long Film::since(const Expr& e, long scan) const {
    const auto now = [&](const Frame& f) { return has_memory(e.op) ? is_on(e, f) : truth(e, f); };
    std::size_t k = index_at(scan);
    const bool on = now(frames_[k]);
    while (k > 0 && now(frames_[k - 1]) == on) --k;
    return frames_[k].scan;
}

}  // namespace lanyard::report
