#include "model/pointer.hpp"

namespace lanyard::model::json {

std::string child(const std::string& pointer, std::string_view key) {
    std::string path = pointer;
    path.reserve(pointer.size() + key.size() + 1);
    path += '/';
    for (const char c : key) {
        if (c == '~') {
            path += "~0";
        } else if (c == '/') {
            path += "~1";
        } else {
            path += c;
        }
    }
    return path;
}

std::string child(const std::string& pointer, std::size_t index) { return pointer + '/' + std::to_string(index); }

}  // namespace lanyard::model::json
