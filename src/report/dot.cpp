#include "report/dot.hpp"

namespace lanyard::report {

std::string dot_label(const std::string& text) {
    std::string out = "\"";
    for (const char c : text) {
        if (c == '\n')
            out += "\\n";
        else if (c == '"' || c == '\\')
            out += std::string("\\") + c;
        else if (c == '&')
            out += "&amp;";
        else
            out += static_cast<unsigned char>(c) < 0x20 || c == 0x7F ? ' ' : c;
    }
    return out + '"';
}

}  // namespace lanyard::report
