// What it decides: all minimal sets of at most N faults that break a claim, by size: a set of n faults is looked for
// only when all smaller ones are known, so what is found is minimal. When no more is found quickly, the provers are
// asked whether the claim holds under "at most n faults, none of the known sets": yes is the proof that the list is
// complete, with a certificate; no is one more set.
//
// Faults that cannot be told apart (fault/alike.hpp) are asked about once while there is one of them at a time.
//
// Why it is sound: where faults may begin at any scan they may also not begin, so whatever breaks the claim under some
// faults is a run under more of them as well. More faults are never better: the minimal sets say all. Where
// faults are there from the start or never, or present throughout, that does not follow; then the sets are those of
// exactly these faults, and each is minimal among the sets that break the claim; fault/undone.hpp then
// looks which further fault undoes one.
//
// When it gives up: at the work limit; then the order is reported as not complete.
// Tested by: tests/fault/analysis_test.cpp
#include "fault/cut_search.hpp"

#include <algorithm>
#include <map>

#include "base/log.hpp"
#include "claims/binding.hpp"
#include "fault/break_search.hpp"
#include "fault/undone.hpp"
#include "prove/judge.hpp"
#include "sim/interpreter.hpp"

namespace lanyard::fault {

namespace {

constexpr std::uint64_t first_budget = 800'000;  // smaller ones have never sufficed with faults
constexpr std::uint64_t quick = 20'000'000;      // work units that the search may spend before the provers are asked
constexpr std::size_t further = 1;               // leaps beyond the longest run that was found

class CutSearch {
 public:
    CutSearch(const Model& m, ClaimId claim, const CutOptions& o, const JudgeOptions& j)
        : model_(m), options_(o), judge_(j) {
        out_.claim = claim;
        if (!is_searchable()) return;
        for (const auto& group : o.groups) {
            first_ones_.push_back(group.front());
            if (group.size() > 1) out_.alike.push_back(group);
            like_.emplace(group.front(), group);
        }
    }

    ClaimFaults run() {
        for (int order = 1; order <= options_.order; ++order) {
            out_.orders.push_back(one_order(order));
            if (!out_.orders.back().complete) break;
        }
        if (options_.from_the_start) find_undoing(model_, options_, judge_, out_);
        return std::move(out_);
    }

 private:
    // A run tells whether it breaks the claim.
    bool is_searchable() const { return !std::holds_alternative<Recoverable>(claim().body); }
    const Claim& claim() const { return model_.claims[out_.claim]; }

    std::vector<std::vector<FaultId>> known() const {
        std::vector<std::vector<FaultId>> all;
        for (const auto& s : out_.sets) all.push_back(s.faults);
        return all;
    }
    Model asked(int order) const {
        const auto& faults = order == 1 && is_searchable() ? first_ones_ : options_.faults;
        return with_faults(model_, out_.claim, {faults, order, options_.from_the_start, false, known()});
    }

    OrderReport one_order(int order) {
        const logging::About about([&] { return fmt::format("claim '{}' with {} faults", claim().id, order); });
        OrderReport report;
        report.order = order;
        if (is_searchable()) search(order);
        for (;;) {
            if (judge_.stopped()) {
                report.why_not = judge_.why_stopped();
                return report;
            }
            const Model m = asked(order);
            const ClaimResult r = prove(m);
            if (const auto* proved = std::get_if<Proved>(&r.verdict)) {
                report.complete = true;
                report.certificate = proved->certificate;
                return report;
            }
            const auto* refuted = std::get_if<Refuted>(&r.verdict);
            if (refuted == nullptr || !refuted->run) {
                const auto* open = std::get_if<Undecided>(&r.verdict);
                report.why_not = open ? open->reason : "its conditions cannot be met with faults";
                return report;
            }
            add(*refuted->run, refuted->run->segments.size());
            if (is_searchable()) search(order);
        }
    }

    Question question(const Model& m) const {
        Question q = question_about(m, out_.claim);
        q.leaps = leaps_;
        // Its runs are played as they are found: whatever may forbid one is looked at from the beginning.
        q.with_binding_quantities = !binding_quantities(m, q.condition, q.claim).empty();
        return q;
    }

