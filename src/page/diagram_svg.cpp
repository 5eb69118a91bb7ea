#include "page/diagram_svg.hpp"

#include <algorithm>

#include "base/characters.hpp"
#include "page/axis.hpp"
#include "page/markup.hpp"
#include "page/svg.hpp"
#include "report/words.hpp"

namespace lanyard::page {

namespace {

constexpr int names_width = 214;
constexpr int values_width = 96;
constexpr int runs_width = 640;
constexpr int tail = 30;  // what is shown of the last moment
constexpr int top = 12;
constexpr int bar_height = 14;
constexpr int row_height = 30;
constexpr int number_row = 86;
constexpr int number_room = 58;
constexpr int axis_height = 44;
constexpr int letter = 7;
constexpr int beside_star = 10;

class Drawing {
 public:
    Drawing(const Model& m, const Diagram& d) : m_(m), d_(d) {
        std::vector<long> scans;
        for (const auto& moment : d.moments) scans.push_back(moment.scan);
        axis_ = axis_of(scans, d.left_out, runs_width);
        end_ = x(d.moments.size() - 1) + tail;
    }

    std::string draw(const std::string& id, const std::string& title) {
        std::string rows, stars;
        int y = top;
        for (const auto& t : d_.tracks) {
            rows += row(t, y);
            for (const auto& s : t.stars) stars += star(t, s, y);
            y += height(t);
        }
        const std::string content = breaks(y) + rows + axis(y) + cursor(y) + stars;
        return svg(id, "diagram", end_ + values_width, y + axis_height, title, content);
    }

 private:
    const Model& m_;
    const Diagram& d_;
    Axis axis_;
    int end_ = 0;

    int x(std::size_t moment) const { return names_width + axis_.at[moment]; }
    int next_x(std::size_t moment) const { return moment + 1 < d_.moments.size() ? x(moment + 1) : end_; }
    static int height(const Track& t) { return t.kind == Track::Kind::number ? number_row : row_height; }

    std::string row(const Track& t, int y) const {
        const int middle = y + height(t) / 2;
        std::string out = line("rule", 0, y + height(t), end_ + values_width, y + height(t));
        if (t.is_cause) out += path("mark", "M" + point(2, middle - 5) + " l8 5 l-8 5 z");
        out += fitted_label(t.is_cause ? "name cause" : "name", 16, middle + 4, t.name,
                            names_width - (t.is_cause ? 40 : 22));  // those in bold are wider
        out += t.kind == Track::Kind::on_off ? bars(t, y) : t.kind == Track::Kind::mode ? modes(t, y) : curve(t, y);
        if (t.is_cause && t.kind != Track::Kind::number) out += since(t, y);
        return tag("g", out + value(t, middle + 4)) + "\n";
    }

    // Where the signal came to be as it is at the end.
    std::string since(const Track& t, int y) const {
        const int at = x(t.since);
        return path("mark", "M" + point(at, y + row_height - 8) + " l5 7 l-10 0 z");
    }

    // Where a choice was made that is a cause: on the edge of the bar, on the curve.
    std::string star(const Track& t, const Track::Star& s, int y) const {
        const int up =
            t.kind == Track::Kind::number ? level_y(t.level[s.moment], y) : y + row_height - 8 - bar_height / 2;
        return tag("g class=\"star\" transform=\"translate(" + point(x(s.moment), up) + ")\"",
                   tag("title", text("This is why: " + s.words)) +
                       path("shape", "M0 -8 L2 -3 L8 -2 L4 2 L5 7 L0 5 L-5 7 L-4 2 L-8 -2 L-2 -3 z")) +
               "\n";
    }
    static bool has_star(const Track& t, std::size_t moment) {
        return std::any_of(t.stars.begin(), t.stars.end(), [=](const auto& s) { return s.moment == moment; });
    }
    // Where words on that line can begin so that no star covers them.
    int free_of_stars(const Track& t, int y, int base, const std::string& words) const {
        int from = names_width + 3;
        for (const auto& s : t.stars) {
            const int at = x(s.moment), up = level_y(t.level[s.moment], y);
            const bool above = up + 8 < base - 10 || up - 8 > base;
            if (!above && at - 8 < from + static_cast<int>(words.size()) * letter)
                from = std::max(from, at + beside_star);
        }
        return from;
    }

    // What the signal is at the moment that the cursor is at.
    std::string value(const Track& t, int y) const {
        const std::string all = joined(t.words, "|");
        const bool same = std::all_of(t.words.begin(), t.words.end(), [&](const auto& w) { return w == t.words[0]; });
        return label("value", end_ + 8, y, t.words.back(), same ? "" : attribute("data-w", all));
    }

