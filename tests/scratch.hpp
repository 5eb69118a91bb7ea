// A folder of its own that is gone afterwards.
#pragma once

#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <string>
#include <system_error>

namespace lanyard::test {

class Scratch {
 public:
    explicit Scratch(const std::string& name)
        : path(std::filesystem::temp_directory_path() / ("lanyard-" + name + "-" + std::to_string(getpid()))) {
        std::filesystem::create_directories(path);
    }
    ~Scratch() {
        std::error_code ignored;
        std::filesystem::remove_all(path, ignored);
    }
    Scratch(const Scratch&) = delete;
    Scratch& operator=(const Scratch&) = delete;
    void write(const std::string& name, const std::string& text) const {
        std::filesystem::create_directories((path / name).parent_path());
        std::ofstream(path / name) << text;
    }

    std::filesystem::path path;
};

}  // namespace lanyard::test
