// What it writes: one fault tree, two levels deep, and the data of its basic events.
// Source: S. Epstein, A. Rauzy (eds.), Open-PSA Model Exchange Format 2.0d (2008), chapters on the fault tree layer and
// on stochastic expressions; XML 1.0, section 2.2 (characters) and 2.4 (escapes).
#include "fault/mef.hpp"

#include <fmt/format.h>

#include <cmath>
#include <set>
#include <stdexcept>

#include "base/xml_text.hpp"

namespace lanyard::fault {

namespace {

class Writer {
 public:
    Writer(const std::vector<BasicEvent>& events, const std::vector<Implicant>& products, std::optional<double> mission)
        : events_(events), products_(products), mission_(mission) {
        Identifiers taken;
        taken.fresh("top");
        for (std::size_t k = 1; k <= products.size(); ++k) taken.fresh(cut_name(k));
        for (const auto& event : events) names_.push_back(taken.fresh(event.name));
    }

    std::string text(const std::string& title) {
        out_ = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<opsa-mef>\n";
        out_ += fmt::format("  <define-fault-tree name=\"{}\">\n", Identifiers().fresh(title));
        label(4, title);
        tree();
        out_ += "  </define-fault-tree>\n  <model-data>\n";
        if (has_rates()) parameter("mission_time", "hours", *mission_);
        for (std::size_t i = 0; i < events_.size(); ++i) data(events_[i], names_[i]);
        return out_ + "  </model-data>\n</opsa-mef>\n";
    }

 private:
    static std::string cut_name(std::size_t k) { return fmt::format("cut_{}", k); }

    void line(std::size_t indent, const std::string& text) { out_ += std::string(indent, ' ') + text + '\n'; }
    void label(std::size_t indent, const std::string& text) {
        if (!text.empty()) line(indent, "<label>" + xml_text(text) + "</label>");
    }

    bool has_rates() const {
        for (const auto& event : events_)
            if (event.rate_per_hour) return true;
        return false;
    }

    std::vector<std::string> literals(const Implicant& product) const {
        std::vector<std::string> out;
        for (const std::size_t i : std::set<std::size_t>(product.failed.begin(), product.failed.end()))
            out.push_back(event(i));
        for (const std::size_t i : std::set<std::size_t>(product.works.begin(), product.works.end()))
            out.push_back("<not>" + event(i) + "</not>");
        return out;
    }
    std::string event(std::size_t i) const { return fmt::format("<basic-event name=\"{}\"/>", names_.at(i)); }

    // `and` and `or` of a single thing are that thing, of nothing constants: some readers want two things or more.
    void gate(const std::string& name, const std::string& connective, const std::vector<std::string>& inputs) {
        line(4, fmt::format("<define-gate name=\"{}\">", name));
        if (inputs.size() == 1) {
            line(6, inputs.front());
        } else if (inputs.empty()) {
            line(6, fmt::format("<constant value=\"{}\"/>", connective == "and"));
        } else {
            line(6, "<" + connective + ">");
            for (const auto& one : inputs) line(8, one);
            line(6, "</" + connective + ">");
        }
        line(4, "</define-gate>");
    }

    void tree() {
        std::vector<std::string> causes;
        for (std::size_t k = 1; k <= products_.size(); ++k)
            causes.push_back(fmt::format("<gate name=\"{}\"/>", cut_name(k)));
        gate("top", "or", causes);
        for (std::size_t k = 1; k <= products_.size(); ++k) gate(cut_name(k), "and", literals(products_[k - 1]));
    }

    void parameter(const std::string& name, const std::string& unit, double value) {
        line(4, fmt::format("<define-parameter name=\"{}\" unit=\"{}\">", name, unit));
        line(6, fmt::format("<float value=\"{}\"/>", value));
        line(4, "</define-parameter>");
    }

    void data(const BasicEvent& event, const std::string& name) {
        if (event.rate_per_hour) parameter("rate_" + name, "hours-1", *event.rate_per_hour);
        line(4, fmt::format("<define-basic-event name=\"{}\">", name));
        label(6, event.name);
        if (event.probability) {
            line(6, fmt::format("<float value=\"{}\"/>", *event.probability));
        } else {
            // Four arguments of a periodic test: rate, time between tests, time of the first, time that is asked for.
            const bool tested = event.test_interval_hours && *event.test_interval_hours < *mission_;
            const std::string element = tested ? "periodic-test" : "exponential";
            line(6, "<" + element + ">");
            line(8, fmt::format("<parameter name=\"rate_{}\"/>", name));
            for (int twice = 0; tested && twice < 2; ++twice)
                line(8, fmt::format("<float value=\"{}\"/>", *event.test_interval_hours));
            line(8, "<parameter name=\"mission_time\"/>");
            line(6, "</" + element + ">");
        }
        line(4, "</define-basic-event>");
    }

    const std::vector<BasicEvent>& events_;
    const std::vector<Implicant>& products_;
    std::optional<double> mission_;
    std::vector<std::string> names_;
    std::string out_;
};

}  // namespace

std::string mef_text(const std::string& title, const std::vector<BasicEvent>& events,
                     const std::vector<Implicant>& products, std::optional<double> mission_time_hours) {
    const bool mission = mission_time_hours && *mission_time_hours > 0 && std::isfinite(*mission_time_hours);
    for (const auto& event : events) {
        if (const auto problem = problem_of(event)) throw std::invalid_argument(*problem);
        if (event.rate_per_hour && !mission)
            throw std::invalid_argument("basic event `" + event.name + "` has a rate, and there is no mission time");
    }
    return Writer(events, products, mission_time_hours).text(title);
}

}  // namespace lanyard::fault
