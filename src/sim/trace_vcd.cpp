#include <algorithm>
#include <array>
#include <map>
#include <numeric>
#include <set>

#include "lang/print.hpp"
#include "sim/landmarks.hpp"
#include "sim/trace.hpp"
#include "sim/words.hpp"

namespace lanyard::sim {

namespace {

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

std::string declaration(const Model& m, const TraceColumn& c, const TracePath& path, const std::string& id) {
    const Type& type = m.signal(c.signal).type;
    if (type.kind == TypeKind::number) {
        const std::string unit = unit_of(m, c.signal).symbol;
        return "$var real 64 " + id + ' ' + path.name + " $end\n" +
               (unit.empty() ? "" : "$comment " + path.name + " in " + unit + " $end\n");
    }
    if (type.kind == TypeKind::mode) {
        return "$var reg 2 " + id + ' ' + path.name + ' ' + path.bits +
               " $end\n$comment 0 stopped, 1 cranking, 2 running, 3 coasting $end\n";
    }
    return "$var wire 1 " + id + ' ' + path.name + " $end\n";
}

// From one scope to another, by the way over the last that they share.
std::string way(const std::vector<std::string>& from, const std::vector<std::string>& to) {
    std::size_t shared = 0;
    while (shared < from.size() && shared < to.size() && from[shared] == to[shared]) ++shared;
    std::string text;
    for (std::size_t k = shared; k < from.size(); ++k) text += "$upscope $end\n";
    for (std::size_t k = shared; k < to.size(); ++k) text += "$scope module " + to[k] + " $end\n";
    return text;
}

// Scope by scope, each opened once; inside of one in the order of the columns.
std::string declarations(const Model& m, const std::vector<TraceColumn>& columns) {
    const std::vector<TracePath> paths = trace_paths(m, columns);
    std::vector<std::size_t> order(columns.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return paths[a].scopes < paths[b].scopes; });
    std::string text;
    std::vector<std::string> here;
    for (const std::size_t k : order) {
        text += way(here, paths[k].scopes) + declaration(m, columns[k], paths[k], code(k));
        here = paths[k].scopes;
    }
    return text + way(here, {});
}

// Numbers with as few places as a text has, and with more only where one would be told as another, or on the other side
// of it: of those that the signal has in the run, those at which the model turns, and 0.
class Places {
 public:
    Places(const Model& m, const std::vector<Scan>& scans, const std::vector<TraceColumn>& columns) : m_(m) {
        const auto turning = turning_points(m);
        for (const auto& c : columns) {
            const Signal& s = m.signal(c.signal);
            if (s.type.kind != TypeKind::number) continue;
            std::set<Rational>& others = others_[c.signal];
            others.insert(0);
            for (const auto& scan : scans) others.insert(shown(c.signal, std::get<Rational>(scan.signals[c.signal])));
            if (s.kind != SignalKind::quantity && s.kind != SignalKind::reading) continue;
            const QuantityId q = s.kind == SignalKind::quantity ? s.index.to<Quantity>() : m.sensors[s.index].quantity;
            for (const auto& x : turning[q]) others.insert(shown(c.signal, x));
        }
    }

    std::string text(SignalId id, const Rational& si) const {
        const Rational value = shown(id, si);
        int places = 3;
        std::string out = rounded_text(value, places);
        while (places < most && misleads(others_.at(id), value, *parse_decimal(out)))
            out = rounded_text(value, ++places);
        return out;
    }

 private:
    static constexpr int most = 12;
    const Model& m_;
    std::map<SignalId, std::set<Rational>> others_;

    Rational shown(SignalId id, const Rational& si) const {
        return from_si(si, unit_of(m_, id), m_.signal(id).type.difference);
    }
    static bool misleads(const std::set<Rational>& others, const Rational& value, const Rational& rounded) {
        const Rational& last = std::max(value, rounded);
        for (auto x = others.lower_bound(std::min(value, rounded)); x != others.end() && *x <= last; ++x)
            if (*x != value) return true;
        return false;
    }
};

std::string change(const Places& places, const Value& v, SignalId id, const std::string& code) {
    if (const auto* b = std::get_if<bool>(&v)) return (*b ? "1" : "0") + code + '\n';
    if (const auto* mode = std::get_if<Mode>(&v)) {
        static constexpr std::array<const char*, mode_count> bits{"b00", "b01", "b10", "b11"};
        return std::string(bits[ordinal(*mode)]) + ' ' + code + '\n';
    }
    return 'r' + places.text(id, std::get<Rational>(v)) + ' ' + code + '\n';
}

std::string header(const Model& m, const std::vector<TraceColumn>& columns, const TraceTime& time) {
    std::string text = "$version lanyard $end\n";
    if (time.unit.empty()) {
        text += "$comment one unit of time is one scan of " + exact_text(m.scan) + " s $end\n$timescale 1 s $end\n";
    } else {
        text += "$timescale 1 " + time.unit + " $end\n";
    }
    return text + declarations(m, columns) + "$enddefinitions $end\n";
}

}  // namespace

// No unit goes into a scan of, say, 1/3 ms: then the unit of time is the scan itself, and a comment says so.
TraceTime trace_time(const Rational& scan) {
    Rational count = scan;
    for (const char* unit : {"s", "ms", "us", "ns", "ps", "fs"}) {
        if (count.get_den() == 1) return {unit, count.get_num()};
        count *= 1000;
    }
    return {"", 1};
}

std::string to_vcd(const Model& m, const std::vector<Scan>& scans, const std::vector<TraceColumn>& columns) {
    const TraceTime scale = trace_time(m.scan);
    const Places places(m, scans, columns);
    std::string text = header(m, columns, scale);
    for (std::size_t n = 0; n < scans.size(); ++n) {
        std::string changes;
        for (std::size_t k = 0; k < columns.size(); ++k) {
            const SignalId id = columns[k].signal;
            if (n > 0 && scans[n].signals[id] == scans[n - 1].signals[id]) continue;
            changes += change(places, scans[n].signals[id], id, code(k));
        }
        const std::string time = '#' + Integer(scale.per_scan * static_cast<unsigned long>(n)).get_str() + '\n';
        if (n == 0) text += time + "$dumpvars\n" + changes + "$end\n";
        if (n > 0 && !changes.empty()) text += time + changes;
    }
    // The end of the last scan.
    return text + '#' + Integer(scale.per_scan * static_cast<unsigned long>(scans.size())).get_str() + '\n';
}

}  // namespace lanyard::sim
