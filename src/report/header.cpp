#include "report/header.hpp"

#include "base/characters.hpp"
#include "report/layout.hpp"
#include "report/words.hpp"

namespace lanyard::report {

std::string heading(const Model& m, const Versions& v) {
    return sanitize_for_terminal(m.name) + ", SHA-256 " + m.sha256 + ", lanyard " + v.lanyard + ", " + v.solver +
           ", scan " + duration_text(m.scan);
}

std::string heading_on_page(const Model& m, const Versions& v) {
    return joined(lines_of(sanitize_for_terminal(m.name) + ',', line_width), "\n") + "\nSHA-256 " + m.sha256 +
           ",\nlanyard " + v.lanyard + ", " + v.solver + ", scan " + duration_text(m.scan);
}

std::string heading_lines(const Model& m, const Versions& v, const std::string& prefix) {
    return prefix + "model: " + sanitize_for_terminal(m.name) + '\n' + prefix + "SHA-256: " + m.sha256 + '\n' + prefix +
           "lanyard " + v.lanyard + ", " + v.solver + '\n' + prefix + "scan: " + exact_text(m.scan) + " s\n";
}

}  // namespace lanyard::report