    ClaimResult prove(const Model& m) {
        if (std::holds_alternative<Recoverable>(claim().body)) return judge(m, out_.claim, judge_);
        ClaimResult r;
        r.claim = out_.claim;
        Question q = question(m);
        settle(q);
        JudgeOptions patient = judge_;
        patient.first_budget = first_budget;
        patient.any_run = true;
        const Answered a = ask(q, patient, out_.timing, r.prover);
        if (const auto* hit = std::get_if<Reachable>(&a)) r.verdict = Refuted{hit->run, std::nullopt, ""};
        if (const auto* none = std::get_if<Unreachable>(&a)) r.verdict = Proved{none->certificate, {}, nullptr};
        if (const auto* open = std::get_if<Unknown>(&a)) r.verdict = Undecided{open->reason, 0};
        return r;
    }

    // The lemma is about how steps are made of scans, not about which sets are left out: once is enough.
    void settle(Question& q) {
        if (!settled_) settle_leaps(q, judge_, out_.timing);
        settled_ = true;
        leaps_ = q.leaps;
    }

    void search(int order) {
        const Model m = asked(order);
        Question q = question(m);
        settle(q);
        BreakSearch search(q);
        const AtWork at_work(judge_, search);
        std::uint64_t budget = quick;
        std::size_t depth = std::max<std::size_t>(longest_, 4) + further;
        while (auto found = search.next(depth, budget)) {
            search.exclude(found->faults);
            longest_ = std::max(longest_, found->depth);
            depth = std::max(depth, longest_ + further);
            add_with_its_like(std::move(*found));
        }
    }

    void add(const Run& run, std::size_t depth) {
        longest_ = std::max(longest_, depth);
        add_with_its_like({faults_of(run), run, std::nullopt, depth});
    }
    // Where one fault was asked for several that are alike, each has the run with itself in its place.
    void add_with_its_like(claims::CutSet found) {
        LANYARD_LOG(debug, "a set that breaks it: {} faults, {} leaps", found.faults.size(), found.depth);
        if (found.faults.size() != 1 || like_.count(found.faults.front()) == 0) return add(std::move(found));
        const FaultId first = found.faults.front();
        for (const FaultId f : like_.at(first)) {
            claims::CutSet set = found;
            set.faults = {f};
            for (auto& segment : set.run->segments) {
                auto& faults = segment.first.faults;
                const bool there = faults[first];
                faults[first] = false;
                faults[f] = there;
            }
            if (f != first && !breaks(*set.run, f)) throw InternalError{"a fault is not like another"};
            add(std::move(set));
        }
    }
    bool breaks(const Run& run, FaultId fault) const {
        std::vector<FaultId> faults = first_ones_;  // the same probes as in the run
        faults.insert(std::lower_bound(faults.begin(), faults.end(), fault), fault);
        const Model m = with_faults(model_, out_.claim, {faults, 1, options_.from_the_start});
        Interpreter interpreter(m, m.claims[out_.claim].condition, out_.claim);
        const Scan last = play(interpreter, run);
        return last.broken_rule.empty() && last.violated;
    }
    void add(claims::CutSet s) {
        const auto before = [](const claims::CutSet& a, const claims::CutSet& b) {
            return a.faults.size() != b.faults.size() ? a.faults.size() < b.faults.size() : a.faults < b.faults;
        };
        out_.sets.insert(std::upper_bound(out_.sets.begin(), out_.sets.end(), s, before), std::move(s));
    }

    const Model& model_;
    const CutOptions& options_;
    const JudgeOptions& judge_;
    ClaimFaults out_;
    std::vector<FaultId> first_ones_;               // of faults that are alike: asked for all of them
    std::map<FaultId, std::vector<FaultId>> like_;  // by the first one
    std::size_t longest_ = 0;
    bool settled_ = false, leaps_ = true;
};

}  // namespace

ClaimFaults find_cut_sets(const Model& model, ClaimId claim, const CutOptions& options, const JudgeOptions& judge) {
    return CutSearch(model, claim, options, judge).run();
}

}  // namespace lanyard::fault