    std::string bars(const Track& t, int y) const {
        const int base = y + row_height - 8;
        std::string out = line("off", names_width, base, end_, base);
        for (std::size_t k = 0; k < t.level.size();) {
            std::size_t next = k;
            while (next < t.level.size() && t.level[next] == t.level[k]) ++next;
            const int to = next < t.level.size() ? x(next) : end_;
            if (t.level[k] > 0) out += box("on", x(k), base - bar_height, to - x(k), bar_height);
            k = next;
        }
        return out;
    }

    std::string modes(const Track& t, int y) const {
        const int base = y + row_height - 8;
        std::string out;
        for (std::size_t k = 0; k < t.words.size();) {
            std::size_t next = k;
            while (next < t.words.size() && t.words[next] == t.words[k]) ++next;
            const int to = next < t.words.size() ? x(next) : end_;
            out += box("mode " + t.words[k], x(k), base - bar_height, to - x(k), bar_height);
            const int from = x(k) + (has_star(t, k) ? beside_star : 4);
            if (to - from > static_cast<int>(t.words[k].size()) * letter)
                out += label("inside", from, base - 3, t.words[k]);
            k = next;
        }
        return out;
    }

    static int level_y(int level, int y) { return y + 12 + number_room - level * number_room / 1000; }

    std::string curve(const Track& t, int y) const {
        std::string out, way;
        for (std::size_t k = 0; k < t.lines.size();) {
            // Lines so near each other that one label would cover the next one's line share theirs.
            std::string words;
            int at = 0;
            do {
                at = level_y(t.lines[k].level, y);
                out += line("threshold", names_width, at, end_, at);
                words += (words.empty() ? "" : ", ") + t.lines[k].words;
            } while (++k < t.lines.size() && at - level_y(t.lines[k].level, y) < 11);
            out += label("limit", free_of_stars(t, y, at - 3, words), at - 3, words);
        }
        for (std::size_t k = 0; k < t.level.size(); ++k)
            way += (way.empty() ? "M" : " L") + point(x(k), level_y(t.level[k], y)) + " L" +
                   point(next_x(k), level_y(t.level_after[k], y));
        return out + path("curve", way);
    }

    std::string breaks(int y) const {
        std::string out;
        for (std::size_t k = 0; k + 1 < d_.moments.size(); ++k)
            if (axis_.is_break[k]) {
                const int middle = (x(k) + x(k + 1)) / 2;
                out += box("break", middle - 8, top, 16, y - top);
            }
        return out;
    }

    std::string axis(int y) const {
        std::string out = line("axis", names_width, y, end_, y);
        int free_from = 0;
        for (std::size_t k = 0; k < d_.moments.size(); ++k) {
            const int at = x(k);
            out += line("axis", at, y, at, y + 5);
            const std::string time = report::scan_time(m_, d_.moments[k].scan);
            const int half = static_cast<int>(time.size()) * letter / 2;
            const bool last = k + 1 == d_.moments.size();
            const int end_label = x(d_.moments.size() - 1) -
                                  static_cast<int>(report::scan_time(m_, d_.moments.back().scan).size()) * letter / 2;
            if (at - half < free_from || (!last && at + half > end_label)) continue;
            out += label("time", at, y + 18, time);
            free_from = at + half + 4;
        }
        for (std::size_t k = 0; k + 1 < d_.moments.size(); ++k)
            if (axis_.is_break[k]) out += break_mark(k, y);
        return out;
    }

    // A piece of the axis is torn out; below, how long it is.
    std::string break_mark(std::size_t k, int y) const {
        const int middle = (x(k) + x(k + 1)) / 2;
        const std::string length =
            d_.left_out[k] ? "left out"
                           : report::duration_text(m_.scan * Rational(d_.moments[k + 1].scan - d_.moments[k].scan));
        return path("tear", "M" + point(middle - 6, y + 5) + " l4 -10 m4 10 l4 -10") +
               label("wait", middle, y + 34, length);
    }

    std::string cursor(int y) const {
        std::string places;
        for (std::size_t k = 0; k < d_.moments.size(); ++k) places += (k == 0 ? "" : " ") + std::to_string(x(k));
        const int at = x(d_.moments.size() - 1);
        return tag("g class=\"cursor\" data-x=\"" + places + "\" transform=\"translate(" + std::to_string(at) + " 0)\"",
                   line("now", 0, top - 4, 0, y + 6) + path("now-head", "M-5 2 l10 0 l-5 8 z"));
    }
};

}  // namespace

std::string diagram_svg(const Model& m, const Diagram& d, const std::string& id, const std::string& title) {
    return d.moments.empty() || d.tracks.empty() ? "" : Drawing(m, d).draw(id, title);
}

}  // namespace lanyard::page
