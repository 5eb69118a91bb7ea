#include <array>

#include "lang/print.hpp"
#include "sim/trace.hpp"
#include "sim/words.hpp"

namespace lanyard {

namespace {

struct TimeScale {
    std::string unit;
    Integer per_scan;
};

// No unit goes into a scan of, say, 1/3 ms: then the unit of time is the scan itself, and a comment says so.
TimeScale time_scale(const Rational& scan) {
    Rational count = scan;
    for (const char* unit : {"s", "ms", "us", "ns", "ps", "fs"}) {
        if (count.get_den() == 1) return {unit, count.get_num()};
        count *= 1000;
    }
    return {"", 1};
}

// Identifier codes are written in the printable characters ! to ~.
std::string code(std::size_t n) {
    constexpr std::size_t digits = 94;
    std::string text;
    do {
        text += static_cast<char>('!' + n % digits);
        n /= digits;
    } while (n > 0);
    return text;
}

// References hold no white space.
std::string word(const std::string& name) {
    std::string text;
    for (const char c : name) text += c > ' ' && c <= '~' ? c : '_';
    return text.empty() ? "model" : text;
}

std::string declaration(const Model& m, const TraceColumn& c, const std::string& id) {
    const Type& type = m.signal(c.signal).type;
    if (type.kind == TypeKind::number) {
        return "$var real 64 " + id + ' ' + word(c.name) + " $end $comment " + word(c.name) + " in " +
               sim::unit_of(m, c.signal).symbol + " $end\n";
    }
    if (type.kind == TypeKind::mode) {
        return "$var reg 2 " + id + ' ' + word(c.name) +
               " $end $comment 0 stopped, 1 cranking, 2 running, 3 coasting $end\n";
    }
    return "$var wire 1 " + id + ' ' + word(c.name) + " $end\n";
}

std::string change(const Model& m, const Value& v, SignalId id, const std::string& code) {
    if (const auto* b = std::get_if<bool>(&v)) return (*b ? "1" : "0") + code + '\n';
    if (const auto* mode = std::get_if<Mode>(&v)) {
        static constexpr std::array<const char*, mode_count> bits{"b00", "b01", "b10", "b11"};
        return std::string(bits[static_cast<std::size_t>(*mode)]) + ' ' + code + '\n';
    }
    const Rational shown = from_si(std::get<Rational>(v), sim::unit_of(m, id), m.signal(id).type.difference);
    return 'r' + rounded_text(shown, 12) + ' ' + code + '\n';
}

std::string header(const Model& m, const std::vector<TraceColumn>& columns, const TimeScale& scale) {
    std::string text = "$version lanyard $end\n";
    if (scale.unit.empty()) {
        text += "$comment one unit of time is one scan of " + exact_text(m.scan) + " s $end\n$timescale 1 s $end\n";
    } else {
        text += "$timescale 1 " + scale.unit + " $end\n";
    }
    text += "$scope module " + word(m.name) + " $end\n";
    for (std::size_t k = 0; k < columns.size(); ++k) text += declaration(m, columns[k], code(k));
    return text + "$upscope $end\n$enddefinitions $end\n";
}

}  // namespace

std::string to_vcd(const Model& m, const std::vector<Scan>& scans, const std::vector<TraceColumn>& columns) {
    const TimeScale scale = time_scale(m.scan);
    std::string text = header(m, columns, scale);
    for (std::size_t n = 0; n < scans.size(); ++n) {
        std::string changes;
        for (std::size_t k = 0; k < columns.size(); ++k) {
            const auto id = static_cast<std::size_t>(columns[k].signal);
            if (n > 0 && scans[n].signals[id] == scans[n - 1].signals[id]) continue;
            changes += change(m, scans[n].signals[id], columns[k].signal, code(k));
        }
        const std::string time = '#' + Integer(scale.per_scan * static_cast<unsigned long>(n)).get_str() + '\n';
        if (n == 0) text += time + "$dumpvars\n" + changes + "$end\n";
        if (n > 0 && !changes.empty()) text += time + changes;
    }
    // The end of the last scan.
    return text + '#' + Integer(scale.per_scan * static_cast<unsigned long>(scans.size())).get_str() + '\n';
}

}  // namespace lanyard
