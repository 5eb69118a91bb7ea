// The tables of the report that are not about single claims. Each is empty where there is nothing to tell.
#pragma once

#include <string>

#include "page/report_page.hpp"

namespace lanyard::page {

std::string faults(const PageInput& input);
std::string findings(const Model& model);
std::string assumptions(const Model& model);
std::string bench(const PageInput& input);
std::string rules(const Model& model);
std::string recheck(const PageInput& input);

}  // namespace lanyard::page
