#include <algorithm>
#include <map>

#include "lang/print.hpp"
#include "sim/trace.hpp"
#include "sim/words.hpp"

namespace lanyard::sim {

namespace {

bool comes_second(const Signal& s) { return s.kind == SignalKind::seen || s.kind == SignalKind::load; }

// What a second signal of a name is called; empty: it is always equal to the first.
std::string other_name(const Model& m, const Signal& s) {
    if (s.kind == SignalKind::seen) {
        const Switch& hand = m.switches[s.index];
        return hand.normally_closed || hand.may_be_missed ? s.name + ".seen" : "";
    }
    const auto& feeders = m.loads[s.index].feeders;
    const bool same =
        feeders.size() == 1 && m.name_of(feeders[0]) == s.name && m.signal(feeders[0]).type.kind == TypeKind::boolean;
    return same ? "" : s.name + ".powered";
}

const Value& value_at(const Scan& s, const TraceColumn& c) { return s.signals[c.signal]; }

std::string shown(const Model& m, const Value& v, SignalId id) {
    if (const auto* x = std::get_if<Rational>(&v)) {
        return print_value(*x, unit_of(m, id), m.signal(id).type.difference);
    }
    return value_text(m, id, v);
}

std::vector<std::string> row(const Model& m, const std::vector<Scan>& scans, std::size_t n,
                             const std::vector<TraceColumn>& columns) {
    std::vector<std::string> cells{exact_text(Rational(static_cast<long>(n)) * m.scan) + " s"};
    for (const auto& c : columns) cells.push_back(shown(m, value_at(scans[n], c), c.signal));
    return cells;
}

constexpr std::size_t page_width = 80;

// Columns that do not fit beside the others are put below them, with the times again.
std::string laid_out(const std::vector<std::vector<std::string>>& rows) {
    std::vector<std::size_t> widths(rows[0].size());
    for (const auto& r : rows) {
        for (std::size_t k = 0; k < r.size(); ++k) widths[k] = std::max(widths[k], r[k].size() + 2);
    }
    std::string text;
    for (std::size_t begin = 1, end = 1; begin < widths.size() || text.empty(); begin = end) {
        std::size_t width = widths[0];
        while (end < widths.size() && (end == begin || width + widths[end] <= page_width + 2)) width += widths[end++];
        if (!text.empty()) text += '\n';
        for (const auto& r : rows) {
            std::string line = r[0] + std::string(widths[0] - r[0].size(), ' ');
            for (std::size_t k = begin; k < end; ++k) line += r[k] + std::string(widths[k] - r[k].size(), ' ');
            line.erase(line.find_last_not_of(' ') + 1);
            text += line + '\n';
        }
    }
    return text;
}

// Finer than any sensor reads.
constexpr int csv_places = 6;

std::string csv_cell(const Model& m, const Value& v, SignalId id) {
    if (const auto* b = std::get_if<bool>(&v)) return *b ? "1" : "0";
    if (const auto* mode = std::get_if<Mode>(&v)) return mode_name(*mode);
    return rounded_text(from_si(std::get<Rational>(v), unit_of(m, id), m.signal(id).type.difference), csv_places);
}

}  // namespace

std::vector<TraceColumn> all_columns(const Model& m) {
    std::map<std::string, int> taken;
    for (const auto& s : m.signals) {
        if (!comes_second(s)) ++taken[s.name];
    }
    std::vector<TraceColumn> out;
    for (const SignalId k : m.signals.ids()) {
        const Signal& s = m.signals[k];
        const bool second = comes_second(s) && taken[s.name] > 0;
        const std::string name = second ? other_name(m, s) : s.name;
        if (!name.empty()) out.push_back({k, name});
    }
    return out;
}

std::vector<TraceColumn> shown_columns(const Model& m, const std::vector<Scan>& scans) {
    std::vector<TraceColumn> out = all_columns(m);
    std::erase_if(out, [&](const TraceColumn& c) {
        const auto is_there = [&](const Scan& s) { return std::get<bool>(value_at(s, c)); };
        return m.signal(c.signal).kind == SignalKind::fault && std::none_of(scans.begin(), scans.end(), is_there);
    });
    return out;
}

std::vector<TraceColumn> changing_columns(const Model& m, const std::vector<Scan>& scans) {
    std::vector<TraceColumn> out;
    for (const auto& c : all_columns(m)) {
        const auto differs = [&](const Scan& s) { return value_at(s, c) != value_at(scans.front(), c); };
        if (std::any_of(scans.begin(), scans.end(), differs)) out.push_back(c);
    }
    return out;
}

std::string text_table(const Model& m, const std::vector<Scan>& scans, const std::vector<TraceColumn>& columns) {
    std::vector<std::vector<std::string>> rows(1, {"time"});
    for (const auto& c : columns) rows[0].push_back(c.name);
    for (std::size_t n = 0; n < scans.size(); ++n) {
        const auto changed = [&](const TraceColumn& c) { return value_at(scans[n], c) != value_at(scans[n - 1], c); };
        if (n == 0 || std::any_of(columns.begin(), columns.end(), changed)) rows.push_back(row(m, scans, n, columns));
    }
    return laid_out(rows);
}

std::string to_csv(const Model& m, const std::vector<Scan>& scans, const std::vector<TraceColumn>& columns) {
    std::string text = "time [s]";
    for (const auto& c : columns) {
        const bool number = m.signal(c.signal).type.kind == TypeKind::number;
        const std::string unit = number ? unit_of(m, c.signal).symbol : "";
        text += ',' + c.name + (unit.empty() ? "" : " [" + unit + "]");
    }
    text += '\n';
    for (std::size_t n = 0; n < scans.size(); ++n) {
        text += rounded_text(Rational(static_cast<long>(n)) * m.scan, 12);
        for (const auto& c : columns) text += ',' + csv_cell(m, value_at(scans[n], c), c.signal);
        text += '\n';
    }
    return text;
}

}  // namespace lanyard::sim
