#include "api/runs.hpp"

#include "base/characters.hpp"
#include "sim/words.hpp"

namespace lanyard::api {

namespace {

static_assert(static_cast<int>(Mode::coasting) == static_cast<int>(lanyard::lang::Mode::coasting));

struct PublicValue {
    const lanyard::model::Model& m;
    SignalId id;

    Value operator()(bool on) const { return on; }
    Value operator()(lanyard::lang::Mode mode) const { return static_cast<Mode>(mode); }
    Value operator()(const Rational& si) const {
        const Unit unit = sim::unit_of(m, id);
        const Rational number = from_si(si, unit, m.signal(id).type.difference);
        return Number{exact_text(number), number.get_d(), unit.symbol};
    }
};

Value value_at(const lanyard::model::Model& m, const Scan& scan, SignalId id) {
    return std::visit(PublicValue{m, id}, scan.signals[id]);
}

}  // namespace

const std::vector<Scan>& Run::Impl::played() const {
    std::call_once(once_, [this] { scans_ = made_under(*model, run, claim).played.scans; });
    return scans_;
}

Run run_of(std::shared_ptr<const lanyard::model::Model> model, const lanyard::claims::Run& run, ClaimId claim) {
    auto impl = std::make_shared<Run::Impl>();
    impl->model = std::move(model);
    impl->run = run;
    impl->claim = claim;
    return Run(std::move(impl));
}

std::variant<TraceColumn, Rejected> signal_named(const lanyard::model::Model& m, const std::string& name) {
    std::vector<std::string> names;
    for (const auto& c : all_columns(m)) {
        if (c.name == name) return c;
        names.push_back(c.name);
    }
    const auto near = nearest(name, names);
    return rejected("the model has no signal \"" + sanitize_for_terminal(name) + "\"",
                    near ? "did you mean \"" + *near + "\"?" : "lanyard graph shows what it has");
}

long Run::scans() const { return impl_->run.scans(); }

std::string Run::time_s(long scan) const { return exact_text(Rational(impl_->model->scan * scan)); }

std::vector<std::string> Run::signals() const {
    std::vector<std::string> out;
    for (const auto& c : all_columns(*impl_->model)) out.push_back(c.name);
    return out;
}

std::vector<Change> Run::changes() const {
    const lanyard::model::Model& m = *impl_->model;
    const auto& scans = impl_->played();
    const auto columns = shown_columns(m, scans);
    std::vector<Change> out;
    for (std::size_t n = 0; n < scans.size(); ++n)
        for (const auto& c : columns) {
            const SignalId at = c.signal;
            if (n == 0 || scans[n].signals[at] != scans[n - 1].signals[at])
                out.push_back({static_cast<long>(n), c.name, value_at(m, scans[n], c.signal)});
        }
    return out;
}

std::variant<std::vector<Value>, Rejected> Run::values(long scan, const std::vector<std::string>& signals) const {
    const lanyard::model::Model& m = *impl_->model;
    const auto& scans = impl_->played();
    if (scan < 0 || static_cast<std::size_t>(scan) >= scans.size())
        return unknown("the run has no scan " + std::to_string(scan),
                       "its last one is " + std::to_string(scans.size() - 1));
    std::vector<Value> out;
    for (const auto& name : signals) {
        auto found = signal_named(m, name);
        if (auto* wrong = std::get_if<Rejected>(&found)) {
            wrong->because = Rejected::Because::request;
            return std::move(*wrong);
        }
        out.push_back(value_at(m, scans[static_cast<std::size_t>(scan)], std::get<TraceColumn>(found).signal));
    }
    return out;
}

}  // namespace lanyard::api
