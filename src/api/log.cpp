#include <lanyard/lanyard.hpp>
#include <lanyard/log.hpp>

#include "base/log.hpp"

namespace lanyard::api {

namespace {

logging::Level wanted_level(LogLevel level) {
    switch (level) {
        case LogLevel::info:
            return logging::Level::info;
        case LogLevel::debug:
            return logging::Level::debug;
        case LogLevel::trace:
            return logging::Level::trace;
    }
    return logging::Level::off;
}

}  // namespace

std::string start_log(const Logging& log) {
    const std::string error = logging::start(log.file, wanted_level(log.level));
    if (error.empty()) LANYARD_LOG(info, "lanyard {}, {}", version(), solver_version());
    return error;
}

std::string stop_log() { return logging::stop(); }

}  // namespace lanyard::api
