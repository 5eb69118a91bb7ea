// What stands behind the public model.
#pragma once

#include <string>

#include "lanyard/lanyard.hpp"
#include "model/model.hpp"
#include "report/header.hpp"

namespace lanyard::api {

struct Model::Impl {
    lanyard::Model model;
    std::string warnings;
};

Versions versions();
bool interrupt_requested();
// Writes what is needed to look into it, and throws.
[[noreturn]] void report_internal(const Model& model, const std::string& what);

}  // namespace lanyard::api
