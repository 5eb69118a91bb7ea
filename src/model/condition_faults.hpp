// The faults that a condition lets arise.
#pragma once

#include "model/build.hpp"

namespace lanyard::model {

// "one fault of X", "up to N faults of X".
struct FaultPhrase {
    int at_most = 1;
    LocatedText rest;  // X
};
// Null if the text is no such thing.
std::optional<FaultPhrase> fault_phrase(Build& b, const LocatedText& text);

// Opens the condition's one list of faults.
bool begin_faults(Build& b, Condition& c, const LocatedText& whole, const FaultPhrase& phrase);
// Does a text behind that go on with the list?
bool continues_faults(const Build& b, const std::string& text);
bool add_faults(Build& b, Condition& c, const LocatedText& text);
// "from the start" behind the last of them is noted and cut off.
LocatedText without_start(const LocatedText& text, Condition& c);
// "faults": { "of": ... }
bool read_fault_object(Build& b, Condition& c, const json::Value& v, const std::string& pointer);
// When all are there: their order, and their signals, which exist only where something speaks of them.
void settle_faults(Build& b, Condition& c);

}  // namespace lanyard::model
