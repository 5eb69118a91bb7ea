#include "page/symbols.hpp"

#include "page/svg.hpp"

namespace lanyard::page {

namespace {

std::string leads(int x, int y, int half) {
    return path("lead", "M" + point(x - symbol_half, y) + " L" + point(x - half, y) + " M" + point(x + half, y) + " L" +
                            point(x + symbol_half, y));
}

std::string dot(int x, int y) {
    return "<circle class=\"dot\" cx=\"" + std::to_string(x) + "\" cy=\"" + std::to_string(y) + "\" r=\"3\"/>";
}

// A lever between two points; one of the two shapes is shown.
std::string lever(int x, int y) {
    return dot(x - 14, y) + dot(x + 14, y) + path("if-open", "M" + point(x - 14, y) + " l24 -13") +
           path("if-closed", "M" + point(x - 14, y) + " l28 0");
}

std::string broken(int x, int y) { return path("if-open", "M" + point(x - 6, y - 6) + " l12 12 m0 -12 l-12 12"); }

}  // namespace

std::string symbol(BranchKind kind, int x, int y) {
    switch (kind) {
        case BranchKind::pole:
        case BranchKind::contact:
            return leads(x, y, 16) + lever(x, y);
        case BranchKind::output:  // a switch inside of the controller
            return box("shell", x - symbol_half, y - 17, 2 * symbol_half, 26, 3) + leads(x, y, 16) + lever(x, y);
        case BranchKind::fuse:
            return leads(x, y, 16) + box("shell", x - 16, y - 6, 32, 12) +
                   path("if-closed", "M" + point(x - 16, y) + " l32 0") + broken(x, y);
        case BranchKind::diode:
            return leads(x, y, 9) + path("shell", "M" + point(x - 9, y - 8) + " l0 16 l16 -8 z m17 -1 l0 18") +
                   broken(x, y);
        case BranchKind::load:
            return box("shell", x - symbol_half, y - 10, 2 * symbol_half, 20, 10) +
                   path("if-closed", "M" + point(x - 10, y) + " l7 5 l13 -10");
        case BranchKind::coil:
            return leads(x, y, 16) + box("shell", x - 16, y - 9, 32, 18) +
                   path("if-closed", "M" + point(x - 9, y + 9) + " l18 -18");
        case BranchKind::winding:
            return leads(x, y, 16) + path("shape", "M" + point(x - 16, y) + " q5 -12 10 0 q5 -12 10 0 q5 -12 12 0");
        case BranchKind::terminal:
            return leads(x, y, 7) + path("shell", "M" + point(x - 7, y - 6) + " l5 6 l-5 6 m6 -12 l5 6 l-5 6") +
                   broken(x, y);
        case BranchKind::wire:
        case BranchKind::stray:
            return leads(x, y, 10) + path("if-closed", "M" + point(x - 10, y) + " l20 0") + broken(x, y);
    }
    return "";
}

std::string source_symbol(bool turns, int x, int y) {
    if (turns)
        return "<circle class=\"shell\" cx=\"" + std::to_string(x) + "\" cy=\"" + std::to_string(y) + "\" r=\"13\"/>" +
               path("shape", "M" + point(x - 7, y) + " q3 -9 7 0 t7 0");
    return path("plates", "M" + point(x - 6, y - 5) + " l0 10 M" + point(x + 2, y - 12) + " l0 24") +
           path("lead", "M" + point(x + 2, y) + " l11 0") +
           path("shape", "M" + point(x + 8, y - 10) + " l6 0 m-3 -3 l0 6");
}

std::string ground_symbol(int x, int y) {
    return path("lead", "M" + point(x, y) + " l8 0") +
           path("earth", "M" + point(x + 8, y - 9) + " l0 18 m4 -14 l0 10 m4 -7 l0 4");
}

}  // namespace lanyard::page
