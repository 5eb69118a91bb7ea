// How the parts of the format table are written.
#pragma once

#include "model/format.hpp"

namespace lanyard::model::format {

KeyHelp key(std::string name, Shape shape, std::string meaning, std::string default_text, std::string example);
KeyHelp needed(std::string name, Shape shape, std::string meaning, std::string example);
KeyHelp choice(std::string name, std::vector<std::string> choices, std::string meaning, std::string default_text);
KeyHelp nested(std::string name, Shape shape, std::vector<std::string> objects, std::string meaning,
               std::string example, Shape shorthand = Shape::none);

ObjectHelp engine_object();
std::vector<ObjectHelp> claim_objects();
std::vector<ObjectHelp> pack_objects();
std::vector<ObjectHelp> circuit_objects();
std::vector<ObjectHelp> fault_objects();
// What a part of the wiring may be; the one choice of the first key, "is", tells which.
const std::vector<ObjectHelp>& part_object_table();
std::vector<std::string> part_objects();  // their ids
// Every object may have a comment.
void add_notes(std::vector<ObjectHelp>& objects);

}  // namespace lanyard::model::format
