// What a shell needs to complete the words of the command line, made from the option table.
#pragma once

#include <string>

namespace lanyard::cli {

std::string bash_completion();

}  // namespace lanyard::cli
