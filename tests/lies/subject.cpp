#include "subject.hpp"

#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <stdexcept>

#include "certify/obligations.hpp"
#include "model/read.hpp"
#include "prove/driver.hpp"
#include "prove/time.hpp"
#include "sim/interpreter.hpp"
#include "sim/machine.hpp"

namespace lanyard::test {

using namespace prove;

namespace fs = std::filesystem;

namespace {

std::string content(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::ostringstream out;
    out << in.rdbuf();
    return out.str();
}

std::string word(const Verdict& v) {
    static const char* const words[] = {"proved", "refuted", "vacuous", "undecided"};
    return words[v.index()];
}

// What a verdict owes, judged once more without lies. Empty: it holds.
class Evidence {
 public:
    Evidence(const Subject& s, const ClaimResult& r) : model_(*s.model), result_(r) {
        question_.model = s.model.get();
        question_.claim = s.claim;
        question_.condition = claim().condition;
        question_.leaps = r.leaps;
        possible_ = std::holds_alternative<Possible>(claim().body);
        recoverable_ = std::holds_alternative<Recoverable>(claim().body);
    }

    std::string flaw() {
        if (const auto* p = std::get_if<Proved>(&result_.verdict))
            proved(*p);
        else if (const auto* f = std::get_if<Refuted>(&result_.verdict))
            refuted(*f);
        else if (const auto* v = std::get_if<Vacuous>(&result_.verdict))
            vacuous(*v);
        return flaw_;
    }

 private:
    const Claim& claim() const { return model_.claims[question_.claim]; }
    void complain(const std::string& text) {
        if (flaw_.empty()) flaw_ = text;
    }
    void proved(const Proved& p) {
        if (!possible_ && !p.certificate) return complain("a proof without a certificate");
        if (recoverable_ && !p.playbook) return complain("a proof without a playbook");
        if (p.playbook) take_playbook(p.playbook);
        if (p.certificate) certificate(*p.certificate, Target::bad);
        const Replay r = play(p.example);
        if (!(possible_ ? r.goal_at_end : r.demanded)) complain("the example shows nothing");
    }
    void refuted(const Refuted& f) {
        if (possible_ ? !f.certificate : !f.run) return complain("a refutation without evidence");
        if (recoverable_) return trap(f);
        if (f.certificate) certificate(*f.certificate, Target::bad);
        if (f.run && !play(*f.run).violated_at_end) complain("the run breaks nothing");
    }
    void vacuous(const Vacuous& v) {
        if (v.certificate) certificate(*v.certificate, Target::demand);
        if (!v.run) return;
        const bool own_part = claim().reached_under || std::holds_alternative<Procedure>(claim().body);
        if (!own_part) question_.claim = {};
        play(*v.run);
        if (check_obligations({stuck(question_, *v.run, true)}, 0).check != Check::holds)
            complain("the run is no dead end");
    }

    // From now on everything is about the playbook: that it is one of this claim, and that it can be followed.
    void take_playbook(const std::shared_ptr<const Model>& model) {
        const Claim& goal_claim = claim();
        const auto& goal = std::get<Recoverable>(goal_claim.body);
        const Claim& c = model->claims.back();
        const auto* steps = std::get_if<Procedure>(&c.body);
        if (model->claims.size() != model_.claims.size() + 1 || !steps) return complain("the playbook is none");
        bool right = c.condition == goal_claim.condition && c.reached_under == goal_claim.reached_under &&
                     steps->goal == goal.body && steps->any_time && steps->from && steps->from->flag &&
                     steps->within.has_value() == goal.within.has_value();
        for (const SwitchId i : goal.may_move.ids()) right = right && steps->untouched[i] == !goal.may_move[i];
        if (!right) return complain("the playbook is one of another claim");
        if (!std::holds_alternative<TimeGoesOn>(time_goes_on(*model, c.condition, model->claims.last(), {})))
            return complain("nobody can follow the playbook from everywhere");
        question_.model = model.get();
        question_.claim = model->claims.last();
    }
    // The run ends in a state behind which the second part has begun, and nothing behind it reaches the goal.
    void trap(const Refuted& f) {
        if (!f.certificate) return complain("a trap without a certificate");
        play(*f.run);
        if (!begun_) complain("the run into the trap does not end behind its first part");
        const auto there = behind(question_, *f.run);
        if (!there) return complain("the run into the trap has no end");
        question_ = *there;
        certificate(*f.certificate, Target::bad);
    }
    void certificate(const Certificate& c, Target target) {
        question_.target = target;
        const CheckResult r = check_obligations(obligations(question_, c), 0);
        if (r.check != Check::holds) complain("the certificate fails: " + r.where);
    }
    Replay play(const Run& run) {
        Replay r = replay(*question_.model, run, question_.condition, question_.claim);
        if (!r.legal) complain("the run is none: " + r.broken);
        Interpreter again(*question_.model, question_.condition, question_.claim);
        for (const auto& segment : run.segments)
            for (long n = 0; n < segment.scans; ++n) again.step(choices_at(segment, n));
        begun_ = again.machine().state().monitor.begun;
        return r;
    }

    const Model& model_;
    const ClaimResult& result_;
    Question question_;
    bool possible_ = false, recoverable_ = false, begun_ = false;
    std::string flaw_;
};

}  // namespace

std::vector<Subject> subjects_in(const fs::path& folder) {
    std::vector<Subject> out;
    std::vector<fs::path> files;
    for (const auto& entry : fs::directory_iterator(folder))
        if (!entry.path().filename().string().ends_with(".expect.json")) files.push_back(entry.path());
    std::sort(files.begin(), files.end());
    for (const auto& file : files) {
        ReadResult read = read_model(file.filename().string(), content(file));
        if (!read.model) throw std::runtime_error(render(read.diagnostics, read.source));
        const auto model = std::make_shared<const Model>(std::move(*read.model));
        const auto expected =
            nlohmann::json::parse(content(fs::path(file).replace_extension().string() + ".expect.json"));
        for (const ClaimId i : model->claims.ids())
            out.push_back({model, i, expected.at("claims").at(model->claims[i].id).get<std::string>(),
                           expected.value("work", std::uint64_t{20'000'000})});
    }
    return out;
}

Told judge_with_lie(const Subject& s, Lie kind, long at, std::size_t which) {
    DriverOptions options;
    options.claims = {s.claim};
    options.work_limit = s.work;
    Told out;
    std::optional<ClaimResult> result;
    {
        const Liar liar(kind, at, which);
        try {
            result = check_claims(*s.model, options).results.at(0);
        } catch (const InternalError& e) {
            out.outcome = Outcome::caught;
            out.what = e.what();
        }
        out.told = liar.has_lied();
        for (const Lie k : all_lies) out.calls[k] = liar.seen(k);
    }
    if (!result) return out;
    out.what = word(result->verdict);
    if (const auto* undecided = std::get_if<Undecided>(&result->verdict)) {
        out.outcome = Outcome::open;
        out.what += ": " + undecided->reason;
    } else if (out.what == s.truth) {
        const std::string flaw = Evidence(s, *result).flaw();
        out.outcome = flaw.empty() ? Outcome::harmless : Outcome::wrong;
        if (!flaw.empty()) out.what += ", but " + flaw;
    }
    return out;
}

}  // namespace lanyard::test
