// What is found beside the verdicts and stands on the page too.
#pragma once

#include "api/impl.hpp"
#include "claims/card.hpp"
#include "report/faults.hpp"

namespace lanyard::api {

struct FaultsReport::Analysed {
    lanyard::model::Model used;  // with all faults that were asked about
    FaultTables tables;
};

struct CardReport::Made {
    Card card;
};

}  // namespace lanyard::api
