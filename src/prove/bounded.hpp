#pragma once

#include "prove/prover.hpp"

namespace lanyard {

std::unique_ptr<Prover> make_bounded(const Question& q);

}  // namespace lanyard
