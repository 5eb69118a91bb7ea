// Which faults are there at a scan, and which may be.
#pragma once

#include <algorithm>
#include <string>
#include <vector>

#include "model/model.hpp"
#include "sim/transit.hpp"

namespace lanyard::sim {

class Faults {
 public:
    explicit Faults(const Model& model) : m_(model), now_(like(model.faults)), before_(now_), ever_(now_) {}

    bool there(FaultId fault) const { return now_[fault]; }
    // One of them is.
    bool there(const std::vector<FaultId>& faults) const {
        return std::any_of(faults.begin(), faults.end(), [this](FaultId f) { return now_[f]; });
    }
    bool there_before(FaultId fault) const { return before_[fault]; }
    const Indexed<Fault, bool>& all() const { return now_; }

    // Given those that were set already at this scan.
    Permission may_be_there(FaultId fault, const Condition& c, bool first_scan) const {
        const auto one_of = [fault](const auto& list) { return std::binary_search(list.begin(), list.end(), fault); };
        if (one_of(c.present)) return {true, true};
        if (ever_[fault]) return {true, !m_.faults[fault].comes_and_goes};
        if (!one_of(c.faults) || (c.from_the_start && !first_scan) || begun_ >= c.at_most) return {};
        const auto with_it = [&](FaultId x) { return x == fault || ever_[x]; };
        const auto all_of_it = [&](const auto& set) { return std::all_of(set.begin(), set.end(), with_it); };
        return {std::none_of(c.excluded.begin(), c.excluded.end(), all_of_it), false};
    }
    void set(FaultId fault, bool is_there, const Condition& c) {
        now_[fault] = is_there;
        if (!is_there || ever_[fault]) return;
        ever_[fault] = true;
        begun_ += std::binary_search(c.present.begin(), c.present.end(), fault) ? 0 : 1;
    }
    void end_scan() { before_ = now_; }
    void append_text(std::string& text) const {
        for (const auto* bits : {&ever_, &before_}) {
            for (const bool b : *bits) text += b ? '1' : '0';
            text += ' ';
        }
    }

 private:
    const Model& m_;
    Indexed<Fault, bool> now_, before_;  // at this scan, at the scan before
    Indexed<Fault, bool> ever_;          // is or has been there
    int begun_ = 0;                      // how many have been, those that are there throughout not counted
};

}  // namespace lanyard::sim
