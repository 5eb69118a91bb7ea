#include "shrink.hpp"

#include <algorithm>
#include <filesystem>

#include "base/file.hpp"
#include "encode/system.hpp"
#include "lang/units.hpp"
#include "model/read.hpp"

namespace lanyard::test {

using namespace encode;

namespace {

// What is wrong with these parts; empty: nothing, or no model.
std::string wrong_with(const Parts& parts, const Trial& trial, long length, Run* run = nullptr) {
    const ReadResult r = read_model("random.json", parts.text());
    if (!r.model) return {};
    Run local;
    try {
        return trial(*r.model, length, run ? *run : local);
    } catch (const Unsupported&) {
        return {};
    }
}

// Without one part, or without one operand of a parity.
std::vector<Parts> smaller_ones(const Parts& parts) {
    std::vector<Parts> out;
    for (std::size_t i = parts.list.size(); i-- > 0;) {
        Parts less = parts;
        less.list.erase(less.list.begin() + static_cast<long>(i));
        out.push_back(std::move(less));
    }
    const std::string between = " XOR ";
    for (std::size_t i = 0; i < parts.list.size(); ++i) {
        const std::string& text = parts.list[i].text;
        for (auto at = text.find(between); at != std::string::npos; at = text.find(between, at + 1)) {
            const auto end = std::min(text.find(between, at + 1), text.find_first_of("\")", at + 1));
            if (end == std::string::npos) continue;
            Parts less = parts;
            less.list[i].text.erase(at, end - at);
            out.push_back(std::move(less));
        }
    }
    return out;
}

std::string number_text(const Model& m, SignalId id, const Rational& v) {
    const Signal& s = m.signal(id);
    const Unit unit = s.unit ? *s.unit : default_unit(s.type.dimension);
    return exact_text(from_si(v, unit, s.type.difference)) + " " + unit.symbol;
}

std::string settings(const Model& m, const Choices& c, const Choices* before) {
    std::string out;
    const auto set = [&](SignalId id, const std::string& value) {
        out += (out.empty() ? "" : ", ") + ("\"" + m.name_of(id) + "\": \"" + value + "\"");
    };
    for (const SwitchId i : m.switches.ids())
        if (!before || before->positions[i] != c.positions[i])
            set(m.switches[i].position, c.positions[i] ? "on" : "off");
    for (const QuantityId i : m.quantities.ids())
        if (!before || before->quantities[i] != c.quantities[i])
            set(m.quantities[i].signal, number_text(m, m.quantities[i].signal, c.quantities[i]));
    for (const SensorId i : m.sensors.ids())
        if (!before || before->readings[i] != c.readings[i])
            set(m.sensors[i].signal, number_text(m, m.sensors[i].signal, c.readings[i]));
    for (const LoadId i : m.loads.ids())
        if (m.loads[i].feeders.empty() && (!before || before->free_loads[i] != c.free_loads[i]))
            set(m.loads[i].signal, c.free_loads[i] ? "on" : "off");
    if (m.engine && (!before || before->next_mode != c.next_mode)) set(m.mode, mode_name(c.next_mode));
    return out;
}

std::string time_text(const Model& m, long scan) { return exact_text(m.scan * scan) + " s"; }

}  // namespace

std::string script_of(const Model& m, const Run& run) {
    std::string out = "{\n  \"changes\": [";
    std::optional<Choices> before;
    long scan = 0;
    for (const auto& segment : run.segments) {
        for (long i = 0; i < segment.scans; ++i, ++scan) {
            const Choices c = choices_at(segment, i);
            const std::string set = settings(m, c, before ? &*before : nullptr);
            before = c;
            if (set.empty()) continue;
            out += std::string(out.back() == '[' ? "" : ",") + "\n    {\"at\": \"" + time_text(m, scan) +
                   "\", \"set\": {" + set + "}}";
        }
    }
    return out + "\n  ],\n  \"until\": \"" + time_text(m, scan) + "\"\n}\n";
}

std::string report_shrunk(const std::string& name, Parts parts, const Trial& trial, long length) {
    // A shorter run first: it makes all that follows cheaper.
    const auto shorten = [&] {
        for (const long by : {length / 2, length / 4, length / 8, 1L})
            while (by > 0 && length > by && !wrong_with(parts, trial, length - by).empty()) length -= by;
    };
    shorten();
    for (bool smaller = true; smaller;) {
        smaller = false;
        for (const Parts& less : smaller_ones(parts)) {
            if (wrong_with(less, trial, length).empty()) continue;
            parts = less;
            smaller = true;
            break;
        }
    }
    shorten();
    Run run;
    const std::string wrong = wrong_with(parts, trial, length, &run);
    const ReadResult r = read_model(name + ".json", parts.text());
    const auto folder = std::filesystem::current_path() / "failures";
    std::filesystem::create_directories(folder);
    write_file(folder / (name + ".json"), parts.text());
    if (r.model) write_file(folder / (name + ".script.json"), script_of(*r.model, run));
    return "shrunk: " + wrong + "\nlanyard run " + (folder / (name + ".json")).string() + " --script " +
           (folder / (name + ".script.json")).string();
}

}  // namespace lanyard::test
