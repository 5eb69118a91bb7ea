// Faults: the analysis as plain values.
#include "model/faults.hpp"
#include "api/beside.hpp"
#include "api/parts.hpp"
#include "fault/analysis.hpp"
#include "fault/effects.hpp"
#include "fault/likelihood.hpp"
#include "report/story.hpp"

namespace lanyard::api {

namespace {

std::vector<std::string> names_of(const lanyard::model::Model& m, const std::vector<FaultId>& faults) {
    std::vector<std::string> out;
    for (const FaultId f : faults) out.push_back(m.faults[f].name);
    return out;
}

ClaimFaultsReport faults_report(const lanyard::model::Model& m, const ClaimInfo& info, const ClaimFaults& f,
                                bool stories) {
    ClaimFaultsReport out;
    out.id = info.id;
    out.condition = info.condition;
    out.not_judged = f.not_judged;
    out.not_settled = f.not_settled;
    for (const auto& set : f.sets) {
        FaultSetReport s;
        s.faults = names_of(m, set.faults);
        s.undone_by = names_of(m, set.undone_by);
        s.undone_open = names_of(m, set.undone_open);
        if (stories) {
            const Told told = tell(m, f.claim, set);
            s.story = story(FilmedResult(*told.model, told.result), {.certificates = false});
        }
        out.sets.push_back(std::move(s));
    }
    for (const auto& o : f.orders) {
        if (o.complete) out.complete_up_to = static_cast<unsigned>(o.order);
        out.why_not = o.why_not;
    }
    return out;
}

void fill_tables(const lanyard::model::Model& m, const FaultTables& tables, FaultsReport& out) {
    for (std::size_t i = 0; i < tables.claims.size(); ++i) {
        if (tables.likelihoods[i].why_not.empty()) out.claims[i].likelihood = likelihood_text(m, tables.likelihoods[i]);
        std::string why_not;
        if (const auto tree = fault_tree_of(m, tables.claims[i], why_not))
            out.trees.emplace_back(out.claims[i].id, *tree);
        else
            out.trees_missing += out.claims[i].id + ": " + why_not + "\n";
    }
    out.csv = faults_csv(m, tables);
    out.json = faults_json(m, tables, versions());
}

// What is said of all claims together.
void fill_effects(const lanyard::model::Model& m, const FaultTables& tables, FaultsReport& out) {
    for (const auto& e : tables.effects)
        out.effects.push_back(
            {m.faults[e.fault].name, effect_text(m, e), shows_text(e.shows, use_was_played(m, tables))});
    out.in_use = in_use_text(m, tables);
    out.hidden = hidden_faults_text(m, tables);
}

Outcome faults_outcome(const std::vector<ClaimFaultsReport>& claims, unsigned order) {
    bool open = false;
    for (const auto& c : claims) {
        if (!c.sets.empty() || (!c.not_judged.empty() && !c.not_settled)) return Outcome::failed;
        open = open || c.not_settled || c.complete_up_to < order;
    }
    if (claims.empty()) return Outcome::nothing;
    return open ? Outcome::undecided : Outcome::all_proved;
}

// True if it was interrupted.
bool analyse(const Model& model, const FaultOptions& options, const std::vector<ClaimInfo>& infos, Kept* kept,
             FaultsReport::Analysed& out) {
    const lanyard::model::Model& m = model.impl().model;
    lanyard::fault::FaultOptions analysis;
    analysis.faults = all_faults(m);
    analysis.order = static_cast<int>(options.order);
    analysis.from_the_start = options.from_the_start;
    analysis.driver = driver_options(options.limits, options.claims, options.on_progress, infos, options.share);
    analysis.driver.known = kept;
    FaultAnalysis done = analyse_faults(m, analysis);
    // Runs of sets were made with all of the faults in use.
    out.used = m;
    for (const FaultId f : analysis.faults) use_fault(out.used, f);
    if (!options.share) out.tables.effects = effects_of(m, done.groups, done.claims);
    out.tables.claims = std::move(done.claims);
    for (const auto& c : out.tables.claims) out.tables.likelihoods.push_back(likelihood_of(out.used, c));
    return done.interrupted;
}

}  // namespace

std::variant<FaultsReport, Rejected> faults(const Model& model, const FaultOptions& options) {
    if (auto wrong = unknown_claim(model, options.claims)) return std::move(*wrong);
    auto opened = answers_for(model, {std::nullopt, false, options.share, options.parts});
    if (auto* wrong = std::get_if<Rejected>(&opened)) return std::move(*wrong);
    Kept* const kept = std::get<std::unique_ptr<Kept>>(opened).get();
    return guarded(model, [&] {
        const std::vector<ClaimInfo> infos = model.claims();
        const auto done = std::make_shared<FaultsReport::Analysed>();
        FaultsReport out;
        out.interrupted = analyse(model, options, infos, kept, *done);
        out.part_error = write_answers(kept, options.share, out.interrupted);
        for (const auto& c : done->tables.claims)
            out.claims.push_back(faults_report(model.impl().model, infos[c.claim.index()], c, options.stories));
        fill_tables(done->used, done->tables, out);
        if (!options.share) fill_effects(done->used, done->tables, out);
        out.outcome = faults_outcome(out.claims, options.order);
        out.analysed = done;
        return out;
    });
}

}  // namespace lanyard::api
