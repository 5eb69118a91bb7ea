#include "lanyard/log.hpp"

#include "base/log.hpp"

namespace lanyard::api {

namespace {

logging::Level level_of(LogLevel level) {
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

std::string start_log(const Logging& logging) { return logging::start(logging.file, level_of(logging.level)); }

std::string stop_log() { return logging::stop(); }

}  // namespace lanyard::api
