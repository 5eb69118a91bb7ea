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

}  // namespace lanyard::api
