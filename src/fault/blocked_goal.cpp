// What it decides: for each set of at most N faults, smallest first, whether the goal can still be reached while all of
// them are there throughout. Sets that hold one that blocks the goal are not looked at.
//
// How: the example of the sound car is played again with the faults, as nearly as the world lets it; most faults do not
// hinder it, and the run that comes of it is the proof. Where it misses the goal the provers are asked.
//
// Single faults that no probe can tell apart (fault/alike.hpp) are the same system: one is judged for all of them.
//
// Why it is sound: what is kept is a legal run of the interpreter, or a certificate. A further fault may open a way
// that another has blocked (a wire on battery, say), so a set that holds a known one is left out, not claimed to block.
//
// When it gives up: at the work limit; then the order is not complete.
// Tested by: tests/fault/analysis_test.cpp
#include "fault/blocked_goal.hpp"

#include <algorithm>

#include "fault/play_again.hpp"
#include "prove/judge.hpp"

namespace lanyard::fault {

namespace {

class BlockingSets {
 public:
    BlockingSets(const Model& m, ClaimId claim, const Run& example, const CutOptions& o, const JudgeOptions& j)
        : model_(m), example_(example), options_(o), judge_(j) {
        out_.claim = claim;
    }

    ClaimFaults run() {
        for (int order = 1; order <= options_.order; ++order) {
            OrderReport report{order, true, std::nullopt, ""};
            if (order == 1) {
                one_by_one(report);
            } else {
                std::vector<FaultId> set;
                extend(set, 0, order, report);
            }
            out_.orders.push_back(report);
            if (!report.complete) break;
        }
        return std::move(out_);
    }

 private:
    // Of those that are alike one is judged for all.
    void one_by_one(OrderReport& report) {
        for (const auto& group : options_.groups) {
            if (group.size() > 1) out_.alike.push_back(group);
            const std::size_t known = out_.sets.size();
            judge_set({group.front()}, report);
            if (out_.sets.size() == known) continue;
            for (std::size_t k = 1; k < group.size(); ++k) {
                claims::CutSet like = out_.sets[known];
                like.faults = {group[k]};
                out_.sets.push_back(std::move(like));
            }
        }
        std::sort(out_.sets.begin(), out_.sets.end(),
                  [](const claims::CutSet& a, const claims::CutSet& b) { return a.faults < b.faults; });
    }

    void extend(std::vector<FaultId>& set, std::size_t from, int missing, OrderReport& report) {
        if (missing == 0) return judge_set(set, report);
        for (std::size_t i = from; i < options_.faults.size(); ++i) {
            set.push_back(options_.faults[i]);
            if (!holds_a_known_one(set)) extend(set, i + 1, missing - 1, report);
            set.pop_back();
        }
    }
    bool holds_a_known_one(const std::vector<FaultId>& set) const {
        return std::any_of(out_.sets.begin(), out_.sets.end(), [&](const claims::CutSet& s) {
            return std::includes(set.begin(), set.end(), s.faults.begin(), s.faults.end());
        });
    }

    void judge_set(const std::vector<FaultId>& set, OrderReport& report) {
        if (judge_.stopped()) return leave_open(report, judge_.why_stopped());
        const Model m = with_faults(model_, out_.claim, {set, 0, false, true});
        if (comes_again_to(&Scan::goal, m, out_.claim, example_)) return;
        const ClaimResult r = judge(m, out_.claim, judge_);
        if (const auto* blocked = std::get_if<Refuted>(&r.verdict)) {
            out_.sets.push_back({set, std::nullopt, blocked->certificate, 0});
        } else if (const auto* open = std::get_if<Undecided>(&r.verdict)) {
            leave_open(report, open->reason);
        }
    }
    static void leave_open(OrderReport& report, const std::string& why) {
        report.complete = false;
        report.why_not = why;
    }

    const Model& model_;
    const Run& example_;
    const CutOptions& options_;
    const JudgeOptions& judge_;
    ClaimFaults out_;
};

}  // namespace

ClaimFaults find_blocking_sets(const Model& model, ClaimId claim, const Run& example, const CutOptions& options,
                               const JudgeOptions& judge) {
    return BlockingSets(model, claim, example, options, judge).run();
}

}  // namespace lanyard::fault
