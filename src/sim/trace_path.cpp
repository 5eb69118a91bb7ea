#include <algorithm>
#include <set>

#include "sim/trace.hpp"

namespace lanyard::sim {

namespace {

// What belongs to a subsystem is what the file has in one of its sections; mode and power belong to all of them.
std::string subsystem_of(SignalKind kind) {
    switch (kind) {
        case SignalKind::quantity:
            return "world";
        case SignalKind::position:
        case SignalKind::seen:
        case SignalKind::reading:
        case SignalKind::loop:
        case SignalKind::wired:
            return "inputs";
        case SignalKind::logic:
            return "logic";
        case SignalKind::output:
            return "outputs";
        case SignalKind::contact:
            return "relays";
        case SignalKind::load:
            return "loads";
        case SignalKind::node:
            return "wiring";
        case SignalKind::fault:
            return "faults";
        case SignalKind::mode:
        case SignalKind::powered:
            return "";
    }
    return "";
}

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_'; }
bool is_digit(char c) { return c >= '0' && c <= '9'; }

// A simple identifier (IEEE 1364-2005, 3.7) without `$`, which begins the key words of a dump.
std::string identifier(const std::string& text) {
    std::string out;
    for (const char c : text) out += is_letter(c) || is_digit(c) ? c : '_';
    if (out.empty()) return "model";
    return is_letter(out.front()) ? out : "_" + out;
}

// "pump.powered" is `powered` in a scope `pump`.
std::vector<std::string> parts_of(const std::string& name) {
    std::vector<std::string> out;
    std::size_t from = 0;
    for (std::size_t dot = name.find('.'); dot != std::string::npos; dot = name.find('.', dot + 1)) {
        if (dot == from || dot + 1 == name.size()) continue;
        out.push_back(identifier(name.substr(from, dot - from)));
        from = dot + 1;
    }
    out.push_back(identifier(name.substr(from)));
    return out;
}

}  // namespace

std::string TracePath::whole() const {
    std::string out;
    for (const auto& s : scopes) out += s + '.';
    return out + name;
}

std::vector<TracePath> trace_paths(const Model& m, const std::vector<TraceColumn>& columns) {
    std::set<std::string> taken;
    std::vector<TracePath> out;
    for (const auto& c : columns) {
        const Signal& signal = m.signal(c.signal);
        TracePath path;
        path.scopes.push_back(identifier(m.name));
        if (const std::string subsystem = subsystem_of(signal.kind); !subsystem.empty())
            path.scopes.push_back(subsystem);
        std::vector<std::string> parts = parts_of(c.name);
        const std::string last = parts.back();
        parts.pop_back();
        path.scopes.insert(path.scopes.end(), parts.begin(), parts.end());
        path.name = last;
        for (int k = 2; !taken.insert(path.whole()).second; ++k) path.name = last + '_' + std::to_string(k);
        if (signal.type.kind == TypeKind::mode) path.bits = "[1:0]";
        out.push_back(std::move(path));
    }
    return out;
}

}  // namespace lanyard::sim
