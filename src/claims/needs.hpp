// What the proofs of a model cannot do without, as plain values; explain/needs.hpp finds it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "claims/verdict.hpp"

namespace lanyard::claims {

// Something that a claim's model takes for granted, and that may be taken away from it.
struct Assumption {
    enum class Kind {
        healthy,   // the engine is: else it is any
        holds,     // `part` of what the claim's condition holds
        except,    // `part` of the intervals that it puts in the place of healthy bands
        bands,     // what is healthy of a quantity, `index`
        line,      // `part` of the lines of a quantity
        accuracy,  // of a sensor: else it reads anything
        delay,     // of a sensor: else twice as long
        relay,     // its times: else up to twice as long
    };
    Kind kind = Kind::healthy;
    AnyId index;
    std::size_t part = 0;
};

enum class Need {
    needed,     // in every set that suffices
    by_itself,  // can be taken away by itself, but not together with what is `spare`
    spare,      // all of these can be taken away at once
    unknown,    // undecided within the limit of work; it stays
};

struct JudgedAssumption {
    Assumption assumption;
    Need need = Need::unknown;
};

// Logic or an output that the proof at hand needs.
struct UsedElement {
    std::string name;
    // Were it anything, the claim would be refuted; false: it would be proved. None: that is undecided.
    std::optional<bool> by_every_proof = {};
};

struct ClaimNeeds {
    ClaimResult result;                         // a proof's certificate names no more than it needs
    std::vector<JudgedAssumption> assumptions;  // of a claim that is proved
    std::vector<UsedElement> elements;          // of a claim with a certificate of its own
};

}  // namespace lanyard::claims
