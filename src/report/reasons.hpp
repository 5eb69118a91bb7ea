// Why something is as it is at one scan of a run: followed backwards from it to the inputs through the definitions,
// with the values that they had then. An AND that is false is explained by what is false in it, an OR that is true by
// what is true, a memory element by when it was set. Nothing is told twice, and the depth is limited: this is for
// reading.
// Tested by: tests/report/causes_test.cpp
#pragma once

#include <set>
#include <string>
#include <vector>

#include "report/film.hpp"

namespace lanyard::report {

struct Reason {
    std::string text;
    std::vector<Reason> because = {};
    long scan = -1;  // since when it has been so; -1: since what it is a reason for
};

struct Reasons {
    std::vector<Reason> list;
    std::set<SignalId> signals;  // that they speak of
};

// Why the Boolean expression has the value that it has at the scan.
Reasons reasons_for(const Film& film, const Expr& e, long scan);

// "a <- b <- c", one line a branch.
std::string reasons_text(const std::vector<Reason>& reasons, const std::string& label, std::size_t label_width);

}  // namespace lanyard::report
