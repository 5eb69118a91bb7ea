// What lemmas fix of single pieces of state: conjunctions of bits, of their negations, and of counts with a least
// value. Whatever else a lemma says fixes none. Tested by: tests/certify/facts_test.cpp
#pragma once

#include <vector>

#include "encode/system.hpp"

namespace lanyard::certify {

Facts facts_of(const System& s, const std::vector<z3::expr>& lemmas);

}  // namespace lanyard::certify
