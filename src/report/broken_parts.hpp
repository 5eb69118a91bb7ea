// Parts of broken.hpp: kinds of claims that take more than a line to tell.
#pragma once

#include <string>
#include <vector>

#include "report/film.hpp"
#include "report/reasons.hpp"

namespace lanyard::report {

// "2.31 s (scan 231)"
std::string moment(const Film& film, long scan);

std::vector<std::string> response_words(const Film& film, const Response& response);
std::string response_summary(const Film& film, const Response& response);

std::vector<std::string> procedure_words(const Film& film, const Procedure& procedure);
Reasons procedure_reasons(const Film& film, const Procedure& procedure);
std::string procedure_summary(const Film& film, const Procedure& procedure);

}  // namespace lanyard::report
